package sessions

import (
	"fmt"
	"strings"

	"railsum/calc/syntax"
)

// Rename gives a value, a table, a placed sheet or a column of a table (written
// "fleet.draw") another name wherever it stands. Notes, labels and texts stay as
// they are, and so does every other character of the lines. It is refused if
// the new name means something already, or is spoken of.
func (s *Session) Rename(from, to string) (Edit, error) {
	f, err := typedName(from)
	if err != nil {
		return Edit{}, err
	}
	t, err := typedName(to)
	if err != nil {
		return Edit{}, err
	}
	if f.String() == t.String() {
		return Edit{}, refuse("that is its name already", "")
	}
	stands, err := s.standing(f, t)
	if err != nil {
		return Edit{}, err
	}
	old, now := f.Parts[len(f.Parts)-1].Text, t.Parts[len(t.Parts)-1].Text
	var ss splices
	for i, l := range s.text.Lines {
		at := stands(l, old)
		if len(at) == 0 {
			continue
		}
		rows := respelt(l, at, now)
		// The new name may read as something else here, as the symbol of a scale
		// does behind "at".
		again, _ := syntax.ParseLineAt(strings.Join(rows, "\n"), l.Row)
		if broken(again) || len(stands(again, now)) != len(at) {
			return Edit{}, refuse(fmt.Sprintf("on line %d %s would read as something else", s.RowOf(i), now),
				"choose another name")
		}
		ss = append(ss, splice{At: l.Row - 1, Out: len(rows), In: rows})
	}
	return s.do("rename", ss)
}

// standing checks that a name can be given another, and says how to find it on
// a line by its last part.
func (s *Session) standing(from, to syntax.Defined) (func(*syntax.Line, string) []syntax.Pos, error) {
	head, last := from.Parts[0].Text, len(from.Parts)-1
	at := s.definition(from)
	switch {
	case len(to.Parts) != last+1 || last == 1 && to.Parts[0].Text != head:
		return nil, refuse("the part before the dot has to stay", fmt.Sprintf("write rename %s to %s%s", from,
			strings.TrimSuffix(from.String(), from.Parts[last].Text), to.Parts[len(to.Parts)-1].Text))
	case last == 1:
		stands := func(l *syntax.Line, name string) []syntax.Pos { return columns(l, head, name) }
		if table := s.table(head); table == nil || at < 0 && len(columns(table, head, from.Parts[1].Text)) == 0 {
			if t := fileTable(table); t != nil {
				return nil, refuse(fmt.Sprintf("the columns of %s are named in %s", head, t.From.Value),
					"change the head there, and "+from.String()+" in the lines that mention it")
			}
			return nil, refuse(fmt.Sprintf("%s is no column of a table here", from),
				"inputs and answers are named by their sheet")
		}
		return stands, s.free(stands, to)
	case at < 0:
		return nil, refuse("there is no "+head+" here", "")
	}
	return s.heads, s.free(s.heads, to)
}

// fileTable gives the table that a line reads from a file, nil if it reads none.
func fileTable(l *syntax.Line) *syntax.Table {
	if l == nil {
		return nil
	}
	if t, is := l.Node.(*syntax.Table); is && t.From != nil {
		return t
	}
	return nil
}

// table gives the line that defines a table, nil if none does.
func (s *Session) table(name string) *syntax.Line {
	for _, l := range s.text.Lines {
		if t, ok := l.Node.(*syntax.Table); ok && t.Name.Text == name {
			return l
		}
	}
	return nil
}

// free refuses a name that stands somewhere already.
func (s *Session) free(stands func(*syntax.Line, string) []syntax.Pos, to syntax.Defined) error {
	for i, l := range s.text.Lines {
		if len(stands(l, to.Parts[len(to.Parts)-1].Text)) > 0 {
			return refuse(fmt.Sprintf("line %d mentions %s already", s.RowOf(i), to), "choose another name")
		}
	}
	return nil
}

// typedName reads a name as an order gives it, dotted or not.
func typedName(name string) (syntax.Defined, error) {
	name = strings.TrimSpace(name)
	l, _ := syntax.ParseLine(name + " = 1")
	d, ok := l.Node.(*syntax.Define)
	switch {
	case syntax.IsReserved(name):
		return syntax.Defined{}, refuse(name+" is a word of the language", "choose another name")
	case !ok || d.Assumed || len(d.Target.Parts) > 2 || strings.ContainsAny(name, "=#"):
		return syntax.Defined{}, refuse(fmt.Sprintf("%q is no name", name),
			"a name is a letter followed by letters, digits and _")
	}
	return syntax.Defines(d)[0], nil
}

// respelt gives the rows of a line with a name at places of it put as another.
func respelt(l *syntax.Line, at []syntax.Pos, now string) []string {
	names := make(map[syntax.Pos]string, len(at))
	for _, p := range at {
		names[p] = now
	}
	return syntax.Respell(l, names)
}
