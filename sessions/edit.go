package sessions

import (
	"errors"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Edit is what an edit has done.
type Edit struct {
	answer.Change
	Lines    []int // indices of the lines that are new or another now, in order
	Rows     []int // the rows of text that are, counted from 1
	Replaced bool  // a line entered has taken the place of an earlier one
	Filled   bool  // it is kept with more in it than was typed
}

// do makes an edit, unless it would keep a line from being read that could be
// read before.
func (s *Session) do(what string, ss splices) (Edit, error) {
	rows := rowsOf(s.text)
	ss = ss.narrowed(rows)
	now, err := s.made(ss, rows)
	if err != nil {
		return Edit{}, err
	}
	if l := worse(s.text, now); l != nil {
		return Edit{}, &Refusal{Diags: l.Errors, Line: l}
	}
	return s.done(what, ss, rows, now)
}

// ErrStopped is the refusal of an edit that was told to stop before it was made.
var ErrStopped = errors.New("stopped before the notebook was changed")

// made is the text with splices made on its rows, unless that is told to stop.
func (s *Session) made(ss splices, rows []string) (*syntax.File, error) {
	now := ss.made(s.text, slices.Clone(rows), s.stop)
	if s.stop() {
		return nil, ErrStopped
	}
	return now, nil
}

// worse gives a line that can no longer be read, nil if there is none.
func worse(old, now *syntax.File) *syntax.Line {
	was := map[string]int{}
	for _, l := range old.Lines {
		if broken(l) {
			was[l.Raw]++
		}
	}
	for _, l := range now.Lines {
		if broken(l) {
			if was[l.Raw]--; was[l.Raw] < 0 {
				return l
			}
		}
	}
	return nil
}

// doUnchecked records an edit, makes it, and says what has changed.
func (s *Session) doUnchecked(what string, ss splices) (Edit, error) {
	rows := rowsOf(s.text)
	now, err := s.made(ss, rows)
	if err != nil {
		return Edit{}, err
	}
	return s.done(what, ss, rows, now)
}

// done is an edit that can be undone: splices made on rows, and what comes of that.
func (s *Session) done(what string, ss splices, rows []string, now *syntax.File) (Edit, error) {
	edit, err := s.make(what, ss, now)
	if err == nil {
		s.past.done(step{what, ss, ss.undoing(rows)})
	}
	return edit, err
}

// again makes an edit of the past once more, or takes it back.
func (s *Session) again(what string, ss splices) (Edit, error) {
	now, err := s.made(ss, rowsOf(s.text))
	if err != nil {
		return Edit{}, err
	}
	return s.make(what, ss, now)
}

func (s *Session) make(what string, ss splices, now *syntax.File) (Edit, error) {
	if s.closed {
		return Edit{}, refuse("the notebook is closed", "")
	}
	if size(now) > MaxBytes {
		return Edit{}, refuse("the notebook would be larger than one may be (1 MB)", "begin another one")
	}
	if err := s.record(&edit{What: what, Rows: ss}); err != nil {
		return Edit{}, err
	}
	s.draft = nil
	old := s.text
	s.text = now
	done := Edit{Change: s.book.Update(now.Lines)}
	done.Lines, done.Rows = touched(now.Lines, ss)
	done.Moved = rebound(old.Lines, now.Lines, follow(old.Lines, now.Lines, ss))
	return done, nil
}

// record puts an edit into the journal.
func (s *Session) record(e *edit) error {
	if s.warning != nil || s.options.Look {
		return nil // said once, at the beginning
	}
	if s.journal != nil && !s.journal.over() {
		if err := s.journal.add(e); err != nil {
			return unrecorded(s.options.Journals, err)
		}
		return nil
	}
	from := preamble{Path: s.Path(), Unsaved: s.Dirty(), Text: string(s.text.Bytes()), Before: s.before}
	if s.file == nil {
		from.Dir = s.dir
	} else if s.file.Exists {
		from.File = hash(s.file.Text)
		if from.Unsaved {
			from.Base = string(s.file.Text)
		}
	}
	if len(e.Draft) > 0 {
		e = &edit{What: e.What, Draft: append(slices.Clone(s.draft), e.Draft...)}
	}
	j, err := newJournal(s.options.disk, s.options.Journals, from, e)
	if err != nil {
		return unrecorded(s.options.Journals, err)
	}
	old := s.journal
	s.journal = j
	if old != nil {
		old.remove() // the new one holds it; should this fail, it is offered once more than needed
	}
	return nil
}

// Draft puts rows of a table on record that is still being typed, so that they
// are offered again should the session die. They are none of the notebook's; the
// next edit, or DropDraft, makes an end of them.
func (s *Session) Draft(rows ...string) error {
	if len(rows) == 0 {
		return nil
	}
	if err := s.record(&edit{What: "draft", Draft: rows}); err != nil {
		return err
	}
	s.draft = append(s.draft, rows...)
	return nil
}

// Drafted are the rows that Draft has put on record, or a session that died.
func (s *Session) Drafted() []string { return slices.Clone(s.draft) }

// DropDraft gives the rows up.
func (s *Session) DropDraft() error {
	if len(s.draft) == 0 {
		return nil
	}
	s.draft = nil
	return s.record(&edit{What: "draft"})
}

func size(f *syntax.File) int {
	n := 3
	for _, l := range f.Lines {
		n += len(l.Raw) + 1
	}
	return n
}

// touched gives the lines that splices have brought, or a row of, and the rows. Of a
// line that has only lost rows it gives the one above them.
func touched(lines []*syntax.Line, ss splices) (found, rows []int) {
	shift := 0
	for _, p := range ss {
		first := p.At + shift + 1
		if len(p.In) == 0 {
			if i := lineAt(lines, first-1); i >= 0 && lines[i].Row+lines[i].Rows() > first && !slices.Contains(found, i) {
				found, rows = append(found, i), append(rows, first-1)
			}
		}
		for row := first; row < first+len(p.In); {
			i := lineAt(lines, row)
			if i < 0 {
				break // the empty row behind the last newline
			}
			if len(found) == 0 || found[len(found)-1] != i {
				found = append(found, i)
			}
			next := lines[i].Row + lines[i].Rows()
			for ; row < min(next, first+len(p.In)); row++ {
				rows = append(rows, row)
			}
			row = next
		}
		shift += len(p.In) - p.Out
	}
	return found, rows
}

// Change puts a text in the place of line i.
func (s *Session) Change(i int, text string) (Edit, error) {
	old, err := s.line(i)
	if err != nil {
		return Edit{}, err
	}
	l, err := s.parse(text, old.Row)
	if err != nil {
		return Edit{}, err
	}
	if order, ok := l.Node.(*syntax.Agree); ok {
		if l, err = s.filled(l, order); err != nil {
			return Edit{}, err
		}
	}
	for _, n := range syntax.Defines(l.Node) {
		if j := s.definition(n); j >= 0 && j != i {
			return Edit{}, taken(l, n, s.RowOf(j))
		}
	}
	return s.do("change", s.inPlaceOf(i, l.Raw))
}

// Strike takes lines out. It is refused if one of them is the question that a
// "that" on another line means, unless forced.
func (s *Session) Strike(force bool, lines ...int) (Edit, error) {
	lines = slices.Clone(lines)
	slices.Sort(lines)
	lines = slices.Compact(lines)
	if len(lines) == 0 {
		return Edit{}, refuse("no line is named", "")
	}
	var ss splices
	for _, i := range lines {
		l, err := s.line(i)
		if err != nil {
			return Edit{}, err
		}
		ss = append(ss, splice{At: l.Row - 1, Out: l.Rows()})
	}
	for j, question := range thats(s.text.Lines) {
		_, struck := slices.BinarySearch(lines, question)
		if _, also := slices.BinarySearch(lines, j); struck && !also && !force {
			return Edit{}, &Refusal{Force: true, Diags: []syntax.Diag{{Wrong: words.Say("line %d is the question that `that` on line %d means", s.RowOf(question), s.RowOf(j)).
				With("keep it under a name first, or strike it all the same")}}}
		}
	}
	return s.do("strike", s.whole(ss))
}

// whole has a text that ends without a newline, and loses its last line, end
// as it did.
func (s *Session) whole(ss splices) splices {
	last := &ss[len(ss)-1]
	if s.text.NoFinal && last.At+last.Out == s.NextRow()-1 {
		last.In = []string{""}
	}
	return ss
}

func headerAt(lines []*syntax.Line) int {
	return slices.IndexFunc(lines, func(l *syntax.Line) bool {
		_, is := l.Node.(*syntax.Header)
		return is
	})
}

// line gives line i.
func (s *Session) line(i int) (*syntax.Line, error) {
	if i < 0 || i >= len(s.text.Lines) {
		return nil, refuse("there is no such line", "")
	}
	return s.text.Lines[i], nil
}

// inPlaceOf is the splice that puts a text in the place of line i. Its rows end
// as those of the line did.
func (s *Session) inPlaceOf(i int, text string) splices {
	old := s.text.Lines[i]
	rows := s.ended(text)
	last := &rows[len(rows)-1]
	*last = strings.TrimRight(*last, "\r")
	if strings.HasSuffix(old.Raw, "\r") {
		*last += "\r"
	}
	return splices{{At: old.Row - 1, Out: old.Rows(), In: rows}}
}

// ended cuts a text into rows that end as those of the notebook do.
func (s *Session) ended(text string) []string {
	rows := strings.Split(text, "\n")
	for i, r := range rows {
		if r = strings.TrimRight(r, "\r"); s.crlf {
			r += "\r"
		}
		rows[i] = r
	}
	return rows
}
