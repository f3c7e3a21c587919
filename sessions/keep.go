package sessions

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// Keep gives the last question a name, so that it becomes a named value, and
// puts the name in the place of every "that" that meant it. A sheet that was
// asked for its card becomes a placed one.
func (s *Session) Keep(name string) (Edit, error) {
	d, err := typedName(name)
	if err != nil {
		return Edit{}, err
	}
	if len(d.Parts) > 1 {
		return Edit{}, refuse("a name to keep something under has no dot", "")
	}
	name = d.String()
	if i := s.definition(d); i >= 0 {
		return Edit{}, refuse(fmt.Sprintf("%s is defined on line %d already", name, s.RowOf(i)), "choose another name")
	}
	i := lastQuestion(s.text.Lines)
	if i < 0 {
		return Edit{}, refuse("there is no question to keep", "")
	}
	l := s.text.Lines[i]
	var ss splices
	if u, ok := l.Node.(*syntax.Use); ok {
		ss = splices{{At: l.Row - 1, Out: 1, In: []string{placed(l.Raw, u, name)}}}
	} else {
		indent := len(l.Raw) - len(strings.TrimLeft(l.Raw, " \t"))
		ss = splices{{At: l.Row - 1, Out: 1, In: []string{l.Raw[:indent] + name + " = " + l.Raw[indent:]}}}
	}
	if again, _ := syntax.ParseLineAt(ss[0].In[0], l.Row); broken(again) {
		return Edit{}, &Refusal{Diags: again.Errors, Line: again}
	}
	for j, question := range thats(s.text.Lines) {
		if question == i {
			user := s.text.Lines[j]
			ss = append(ss, splice{At: user.Row - 1, Out: user.Rows(), In: respelt(user, thatsOn(user), name)})
		}
	}
	return s.do("keep", ss)
}

// lastQuestion finds the last line that asks and has no name, -1 if none does.
func lastQuestion(lines []*syntax.Line) int {
	for i, l := range slices.Backward(lines) {
		switch n := l.Node.(type) {
		case *syntax.Question:
			return i
		case *syntax.Use:
			if len(n.Names) == 0 {
				return i
			}
		}
	}
	return -1
}

// placed puts a name into a use line that has none.
func placed(row string, u *syntax.Use, name string) string {
	end := syntax.ByteAt(row, u.At.Col)
	if u.Own {
		end += 1 + strings.IndexByte(row[end+1:], '"') + 1
	} else {
		end += len(u.Sheet)
	}
	return row[:end] + " for " + name + row[end:]
}
