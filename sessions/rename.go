package sessions

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

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
	if key(f) == key(t) {
		return Edit{}, refuse("that is its name already", "")
	}
	stands, err := s.standing(f, t)
	if err != nil {
		return Edit{}, err
	}
	old, now := f[len(f)-1].Text, t[len(t)-1].Text
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
			return Edit{}, refuse(fmt.Sprintf("on line %d %s would read as something else", s.RowOf(i), now), "choose another name")
		}
		ss = append(ss, splice{At: l.Row - 1, Out: len(rows), In: rows})
	}
	return s.do("rename", ss)
}

// standing checks that a name can be given another, and says how to find it on
// a line by its last part.
func (s *Session) standing(from, to []syntax.Part) (func(*syntax.Line, string) []syntax.Pos, error) {
	head := from[0].Text
	at := s.definition(definition{parts: from})
	switch {
	case len(from) != len(to) || len(from) == 2 && to[0].Text != head:
		return nil, refuse("the part before the dot has to stay", fmt.Sprintf("write rename %s to %s", key(from), strings.TrimSuffix(key(from), from[len(from)-1].Text)+to[len(to)-1].Text))
	case len(from) == 2:
		stands := func(l *syntax.Line, name string) []syntax.Pos { return columns(l, head, name) }
		if i := s.definition(definition{parts: from[:1]}); i < 0 || defined(s.text.Lines[i])[0].kind != table || at < 0 && len(columns(s.text.Lines[i], head, from[1].Text)) == 0 {
			return nil, refuse(fmt.Sprintf("%s is no column of a table here", key(from)), "inputs and answers are named by their sheet")
		}
		return stands, s.free(stands, to)
	case at < 0:
		return nil, refuse("there is no "+head+" here", "")
	}
	return s.heads, s.free(s.heads, to)
}

// free refuses a name that stands somewhere already.
func (s *Session) free(stands func(*syntax.Line, string) []syntax.Pos, to []syntax.Part) error {
	for i, l := range s.text.Lines {
		if len(stands(l, to[len(to)-1].Text)) > 0 {
			return refuse(fmt.Sprintf("line %d speaks of %s already", s.RowOf(i), key(to)), "choose another name")
		}
	}
	return nil
}

// typedName reads a name as an order gives it, dotted or not.
func typedName(name string) ([]syntax.Part, error) {
	name = strings.TrimSpace(name)
	l, _ := syntax.ParseLine(name + " = 1")
	d, ok := l.Node.(*syntax.Define)
	switch {
	case syntax.IsReserved(name):
		return nil, refuse(name+" is a word of the language", "choose another name")
	case !ok || d.Assumed || len(d.Target.Parts) > 2 || strings.ContainsAny(name, "=#"):
		return nil, refuse(fmt.Sprintf("%q is no name", name), "a name is a letter followed by letters, digits and _")
	}
	return d.Target.Parts, nil
}

// respelt gives the rows of a line with a name at places of it put as another.
func respelt(l *syntax.Line, at []syntax.Pos, now string) []string {
	rows := strings.Split(l.Raw, "\n")
	// From the last to the first, so that those before stay where they are.
	for _, p := range slices.Backward(inOrder(at)) {
		row := rows[p.Row-l.Row]
		begin := offset(row, p.Col)
		end := begin
		if strings.HasPrefix(row[begin:], `"`) {
			end = begin + 1 + strings.IndexByte(row[begin+1:], '"') + 1
		} else {
			for end < len(row) {
				r, size := utf8.DecodeRuneInString(row[end:])
				if r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) {
					break
				}
				end += size
			}
		}
		rows[p.Row-l.Row] = row[:begin] + now + row[end:]
	}
	return rows
}

func inOrder(at []syntax.Pos) []syntax.Pos {
	at = slices.Clone(at)
	slices.SortFunc(at, func(a, b syntax.Pos) int {
		if a.Row != b.Row {
			return a.Row - b.Row
		}
		return a.Col - b.Col
	})
	return slices.Compact(at)
}

// offset is the byte that a column, counted in runes from 1, begins at.
func offset(row string, col int) int {
	for i := range row {
		if col--; col == 0 {
			return i
		}
	}
	return len(row)
}
