package study

import (
	"cmp"
	"context"
	"math"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// suspect is an input that, changed alone, would make the sum what the meter
// says.
type suspect struct {
	answer.Suspect
	input  *check.Def
	byMuch float64 // how far it would have to move, as a share of what it is; of 100 K if it is a temperature
}

// mostTried is how many inputs are tried as an explanation.
const mostTried = 40

// Measured sets the meter beside the sum.
func (a *Asking) Measured(node *syntax.Measured) { a.err = a.measure(a.ctx, a.s, node, &a.kept) }

// measure compares a value with what was measured, within the meter's own
// tolerance, and looks for the single inputs that would explain the difference.
func (l *Lab) measure(ctx context.Context, s *check.Study, node *syntax.Measured, kept *studied) error {
	v := s.Axes[0].Value
	meter := l.Value(v)
	if meter == nil || !meter.Sound() {
		kept.diags = append(kept.diags, l.noAnswer(node.Expr.Pos(), v))
		return nil
	}
	sum, p, err := l.within(0, spreading).estimate(ctx, s.X)
	switch {
	case err != nil:
		return err
	case p != nil:
		kept.diags = append(kept.diags, problem(node.X.Pos(), p.Wrong))
		return nil
	case sum == nil:
		kept.diags = append(kept.diags, l.noAnswer(node.X.Pos(), s.X))
		return nil
	}
	var on *answer.Value
	if s.On != nil {
		if on = l.Value(s.On); on == nil || !on.Sound() {
			kept.diags = append(kept.diags, l.noAnswer(node.On.Pos(), s.On))
			return nil
		}
	}
	at := meter.Numbers[0]
	tol := reach(v, at)
	out := &answer.Measured{
		Name: node.X.String(), Sum: l.Value(s.X), Meter: meter, Suspects: []answer.Suspect{}, Exact: len(sum.Parts) == 0,
		On:         on,
		Difference: l.difference(s.X, at-sum.Nominal), Percent: inPercent(s.X, at-sum.Nominal, sum.Nominal),
		Inside: at+tol >= sum.Lowest*(1-1e-12) && at-tol <= sum.Highest*(1+1e-12),
		Low:    l.like(s.X, sum.Lowest, nil), High: l.like(s.X, sum.Highest, nil),
	}
	if at != sum.Nominal {
		all, err := l.suspected(ctx, s.X, at)
		if err != nil {
			return err
		}
		for _, e := range all {
			out.Suspects = append(out.Suspects, e.Suspect)
		}
	}
	kept.answer = out
	return nil
}

// reach is how far a Def's tolerance goes either way from a value.
func reach(d *check.Def, at float64) float64 {
	if d.TolShare {
		return d.Tol * math.Abs(at)
	}
	return d.Tol
}

// suspected finds the inputs that alone would make x what is wanted, what is
// least sure first.
func (l *Lab) suspected(ctx context.Context, x *check.Def, wanted float64) ([]suspect, error) {
	var all []suspect
	tried := suspects(x)
	for i, in := range tried {
		l.tell(spreading + (1-spreading)*float64(i)/float64(len(tried)))
		to, ok, err := l.solve(ctx, in, x, wanted)
		if err != nil {
			return nil, err
		}
		now, _ := l.value(in)
		name := in.Name
		if in.Role == check.Cell {
			name = l.CellName(in)
		}
		if !ok || counts(in, now) && !whole(to) || name == "" || in.At != nil && in.At.Parent != nil {
			continue
		}
		e := suspect{input: in, byMuch: math.Abs(to - now),
			Suspect: answer.Suspect{Name: name, Now: l.Value(in), Wanted: l.like(in, to, nil),
				Tolerant: math.Abs(to-now) <= reach(in, now), State: l.StateOf(in)}}
		switch {
		case in.Type.Kind == types.Point:
			e.byMuch /= 100
		case now != 0:
			e.byMuch = math.Abs(to/now - 1)
		}
		all = append(all, e)
	}
	slices.SortStableFunc(all, func(a, b suspect) int {
		switch x, y := a.rank(), b.rank(); {
		case x != y:
			return cmp.Compare(x, y)
		case run.Less(a.byMuch, b.byMuch):
			return -1
		case run.Less(b.byMuch, a.byMuch):
			return 1
		}
		return 0
	})
	return all, nil
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
func (e *suspect) rank() int {
	if !e.Tolerant && e.input.Tol > 0 {
		return 1
	}
	return doubt(e.input, e.Tolerant)
}

// counts reports whether an input counts things: a plain whole number without a
// tolerance. A share of one more explains nothing.
func counts(in *check.Def, now float64) bool {
	return in.Type.Kind == types.Number && in.Type.Dim == (units.Dim{}) && in.Show.IsZero() && in.Tol == 0 &&
		now == math.Trunc(now)
}

func whole(x float64) bool { return run.Equal(x, math.Round(x)) }

// solve finds the value of an input, the nearest to its present one, that makes
// x what is wanted.
func (l *Lab) solve(ctx context.Context, in, x *check.Def, wanted float64) (float64, bool, error) {
	f := &finder{lab: l, ctx: ctx, x: in, sides: []*check.Def{x}, op: check.Eq, found: &outcome{}, most: mostFound}
	f.fixed = &wanted
	points, err := f.survey(f.grid(check.Axis{X: in}, true))
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
