package show

import (
	"cmp"
	"slices"

	"railsum/calc"
)

// Measured writes the meter beside the sum: the difference, whether it lies
// within the tolerances, and which input alone would explain it.
func (p *Printer) Measured(m *calc.Metered) {
	p.say(Safe(m.Name) + ": " + p.Value(m.Meter) + " by the meter, " + p.Value(m.Sum) + " by the sum")
	if m.Difference.Numbers[0] == 0 {
		p.say("no difference")
		return
	}
	text := "difference " + p.signed(m.Difference)
	if m.Percent != "" {
		text += ", " + m.Percent
	}
	p.say(text)
	p.say(p.inside(m))
	if len(m.Explains) == 0 {
		p.say("no input alone explains it")
		return
	}
	p.say("one input alone would explain it, what is least sure first")
	for i, e := range leastSure(m.Explains) {
		if i == mostExplains {
			p.row(p.indent + "  and " + count(len(m.Explains)-i, "input", "inputs") + " more")
			return
		}
		p.wrapped(p.indent+"  ", p.equals(e.Name, e.Wanted)+" instead of "+p.Value(e.Now)+p.believable(e))
	}
}

// mostExplains is how many explanations are shown.
const mostExplains = 5

// leastSure puts the inputs first that may well be other than they are taken to
// be: those that explain it within their tolerance, then those that have one and
// those that nobody has settled. Otherwise the order stays, the least change first.
func leastSure(explains []calc.Explains) []*calc.Explains {
	var all []*calc.Explains
	for i := range explains {
		all = append(all, &explains[i])
	}
	rank := func(e *calc.Explains) int {
		switch {
		case e.Tolerant:
			return 0
		case e.Default || e.Now != nil && e.Now.Tol != "":
			return 1
		}
		return 2
	}
	slices.SortStableFunc(all, func(a, b *calc.Explains) int { return cmp.Compare(rank(a), rank(b)) })
	return all
}

// inside says whether the meter agrees with the sum.
func (p *Printer) inside(m *calc.Metered) string {
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
func (p *Printer) believable(e *calc.Explains) string {
	switch {
	case e.Tolerant:
		return ", within its tolerance"
	case e.Default:
		return " (" + p.paint(p.warn, "default") + ", not yet yours)"
	}
	return ""
}
