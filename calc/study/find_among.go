package study

import (
	"cmp"
	"context"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/view"
)

// among takes the first value of a list that makes all comparisons true. A list
// that was typed is looked through in its order; a column too, but for one that
// falls from row to row, which is looked through from its smallest value.
func (l *Lab) among(ctx context.Context, s *check.Study, f *answer.Found) (*Problem, error) {
	axis := s.Axes[0]
	xs, problem := l.list(axis)
	if problem != nil {
		return problem, nil
	}
	hold, err := l.holds(ctx, s, xs)
	if err != nil {
		return nil, err
	}
	f.Tried, f.Order = len(xs), answer.AsGiven
	of := axis.Among[0].Type.Of
	switch up, down := rises(xs); {
	case len(xs) < 2:
	case up:
		f.Order = answer.Rising
	case down && of != nil:
		f.Order = answer.FromSmallest
	case down:
		f.Order = answer.Falling
	}
	order := make([]int, len(xs))
	for i := range order {
		if order[i] = i; f.Order == answer.FromSmallest {
			order[i] = len(xs) - 1 - i
		}
	}
	for _, i := range order {
		if !hold[i] {
			continue
		}
		if f.Fit++; f.Chosen != nil {
			continue
		}
		f.Holds, f.Chosen = true, l.like(axis.X, xs[i], s.As)
		if of != nil && i < len(of.Labels) {
			f.Label = of.Labels[i]
		}
	}
	if f.Chosen != nil {
		f.Places = []answer.Place{{From: f.Chosen, To: f.Chosen}}
		if axis.X.Role != check.Cell {
			v := f.Chosen
			f.Take = takenLine(axis, withUnit(view.Spelled(v.Unit.FromSI(v.Numbers[0]), 12), v.Unit))
		}
		return nil, nil
	}
	for i, so := range s.So {
		look := l.finder(ctx, axis.X, so)
		points, err := look.look(xs)
		if err != nil {
			return nil, err
		}
		a := answer.Apart{Cond: answer.Expr{Expr: so.Expr}, Places: []answer.Place{}}
		for _, p := range points {
			if look.holds(p) {
				a.Fit++
			}
		}
		if a.Holds = a.Fit > 0; !a.Holds {
			a.Near = l.near(s, &outcome{Near: nearestOf(points)}, i)
		}
		if len(s.So) == 1 {
			f.Near = a.Near
		} else {
			f.Apart = append(f.Apart, a)
		}
	}
	return nil, nil
}

// rises reports whether values grow from one to the next, and whether they fall.
func rises(xs []float64) (up, down bool) {
	return slices.IsSorted(xs), slices.IsSortedFunc(xs, func(a, b float64) int { return cmp.Compare(b, a) })
}
