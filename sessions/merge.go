package sessions

import (
	"bytes"
	"slices"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// A Merge is a notebook that two have gone on with since both had the same: this
// session, or one that died, and whoever wrote the file. It is taken in by
// MergeIn, or RecoverInto; every part that both have changed wants a Choice first.
type Merge struct {
	Parts []Part
	file  []byte // what the file holds
}

// Part is some rows of the notebook that one has changed, or both have.
type Part struct {
	Row               int      // of the first of our rows, from 1
	Was, Ours, Theirs []string // as both had them, as we have them, as the file has them
	Choice            Choice   // of a part that both have changed
	from, to          int      // rows of what was, and the end of ours, from 0
}

// Choice is whose rows are taken.
type Choice uint8

const (
	Undecided  Choice = iota
	TakeOurs          // ours alone
	TakeTheirs        // the file's alone
	TakeBoth          // ours and then the file's
)

// Conflict reports whether both have changed the rows, and not alike.
func (p *Part) Conflict() bool {
	return !slices.Equal(p.Ours, p.Theirs) && !slices.Equal(p.Was, p.Ours) && !slices.Equal(p.Was, p.Theirs)
}

// News reports whether the file has what we have not.
func (p *Part) News() bool { return !slices.Equal(p.Ours, p.Theirs) && !slices.Equal(p.Was, p.Theirs) }

// rows are what becomes of the part.
func (p *Part) rows() []string {
	switch {
	case !p.News(), p.Conflict() && p.Choice == TakeOurs:
		return p.Ours
	case p.Conflict() && p.Choice == TakeBoth:
		return append(slices.Clone(p.Ours), p.Theirs...)
	}
	return p.Theirs
}

// Conflicts are the parts that want a choice.
func (m *Merge) Conflicts() []*Part {
	var found []*Part
	for i := range m.Parts {
		if m.Parts[i].Conflict() {
			found = append(found, &m.Parts[i])
		}
	}
	return found
}

// News reports whether the file has anything that we have not.
func (m *Merge) News() bool {
	return slices.ContainsFunc(m.Parts, func(p Part) bool { return p.News() })
}

// change is a run of rows that one has put in the place of others.
type change struct {
	from, to int
	in       []string
}

// changes are what makes one text of another.
func changes(was, now []string) []change {
	text := func(rows []string) string { return strings.Join(rows, "\n") + "\n" }
	before := text(was)
	rowAt := map[int]int{len(before): len(was)}
	at := 0
	for i, row := range was {
		rowAt[at] = i
		at += len(row) + 1
	}
	var all []change
	for _, e := range udiff.Lines(before, text(now)) {
		c := change{from: rowAt[e.Start], to: rowAt[e.End]}
		if e.New != "" {
			c.in = strings.Split(strings.TrimSuffix(e.New, "\n"), "\n")
		}
		all = append(all, c)
	}
	return all
}

// merged compares two texts with what both were. A line says all there is to say
// by itself, so that changes of rows next to one another are told apart; those of
// the same rows, and what both have put in one place, are one part.
func merged(was, ours, theirs []string) []Part {
	a, b := changes(was, ours), changes(was, theirs)
	var parts []Part
	shift := 0 // how many rows more ours has so far
	for len(a)+len(b) > 0 {
		from := len(was)
		for _, side := range [][]change{a, b} {
			if len(side) > 0 {
				from = min(from, side[0].from)
			}
		}
		to := from
		only := startsWithIn(a, from) || startsWithIn(b, from) // what is put there comes first
		var mine, other []change
		for grown := true; grown; {
			grown = false
			for _, side := range []struct{ all, taken *[]change }{{&a, &mine}, {&b, &other}} {
				if len(*side.all) == 0 {
					continue
				}
				c := (*side.all)[0]
				if c.from == from && (c.to == from) == only || c.from < to {
					to = max(to, c.to)
					*side.taken, *side.all = append(*side.taken, c), (*side.all)[1:]
					grown = true
				}
			}
		}
		p := Part{Row: from + shift + 1, Was: was[from:to], from: from, to: to}
		p.Ours, p.Theirs = rowsWith(was, from, to, mine), rowsWith(was, from, to, other)
		shift += len(p.Ours) - (to - from)
		parts = append(parts, p)
	}
	return parts
}

// startsWithIn reports whether the first change puts rows in at a place and takes
// none away.
func startsWithIn(all []change, from int) bool {
	return len(all) > 0 && all[0].from == from && all[0].to == from
}

// rowsWith makes some changes on the rows from one to another.
func rowsWith(was []string, from, to int, changes []change) []string {
	rows := []string{}
	for _, c := range changes {
		rows = append(append(rows, was[from:c.from]...), c.in...)
		from = c.to
	}
	return append(rows, was[from:to]...)
}

// rowsIn are the rows of a text.
func rowsIn(text []byte) []string { return rowsOf(syntax.ParseFile(text)) }

// Meanwhile compares the notebook with what its file holds now, if that is no
// longer what was read; nil if it is. A file that has gone, or cannot be read, is an
// error.
func (s *Session) Meanwhile() (*Merge, error) {
	if s.file == nil {
		return nil, refuse("the notebook has no file", "`save NAME` gives it one")
	}
	text, exists, err := s.file.now()
	switch {
	case err != nil:
		return nil, err
	case exists == s.file.Exists && bytes.Equal(text, s.file.Text):
		return nil, nil
	case !exists:
		return nil, &Error{Kind: ErrChanged, Path: s.file.Name,
			Wrong: words.Say("%s has gone since it was read", s.file.Name).
				With("`save` writes it again")}
	}
	return &Merge{Parts: merged(rowsIn(s.file.Text), rowsOf(s.text), rowsIn(text)), file: text}, nil
}

// now reads what the file holds.
func (f *File) now() (text []byte, exists bool, err error) {
	read, err := load(f.disk, f.Path)
	if err != nil {
		return nil, false, err
	}
	return read.Text, read.Exists, nil
}

// MergeIn takes the file's news into the notebook, as one edit. From then on the
// notebook goes by what the file holds.
func (s *Session) MergeIn(m *Merge) (Edit, error) {
	var ss splices
	for i := range m.Parts {
		p := &m.Parts[i]
		if p.Conflict() && p.Choice == Undecided {
			return Edit{}, refuse("both have changed the same rows", "say whose are to be taken")
		}
		if rows := p.rows(); !slices.Equal(rows, p.Ours) {
			ss = append(ss, splice{At: p.Row - 1, Out: len(p.Ours), In: slices.Clone(rows)})
		}
	}
	// The edit is recorded as one of a notebook whose file holds this.
	text, exists, start := s.file.Text, s.file.Exists, s.start
	s.file.Text, s.file.Exists, s.start = m.file, true, m.file
	if s.journal != nil {
		s.journal.stale = true
	}
	var done Edit
	var err error
	switch {
	case len(ss) > 0:
		done, err = s.doUnchecked("merge", ss)
	case s.journal != nil:
		err = s.record(&edit{What: "draft"}) // begins a journal that says so
	}
	if err != nil {
		s.file.Text, s.file.Exists, s.start = text, exists, start
		return Edit{}, err
	}
	s.saved, s.fresh = state{text: m.file}, len(bytes.TrimSpace(m.file)) == 0
	return done, nil
}

// Against compares what a session that died has left with what its file holds now,
// which is what this session has read.
func (s *Session) Against(r *Recovery) *Merge {
	was, ours, theirs := rowsIn(r.base), rowsIn(r.text), rowsOf(s.text)
	m := &Merge{file: s.file.Text}
	if r.base != nil {
		m.Parts = merged(was, ours, theirs)
		return m
	}
	// Nobody knows what both had: wherever they differ, somebody has to choose.
	for _, c := range changes(theirs, ours) {
		m.Parts = append(m.Parts, Part{Row: c.from + 1, Was: []string{"\x00"}, Ours: c.in, Theirs: theirs[c.from:c.to],
			from: c.from, to: c.to})
	}
	return m
}

// RecoverInto takes what a session that died has left into what the file holds now,
// as one edit.
func (s *Session) RecoverInto(r *Recovery, m *Merge) (Edit, error) {
	switch {
	case r.lock == nil:
		return Edit{}, refuse("this is not offered any more", "")
	case s.Dirty():
		return Edit{}, refuse("the notebook has been changed meanwhile", "save it or undo the changes first")
	}
	theirs := rowsOf(s.text)
	var ss splices
	shift := 0 // of the file's rows against those both had
	for i := range m.Parts {
		p := &m.Parts[i]
		if p.Conflict() && p.Choice == Undecided {
			return Edit{}, refuse("both have changed the same rows", "say whose are to be taken")
		}
		at := p.from + shift
		if r.base == nil {
			at = p.from
		} else {
			shift += len(p.Theirs) - (p.to - p.from)
		}
		if rows := p.rows(); !slices.Equal(rows, p.Theirs) {
			ss = append(ss, splice{At: at, Out: len(p.Theirs), In: slices.Clone(rows)})
		}
	}
	if !ss.fit(len(theirs)) {
		return Edit{}, refuse("the file has changed meanwhile", "open the notebook again")
	}
	var done Edit
	var err error
	if len(ss) > 0 {
		done, err = s.doUnchecked("recover", ss)
	}
	if err == nil {
		err = s.Draft(r.Draft...)
	}
	if err != nil {
		return done, err
	}
	return done, s.take(r)
}
