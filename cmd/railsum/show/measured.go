package show

import (
	"railsum/calc/answer"
)

// Measured writes the meter beside the sum: the difference, whether it lies
// within the tolerances, and which input alone would explain it.
func (p *Printer) Measured(m *answer.Measured) {
	meter := " by the meter, "
	if m.On != nil {
		meter = " by the meter on " + p.Value(m.On) + ", "
	}
	p.say(Safe(m.Name) + ": " + p.Value(m.Meter) + meter + p.Value(m.Sum) + " by the sum")
	if m.Difference.Numbers[0] == 0 {
		p.say("no difference")
		return
	}
	p.say("difference " + p.signed(m.Difference) + percent(m.Percent))
	p.say(p.inside(m))
	if len(m.Suspects) == 0 {
		p.say("no input alone explains it")
		return
	}
	p.say("any one of these alone would explain it, the least certain first")
	for i := range m.Suspects {
		e := &m.Suspects[i]
		if i == mostExplains {
			p.row(p.indent + "  and " + count(len(m.Suspects)-i, "input", "inputs") + " more")
			return
		}
		p.wrapped(p.indent+"  ", p.equals(e.Name, e.Wanted)+" instead of "+p.Value(e.Now)+p.believable(e))
	}
}

// mostExplains is how many explanations are shown.
const mostExplains = 5

// inside says whether the meter agrees with the sum.
func (p *Printer) inside(m *answer.Measured) string {
	reach := "the tolerances give " + p.Value(m.Low) + " to " + p.Value(m.High)
	switch {
	case m.Exact && m.Inside:
		return p.paint(p.good, "inside") + " the meter's own tolerance; nothing in the sum has one"
	case m.Exact:
		return p.paint(p.warn, "outside") + " the meter's own tolerance; nothing in the sum has one"
	case m.Inside:
		return p.paint(p.good, "inside") + ": " + reach
	}
	return p.paint(p.warn, "outside") + ": " + reach
}

// believable says what makes an explanation likely.
func (p *Printer) believable(e *answer.Suspect) string {
	switch {
	case e.Tolerant:
		return ", within its tolerance"
	case !e.State.Settled():
		return " (" + p.paint(p.warn, e.State.String()) + ")"
	}
	return ""
}
