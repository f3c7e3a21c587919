package study

import (
	"context"
	"math"
	"sort"

	"railsum/calc/check"
	"railsum/calc/run"
)

// Measured is the meter beside the sum.
type Measured struct {
	Sum      float64
	Meter    float64
	Inside   bool    // the meter lies within the worst case of the sum, its own tolerance counted
	Spread   *Spread // of the sum; of no width if nothing has a tolerance
	Explains []Explanation
}

// Explanation is an input that, changed alone, would make the sum what the
// meter says.
type Explanation struct {
	Input    *check.Def
	Now      float64
	Wanted   float64
	ByMuch   float64 // how far it would have to move, as a share of what it is; by its tolerance if it is a temperature
	Tolerant bool    // within its own tolerance
}

// mostTried is how many inputs are tried as an explanation.
const mostTried = 40

// Measure compares a value with what was measured, within the meter's own
// tolerance, and looks for the single inputs that would explain the difference.
func (l *Lab) Measure(ctx context.Context, x *check.Def, meter, tolerance float64) (*Measured, error) {
	s, err := l.Spread(ctx, x)
	if err != nil || s == nil {
		return nil, err
	}
	out := &Measured{Sum: s.Nominal, Meter: meter, Spread: s}
	out.Inside = meter+tolerance >= s.Lowest*(1-1e-12) && meter-tolerance <= s.Highest*(1+1e-12)
	if meter == s.Nominal {
		return out, nil
	}
	inputs := check.Inputs(x)
	if len(inputs) > mostTried {
		inputs = inputs[:mostTried]
	}
	for _, in := range inputs {
		if in == x || in.Node == nil || in.Type.Of != nil || !in.Quantity() {
			continue
		}
		to, ok, err := l.solve(ctx, in, x, meter)
		if err != nil {
			return nil, err
		}
		if !ok {
			continue
		}
		now, _ := l.value(in)
		e := Explanation{Input: in, Now: now, Wanted: to, ByMuch: math.Abs(to - now)}
		if now != 0 {
			e.ByMuch = math.Abs(to/now - 1)
		}
		tol := in.Tol
		if in.TolShare {
			tol *= math.Abs(now)
		}
		e.Tolerant = math.Abs(to-now) <= tol
		out.Explains = append(out.Explains, e)
	}
	sort.SliceStable(out.Explains, func(i, j int) bool { return run.Less(out.Explains[i].ByMuch, out.Explains[j].ByMuch) })
	return out, nil
}

// solve finds the value of an input, the nearest to its present one, that makes
// x what is wanted.
func (l *Lab) solve(ctx context.Context, in, x *check.Def, wanted float64) (float64, bool, error) {
	f := &finder{lab: l, ctx: ctx, x: in, sides: []*check.Def{x}, op: check.Eq, found: &Found{}}
	f.fixed = &wanted
	points, err := f.look(f.grid(check.Axis{X: in}))
	if err == nil {
		points, err = f.sharpen(points)
	}
	if err != nil {
		return 0, false, err
	}
	if err := f.roots(points); err != nil {
		return 0, false, err
	}
	now, _ := l.value(in)
	best, ok := 0.0, false
	for _, s := range f.found.Spans {
		if s.Jump || s.From != s.To {
			continue
		}
		if !ok || math.Abs(s.From-now) < math.Abs(best-now) {
			best, ok = s.From, true
		}
	}
	return best, ok, nil
}
