package sessions

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// Insert puts lines before line i, in the order in which they are given; i may be one
// more than there are lines.
func (s *Session) Insert(i int, texts ...string) (Edit, error) {
	if i < 0 || i > len(s.text.Lines) {
		return Edit{}, refuse("there is no such line", "")
	}
	if h := headerAt(s.text.Lines); i <= h {
		return Edit{}, refuse("the header stays the first line", "")
	}
	var rows []string
	given := map[string]bool{}
	for _, text := range texts {
		l, err := s.parse(text, s.RowOf(i)+len(rows))
		if err != nil {
			return Edit{}, err
		}
		for _, n := range syntax.Defines(l.Node) {
			if j := s.definition(n); j >= 0 || given[n.String()] {
				return Edit{}, taken(l, n, s.rowOr(j))
			}
			given[n.String()] = true
		}
		rows = append(rows, s.ended(l.Raw)...)
	}
	if len(rows) == 0 {
		return Edit{}, nil
	}
	if i == len(s.text.Lines) {
		if s.text.NoFinal && len(s.text.Lines) > 0 {
			rows = append(rows, "")
		}
		return s.do("insert", splices{{At: s.NextRow() - 1, In: rows}})
	}
	return s.do("insert", splices{{At: s.RowOf(i) - 1, In: rows}})
}

// rowOr is the row of a line, 0 for none.
func (s *Session) rowOr(i int) int {
	if i < 0 {
		return 0
	}
	return s.RowOf(i)
}

// taken refuses a line that gives a meaning to a name that has one, on a row or, if
// that is 0, on another line given.
func taken(l *syntax.Line, n syntax.Defined, row int) *Refusal {
	wrong := words.Say("%s is given a meaning twice", n).With("leave out one of the two")
	if row > 0 {
		wrong = words.Say("%s is defined on line %d already", n, row).
			With(fmt.Sprintf("change line %d, or strike one of the two", row))
	}
	return &Refusal{Line: l, Diags: []syntax.Diag{{At: n.Parts[0].At, Wrong: wrong}}}
}

// Become makes the notebook a text that somebody has made of it elsewhere, as one
// edit. What cannot be read in it is kept as it is, and told by the answers.
func (s *Session) Become(text []byte) (Edit, error) {
	if len(text) > MaxBytes {
		return Edit{}, refuse("this is larger than a notebook may be (1 MB)", "")
	}
	if err := Sound("the text", text); err != nil {
		return Edit{}, err
	}
	var ss splices
	for _, c := range changes(rowsOf(s.text), rowsIn(bytes.Clone(text))) {
		ss = append(ss, splice{At: c.from, Out: c.to - c.from, In: c.in})
	}
	if len(ss) == 0 {
		return Edit{}, nil
	}
	return s.doUnchecked("edit", ss)
}

// Move puts the lines from i to j before line k, which may be one more than there
// are lines.
func (s *Session) Move(i, j, k int) (Edit, error) {
	first, err := s.line(i)
	if err != nil {
		return Edit{}, err
	}
	last, err := s.line(j)
	if err != nil || j < i {
		return Edit{}, refuse("there are no such lines", "")
	}
	if k != len(s.text.Lines) {
		if _, err := s.line(k); err != nil {
			return Edit{}, err
		}
	}
	if h := headerAt(s.text.Lines); h >= 0 && (i <= h || k <= h) {
		return Edit{}, refuse("the header stays the first line", "")
	}
	if i <= k && k <= j+1 {
		return Edit{}, nil
	}
	end := last.Row + last.Rows() - 1
	rows := slices.Clone(rowsOf(s.text)[first.Row-1 : end])
	out := splice{At: first.Row - 1, Out: len(rows)}
	in := splice{At: s.RowOf(k) - 1, In: rows}
	switch {
	case k < i && s.text.NoFinal && j == len(s.text.Lines)-1:
		out.In = []string{""}
	case k == len(s.text.Lines) && s.text.NoFinal:
		in.In = append(slices.Clone(rows), "")
	}
	if k < i {
		return s.do("move", splices{in, out})
	}
	return s.do("move", splices{out, in})
}

// Bring adds the lines that give a name its meaning in another notebook: a value, a
// table with its computed columns, or a placed sheet with what is set of it.
func (s *Session) Bring(from *File, names ...string) (Edit, error) {
	var texts []string
	for _, name := range names {
		d, err := typedName(name)
		if err != nil {
			return Edit{}, err
		}
		if len(d.Parts) > 1 {
			return Edit{}, refuse("only a whole is copied: a value, a table or a placed sheet", "write "+d.Parts[0].Text)
		}
		found := false
		for _, l := range syntax.ParseFile(from.Text).Lines {
			if text, is := about(l, d.String()); is {
				found = true
				texts = append(texts, strings.ReplaceAll(text, "\r", ""))
			}
		}
		if !found {
			return Edit{}, refuse(fmt.Sprintf("%s has no %s", from.Name, name), "")
		}
		if s.book.C.Defines(name) {
			return Edit{}, refuse(fmt.Sprintf("there is a %s here already", name), fmt.Sprintf("`rename %s to …` first, or strike it", name))
		}
	}
	return s.Insert(len(s.text.Lines), texts...)
}

// about gives the text of a line that gives a name its meaning, or sets something of
// it. Of a line that places a sheet under several names it is what it says of this.
func about(l *syntax.Line, name string) (string, bool) {
	if u, is := l.Node.(*syntax.Use); is {
		i := slices.IndexFunc(u.Names, func(p syntax.Part) bool { return p.Text == name })
		switch {
		case i < 0:
			return l.Raw, len(u.Names) == 0 && u.PlacedAs() == name
		case len(u.Names) > 1:
			alone := *u
			alone.Names = u.Names[i : i+1]
			return syntax.Print(&syntax.Line{Node: &alone, Note: l.Note}), true
		}
		return l.Raw, true
	}
	return l.Raw, slices.ContainsFunc(syntax.Defines(l.Node),
		func(d syntax.Defined) bool { return d.Parts[0].Text == name })
}
