package show

import (
	"railsum/calc"
	"railsum/calc/types"
	"railsum/units"
)

// Study writes what a study has to say.
func (p *Printer) Study(s *calc.StudyAnswer) {
	switch {
	case s.Find != nil:
		p.Find(s.Find)
	case s.Vary != nil:
		p.Vary(s.Vary)
	case s.Suppose != nil:
		p.Suppose(s.Suppose)
	case s.Working != nil:
		p.Working(s.Working)
	case s.Measured != nil:
		p.Measured(s.Measured)
	}
	for _, one := range s.Spread {
		p.Spread(one)
	}
}

// say writes a sentence of a study, wrapped, at the indent of an answer.
func (p *Printer) say(text string) { p.wrapped(p.indent, text) }

// equals is a name or an expression of the notebook with what it comes to.
func (p *Printer) equals(name string, v *calc.Value) string {
	return Safe(name) + " = " + p.Value(v)
}

// against is the two sides of a comparison where it does not hold.
func (p *Printer) against(left, right *calc.Value) string {
	return p.Value(left) + " against " + p.Value(right)
}

// turn is a verdict that has become another.
func (p *Printer) turn(name, rule string, was, now calc.Verdict) string {
	rule = Safe(rule)
	if name != "" {
		rule = Safe(name) + ", " + rule
	}
	return rule + ": " + p.Verdict(was) + " " + p.arrow() + " " + p.Verdict(now)
}

// ruleOf is a rule with the placed sheet it belongs to.
func ruleOf(name, text string, must bool) string {
	word := "should "
	if must {
		word = "must "
	}
	if name == "" {
		return word + Safe(text)
	}
	return Safe(name) + ", " + word + Safe(text)
}

// caption is a name with the unit its values are in: "north.lost, mV".
func (p *Printer) caption(name string, u units.Unit) string {
	if u.IsZero() {
		return Safe(name)
	}
	return Safe(name) + ", " + p.Unit(u)
}

// isQuantity reports whether a value is of numbers, which can be drawn.
func isQuantity(v *calc.Value) bool {
	return v.Type.Kind == types.Number || v.Type.Kind == types.Point
}
