package show

import (
	"fmt"

	"railsum/calc/answer"
	"railsum/units"
)

// mostParts is how many contributions are shown.
const mostParts = 12

// Spread writes how sure answers are.
func (p *Printer) Spread(all answer.Spreads) {
	for _, one := range all {
		p.spread(one)
	}
}

func (p *Printer) spread(s *answer.Spread) {
	p.row(p.indent + p.paint(p.head, Safe(s.Name)))
	in := p.indent + "  "
	switch {
	case s.Why != "":
		p.wrapped(in, p.paint(p.none, "no spread")+": "+Safe(s.Why))
		return
	case s.Exact:
		p.wrapped(in, "nominal: "+p.Value(s.Nominal))
		p.wrapped(in, "no spread: none of its inputs has a tolerance")
		return
	}
	p.wrapped(in, "lowest: "+p.Value(s.Lowest))
	p.wrapped(in, "nominal: "+p.Value(s.Nominal))
	p.wrapped(in, "highest: "+p.Value(s.Highest))
	p.wrapped(in, "root sum square: +- "+p.Value(s.RSS))
	p.wrapped(in, fmt.Sprintf("95 %% of cases: %s to %s (%d seeded samples, %s)",
		p.Value(s.Low95), p.Value(s.High95), s.Samples, s.Distribution))
	if s.Failed > 0 {
		p.wrapped(in, p.paint(p.none, "no answer")+" in "+share(s.Failed)+" of cases")
	}
	p.parts(s.Parts, in)
	if len(s.Rules) > 0 {
		p.row(in + p.paint(p.head, "checks"))
	}
	for i := range s.Rules {
		p.wrapped(in+"  ", p.ruleSpread(&s.Rules[i]))
	}
	if s.MoreRules > 0 {
		p.wrapped(in+"  ", fmt.Sprintf("%d more rules were not judged over the spread", s.MoreRules))
	}
}

// parts writes what each tolerance contributes, worst first.
func (p *Printer) parts(parts []answer.Part, in string) {
	p.row(in + p.paint(p.head, "contributions, worst first"))
	for i := range parts {
		if i == mostParts {
			p.row(fmt.Sprintf("%s  and %s less than these", in, count(len(parts)-i, "tolerance", "tolerances")))
			return
		}
		part := &parts[i]
		p.wrapped(in+"  ", fmt.Sprintf("%s +- %s: +- %s, %s of the whole", Safe(part.Name), Safe(p.typed(part.Tol)),
			p.Value(part.Moves), share(part.Share)))
	}
}

// ruleSpread says in how many cases a rule holds.
func (p *Printer) ruleSpread(r *answer.RuleShare) string {
	how := p.paint(p.good, "always")
	bad := p.warn
	if r.Must {
		bad = p.bad
	}
	switch {
	case r.Holds <= 0:
		how = p.paint(bad, "never")
	case r.Holds < 1:
		how = p.paint(bad, "not always") + ", it holds in " + share(r.Holds) + " of cases"
	}
	return ruleOf(r.Name, r.Cond, r.Must) + ": " + how
}

// share is a fraction in per cent. One that is not all and not nothing is never
// rounded to that.
func share(x float64) string {
	switch {
	case x > 0 && x < 0.001:
		return "less than 0.1 %"
	case x < 1 && x > 0.999:
		return "more than 99.9 %"
	}
	return units.Format(float64(int(x*1000+0.5))/10) + " %"
}
