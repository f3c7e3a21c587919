package study

import (
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
)

// Part tells what is to be bought.
func (a *Asking) Part(node *syntax.Needed) { a.kept.answer = a.Need(a.s, node) }

// Need is what a part line says is to be bought.
func (l *Lab) Need(s *check.Study, node *syntax.Needed) *answer.Needed {
	p := &answer.Needed{What: node.What.Text, Fields: []answer.CardLine{}}
	for i, set := range node.With {
		d := s.Show[i]
		p.Fields = append(p.Fields, answer.CardLine{Name: set.Name.Text, Value: l.Value(d), State: l.stateOf(d)})
	}
	return p
}

// stateOf says whether a field is nobody's own value yet: it repeats an input
// that is a sheet's default or assumed.
func (l *Lab) stateOf(d *check.Def) answer.State {
	if d.Node.Op != check.Ref {
		return answer.NoState
	}
	return l.StateOf(d.Node.Def)
}
