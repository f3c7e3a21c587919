package study

import (
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Part tells what is to be bought.
func (a *Asking) Part(node *syntax.Needed) { a.kept.answer = a.Need(a.s, node) }

// Need is what a part line says is to be bought.
func (l *Lab) Need(s *check.Study, node *syntax.Needed) *answer.Needed {
	p := &answer.Needed{What: node.What.Text, Fields: []answer.CardLine{}}
	if node.Of != nil {
		p.From = node.From.Text
	}
	for _, part := range node.Of {
		p.Of = append(p.Of, part.Text)
	}
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

// Part is what a placed sheet needs, and the lengths that it is reckoned from: inputs
// that nothing else stands behind.
type Part struct {
	*answer.Needed
	Lengths []*check.Def
}

// Parts are what a placed sheet needs.
func (l *Lab) Parts(p *check.Placement) []Part {
	var all []Part
	for _, line := range p.Sheet.File.Lines {
		node, ok := line.Node.(*syntax.Needed)
		if !ok || node.Of != nil {
			continue
		}
		s := l.Work(p, line)
		if !s.OK {
			continue
		}
		part := Part{Needed: l.Need(s, node)}
		for i, set := range node.With {
			if set.Name.Text == "length" {
				part.Lengths = slices.DeleteFunc(check.Inputs(s.Show[i]), func(d *check.Def) bool {
					return d.Type.Kind != types.Number || d.Type.Dim != metre.Dim()
				})
			}
		}
		all = append(all, part)
	}
	return all
}

var metre = units.Known("m")
