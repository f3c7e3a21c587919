package show

import (
	"railsum/calc/answer"
	"railsum/units"
)

// say writes a sentence of a study, wrapped, at the indent of an answer.
func (p *Printer) say(text string) { p.wrapped(p.indent, text) }

// equals is a name or an expression of the notebook with what it comes to.
func (p *Printer) equals(name string, v *answer.Value) string {
	return Safe(name) + " = " + p.Value(v)
}

// against is the two sides of a comparison where it does not hold.
func (p *Printer) against(left, right *answer.Value) string {
	return p.Value(left) + " against " + p.Value(right)
}

// turn is a verdict that has become another.
func (p *Printer) turn(t *answer.Turn) string {
	rule := Safe(t.Cond.String())
	if t.Name != "" {
		rule = Safe(t.Name) + ", " + rule
	}
	if t.Was == t.Now {
		return rule + ": " + p.Verdict(t.Now) + " as now"
	}
	return rule + ": " + p.Verdict(t.Was) + " " + p.arrow() + " " + p.Verdict(t.Now)
}

// ruleOf is a rule with the placed sheet it belongs to.
func ruleOf(name string, cond answer.Expr, must answer.Must) string {
	rule := must.String() + " " + Safe(cond.String())
	if name == "" {
		return rule
	}
	return Safe(name) + ", " + rule
}

// caption is a name with the unit its values are in: "north.lost, mV".
func (p *Printer) caption(name string, u units.Unit) string {
	if !u.Follows() {
		return Safe(name)
	}
	return Safe(name) + ", " + p.Unit(u)
}
