package show

import (
	"math"

	"railsum/calc/answer"
	"railsum/units"
)

// level is a limit that a rule sets to a shown value.
type level struct {
	si   float64
	must answer.Must
	cond answer.Expr
}

// limitsOf are the limits of the rules that a series appears in, each once.
func (p *Printer) limitsOf(v *answer.Varied, series ...*answer.Series) []level {
	var all []level
	for _, l := range v.Limits {
		for _, s := range series {
			if l.Shown < len(v.Shown) && &v.Shown[l.Shown] == s && l.At != nil && len(l.At.Numbers) == 1 {
				all = appendNew(all, level{l.At.Numbers[0], l.Must, l.Cond})
			}
		}
	}
	return all
}

func appendNew(all []level, l level) []level {
	for _, old := range all {
		if old == l {
			return all
		}
	}
	return append(all, l)
}

// limitText names a limit: "750 mV, the limit of should north.lost <= allowed".
func (p *Printer) limitText(l *level, u units.Unit) string {
	return p.Number(l.si, suiting(l.si, u)) + ", the limit of " + ruleOf("", l.cond, l.must)
}

// suiting is a unit that a limit reads well in, which need not be that of the
// values shown.
func suiting(si float64, u units.Unit) units.Unit {
	if x := math.Abs(u.FromSI(si)); u.IsZero() || u.Percent() || u.Point() || x >= 1 && x < 1000 {
		return u
	}
	return units.Choose(u.Dim(), []float64{si}, nil)
}

// courses writes a sentence for each shown value in place of a chart: the
// lowest and the highest, and where it passes a limit.
func (p *Printer) courses(g grid) {
	for i := range g.v.Shown {
		if s := &g.v.Shown[i]; s.Value.Quantity() {
			p.course(g, s)
		}
	}
}

func (p *Printer) course(g grid, s *answer.Series) {
	lo, hi := extremes(s)
	if lo < 0 {
		return // that it has no answers has been said
	}
	if s.Value.Numbers[lo] == s.Value.Numbers[hi] {
		p.say(Safe(s.Name()) + " stays " + p.point(s, lo))
	} else {
		p.say(Safe(s.Name()) + ": lowest " + p.point(s, lo) + " at " + p.where(g, lo) + ", highest " + p.point(s, hi) +
			" at " + p.where(g, hi))
	}
	for _, l := range p.limitsOf(g.v, s) {
		p.say(p.passes(g, s, &l))
	}
}

// extremes are the rows of the lowest and the highest value, -1 if there is no
// value.
func extremes(s *answer.Series) (lo, hi int) {
	lo, hi = -1, -1
	for r, x := range s.Value.Numbers {
		if s.Value.Fault(r) != "" || math.IsNaN(x) {
			continue
		}
		if lo < 0 || x < s.Value.Numbers[lo] {
			lo = r
		}
		if hi < 0 || x > s.Value.Numbers[hi] {
			hi = r
		}
	}
	return lo, hi
}

// where is the place of a row of the sweep on its axes.
func (p *Printer) where(g grid, row int) string {
	text := Safe(g.main.Name()) + " = " + p.Cell(g.main.Value, row)
	if g.two() {
		text += " and " + Safe(g.other.Name()) + " = " + p.Cell(g.other.Value, row)
	}
	return text
}

// passes says where a series passes a limit, or that it does not.
func (p *Printer) passes(g grid, s *answer.Series, l *level) string {
	name, limit := Safe(s.Name()), p.limitText(l, s.Value.Unit)
	if !g.two() {
		for r := 1; r < g.main.n; r++ {
			if crosses(s, l, r-1, r) {
				return name + " passes " + limit + ", between " + p.Cell(g.main.Value, r-1) + " and " + p.Cell(g.main.Value, r)
			}
		}
	}
	lo, hi := extremes(s)
	switch {
	case s.Value.Numbers[hi] <= l.si:
		return name + " stays at or below " + limit
	case s.Value.Numbers[lo] >= l.si:
		return name + " stays at or above " + limit
	}
	return name + " lies on both sides of " + limit
}
