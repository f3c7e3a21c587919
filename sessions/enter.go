package sessions

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// Enter adds a line, or all rows of a table, to the end. A line that gives a
// name a second meaning takes the place of the first, and keeps its note unless
// it brings its own. A line whose form is wrong is refused; one that speaks of
// names not known yet is not. It fails with ErrIncomplete if a table has no end.
func (s *Session) Enter(text string) (Edit, error) {
	l, err := s.parse(text, s.NextRow())
	if err != nil {
		return Edit{}, err
	}
	if _, ok := l.Node.(*syntax.Header); ok {
		return Edit{}, nil // as stands at the top of a pasted text; a later edition's is in error
	}
	if order, ok := l.Node.(*syntax.Agree); ok {
		return s.agree(l, order)
	}
	ds := syntax.Defines(l.Node)
	i := -1
	for _, d := range ds {
		if j := s.definition(d); j >= 0 && i < 0 {
			i = j
		}
	}
	if i >= 0 {
		return s.replace(i, l, ds)
	}
	if d, ok := l.Node.(*syntax.Define); ok && len(d.Target.Parts) == 3 && s.book.C.Tables(d.Target.Parts[0].Text) {
		return s.setCell(l, d)
	}
	if d, ok := l.Node.(*syntax.Define); ok && len(d.Target.Parts) == 2 {
		if u, k := s.setWith(d.Target); u >= 0 {
			return s.setAgain(u, k, l, d)
		}
	}
	return s.do("enter", s.atEnd(l.Raw))
}

// parse reads a line as typed; its form must be right.
func (s *Session) parse(text string, row int) (*syntax.Line, error) {
	if !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
		return nil, refuse("this is no text", "")
	}
	if len(text) > MaxBytes {
		return nil, refuse("this is larger than a notebook may be (1 MB)", "")
	}
	text = strings.TrimSuffix(strings.TrimSuffix(text, "\n"), "\r")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	l, open := syntax.ParseLineUntil(s.stop, text, row)
	if s.stop() {
		return nil, ErrStopped
	}
	if open {
		return nil, ErrIncomplete
	}
	var wrong []syntax.Diag
	for _, d := range l.Errors {
		if !d.Notice {
			wrong = append(wrong, d)
		}
	}
	if len(wrong) > 0 {
		return nil, &Refusal{Diags: wrong, Line: l}
	}
	return l, nil
}

// atEnd is the splice that adds a text to the end, newline included.
func (s *Session) atEnd(text string) splices {
	in := s.ended(text)
	if s.text.NoFinal && len(s.text.Lines) > 0 {
		in = append(in, "")
	}
	return splices{{At: s.NextRow() - 1, In: in}}
}

// replace puts a line in the place of an earlier one that gives the same names
// a meaning.
func (s *Session) replace(i int, l *syntax.Line, ds []syntax.Defined) (Edit, error) {
	old := s.text.Lines[i]
	was := syntax.Defines(old.Node)
	row := s.RowOf(i)
	complain := func(format string, args ...any) (Edit, error) {
		return Edit{}, &Refusal{Line: l, Diags: []syntax.Diag{{At: ds[0].Parts[0].At, Wrong: words.Say(format, args...).
			With(fmt.Sprintf("change or strike line %d", row))}}}
	}
	if was[0].Meaning != ds[0].Meaning {
		return complain("%s is %s on line %d", ds[0], was[0].Meaning, row)
	}
	for _, d := range was {
		if !holds(ds, d) {
			return complain("line %d also sets %s", row, d)
		}
	}
	for _, d := range ds {
		if j := s.definition(d); j >= 0 && j != i {
			return complain("%s and %s are on different lines, %d and %d", ds[0], d, row, s.RowOf(j))
		}
	}
	text := l.Raw
	if l.Note == "" && old.Note != "" {
		text = noted(text, old.Note)
	}
	done, err := s.do("enter", s.inPlaceOf(i, text))
	done.Replaced = err == nil
	return done, err
}

func holds(ds []syntax.Defined, d syntax.Defined) bool {
	return slices.ContainsFunc(ds, func(o syntax.Defined) bool { return o.String() == d.String() })
}

// noted gives a line's text a note, on its first row; none if that would make
// the row too long.
func noted(text, note string) string {
	first, rest, more := strings.Cut(text, "\n")
	// A lone "#" is a note without words; the new one takes its place.
	first = strings.TrimRight(strings.TrimSuffix(strings.TrimRight(first, " \t"), "#"), " \t") + "  # " + note
	if utf8.RuneCountInString(first) > syntax.MaxRunes {
		return text
	}
	if more {
		return first + "\n" + rest
	}
	return first
}

// setWith finds the use line that sets an input in its "with": the line and the
// number of the setting, -1 if there is none.
func (s *Session) setWith(name *syntax.Name) (line, setting int) {
	for i, l := range s.text.Lines {
		u, ok := l.Node.(*syntax.Use)
		if !ok || !slices.ContainsFunc(u.Names, func(p syntax.Part) bool { return p.Text == name.Parts[0].Text }) {
			continue
		}
		k := slices.IndexFunc(u.With, func(t syntax.Setting) bool { return s.sameInput(u, t.Name.Text, name.Parts[1].Text) })
		if k >= 0 {
			return i, k
		}
	}
	return -1, -1
}

// sameInput reports whether two words name one input of the sheet that a line
// puts to work: an input is known by other words too.
func (s *Session) sameInput(u *syntax.Use, a, b string) bool {
	if a == b {
		return true
	}
	sheet, err := s.library.Sheet(u.Sheet, u.Own)
	return err == nil && sheet.SameInput(a, b)
}

// setAgain sets what the "with" of a use line has set already. A plain
// expression takes the place of the one there; what "with" cannot hold, a
// tolerance, a unit, a note, becomes a line of its own and the other one goes.
func (s *Session) setAgain(i, k int, l *syntax.Line, d *syntax.Define) (Edit, error) {
	old := s.text.Lines[i]
	use := *old.Node.(*syntax.Use)
	if len(use.Names) > 1 {
		names := make([]string, len(use.Names))
		for i, n := range use.Names {
			names[i] = n.Text
		}
		return Edit{}, &Refusal{Line: l, Diags: []syntax.Diag{{At: d.Target.Pos(),
			Wrong: words.Say("line %d sets this for %s", s.RowOf(i), words.And(names)).
				With(fmt.Sprintf("change line %d", s.RowOf(i)))}}}
	}
	plain := !d.Assumed && l.Note == "" && d.Tail.Tol == nil && d.Tail.As == nil && !d.Tail.Whole
	use.With = slices.Clone(use.With)
	if plain {
		use.With[k].Expr = d.Expr
	} else {
		use.With = slices.Delete(use.With, k, k+1)
	}
	ss := s.inPlaceOf(i, syntax.Print(&syntax.Line{Node: &use, Note: old.Note}))
	if !plain {
		ss = append(ss, s.atEnd(l.Raw)...)
	}
	done, err := s.do("enter", ss)
	done.Replaced = err == nil
	return done, err
}
