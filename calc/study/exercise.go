package study

import (
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// Exercise tells what is to be asked.
func (a *Asking) Exercise(node *syntax.Exercise) {
	e := &answer.Exercise{Sheet: a.s.Sheet.Name, Own: a.s.Sheet.Own, Edition: a.s.Sheet.Edition, Levels: node.Levels,
		Count: node.Count}
	if e.Count == 0 {
		e.Count = answer.UsualCount
	}
	if node.Seed >= 0 {
		e.Seed = &node.Seed
	}
	for _, n := range node.Asking {
		e.Asking = append(e.Asking, n.Text)
	}
	for _, x := range a.s.Axes {
		v := a.Value(x.Value)
		if v == nil || !v.Sound() {
			a.problem(&a.kept, a.unfit(x.Value))
			return
		}
		e.With = append(e.With, answer.CardLine{Name: x.Name.String(), Value: v})
	}
	a.kept.answer = e
}
