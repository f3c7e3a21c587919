package study

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sort"

	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/types"
	"railsum/units"
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
	ByMuch   float64 // how far it would have to move, as a share of what it is; of 100 K if it is a temperature
	Tolerant bool    // within its own tolerance
}

// mostTried is how many inputs are tried as an explanation.
const mostTried = 40

// Measure compares a value with what was measured, within the meter's own
// tolerance, and looks for the single inputs that would explain the difference.
func (l *Lab) Measure(ctx context.Context, x *check.Def, meter, tolerance float64) (*Measured, *Problem, error) {
	s, problem, err := l.within(0, spreading).Spread(ctx, x)
	if err != nil || s == nil {
		return nil, problem, err
	}
	out := &Measured{Sum: s.Nominal, Meter: meter, Spread: s}
	out.Inside = meter+tolerance >= s.Lowest*(1-1e-12) && meter-tolerance <= s.Highest*(1+1e-12)
	if meter == s.Nominal {
		return out, nil, nil
	}
	tried := suspects(x)
	for i, in := range tried {
		l.tell(spreading + (1-spreading)*float64(i)/float64(len(tried)))
		to, ok, err := l.solve(ctx, in, x, meter)
		if err != nil {
			return nil, nil, err
		}
		now, _ := l.value(in)
		if !ok || counts(in, now) && !whole(to) {
			continue
		}
		e := Explanation{Input: in, Now: now, Wanted: to, ByMuch: math.Abs(to - now)}
		switch {
		case in.Type.Kind == types.Point:
			e.ByMuch /= 100
		case now != 0:
			e.ByMuch = math.Abs(to/now - 1)
		}
		tol := in.Tol
		if in.TolShare {
			tol *= math.Abs(now)
		}
		e.Tolerant = math.Abs(to-now) <= tol
		out.Explains = append(out.Explains, e)
	}
	sort.SliceStable(out.Explains, func(i, j int) bool {
		a, b := out.Explains[i], out.Explains[j]
		if x, y := a.rank(), b.rank(); x != y {
			return x < y
		}
		return run.Less(a.ByMuch, b.ByMuch)
	})
	return out, nil, nil
}

// spreading is the share of the work on a measured value that its spread is.
const spreading = 0.5

// suspects are the inputs to try: those with a tolerance first, then those that
// nobody has looked up, then the others.
func suspects(x *check.Def) []*check.Def {
	all := slices.DeleteFunc(check.Inputs(x), func(in *check.Def) bool {
		return in == x || in.Node == nil || in.Type.Of != nil || !in.Quantity()
	})
	slices.SortStableFunc(all, func(a, b *check.Def) int { return cmp.Compare(doubt(a, a.Tol > 0), doubt(b, b.Tol > 0)) })
	return all[:min(len(all), mostTried)]
}

// doubt ranks an input: 0 if its tolerance tells, 1 if it is but assumed or the
// sheet's own default, else 2.
func doubt(in *check.Def, tolerant bool) int {
	switch {
	case tolerant:
		return 0
	case in.Assumed || in.Default:
		return 1
	}
	return 2
}

// rank puts the inputs first that may well be other than they are taken to be:
// those that explain it within their tolerance, then those that have one and
// those that nobody has settled.
func (e Explanation) rank() int {
	if !e.Tolerant && e.Input.Tol > 0 {
		return 1
	}
	return doubt(e.Input, e.Tolerant)
}

// counts reports whether an input counts things: a plain whole number without a
// tolerance. A share of one more explains nothing.
func counts(in *check.Def, now float64) bool {
	return in.Type.Kind == types.Number && in.Type.Dim == (units.Dim{}) && in.Show.IsZero() && in.Tol == 0 && now == math.Trunc(now)
}

func whole(x float64) bool { return run.Equal(x, math.Round(x)) }

// solve finds the value of an input, the nearest to its present one, that makes
// x what is wanted.
func (l *Lab) solve(ctx context.Context, in, x *check.Def, wanted float64) (float64, bool, error) {
	f := &finder{lab: l, ctx: ctx, x: in, sides: []*check.Def{x}, op: check.Eq, found: &Found{}}
	f.fixed = &wanted
	points, err := f.survey(f.grid(check.Axis{X: in}))
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
