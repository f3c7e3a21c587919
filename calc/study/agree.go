package study

import (
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Agree sets what a sheet takes for granted beside what was agreed to, and says
// which of it no longer stands.
func (a *Asking) Agree(node *syntax.Agree) {
	p := a.s.Place
	out := &answer.Agreement{Name: node.Place(), Sheet: p.Sheet.Name, Edition: node.Edition,
		Inputs: []answer.AgreedInput{}}
	if now := p.Sheet.Edition; now != node.Edition {
		out.Now = now
	}
	for _, x := range a.s.Axes {
		in := answer.AgreedInput{Name: x.Name.Parts[1].Text, Agreed: a.Value(x.Value), Now: a.Value(x.X),
			Stands: a.Agreed(x.X)}
		out.Inputs = append(out.Inputs, in)
		if x.X.Agreed.Current && !in.Stands && in.Now != nil && in.Agreed != nil {
			a.kept.diags = append(a.kept.diags, syntax.Diag{At: x.Name.Pos(), Notice: true,
				Wrong: words.Say("%s is %s now, and was agreed at %s: it is unsettled", x.Name, in.Now, in.Agreed).
					With(check.AgreeAnew(node.Place()))})
		}
	}
	a.kept.answer = out
}
