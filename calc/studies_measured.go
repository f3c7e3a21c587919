package calc

import (
	"context"
	"math"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
)

// Measured sets the meter beside the sum.
func (a *asking) Measured(node *syntax.Measured) { a.err = a.measure(a.ctx, a.s, node, a.kept) }

func (b *Book) measure(ctx context.Context, s *check.Study, node *syntax.Measured, kept *studied) error {
	v := s.Axes[0].Value
	meter := b.value(v)
	if meter == nil || !meter.Sound() {
		kept.diags = append(kept.diags, b.noAnswer(node.Expr.Pos(), v))
		return nil
	}
	at := meter.Numbers[0]
	tol := v.Tol
	if v.TolShare {
		tol *= math.Abs(at)
	}
	got, p, err := b.Lab().Measure(ctx, s.X, at, tol)
	if err != nil {
		return err
	}
	if p != nil {
		kept.diags = append(kept.diags, problem(node.X.Pos(), p.Wrong))
		return nil
	}
	if got == nil {
		kept.diags = append(kept.diags, b.noAnswer(node.X.Pos(), s.X))
		return nil
	}
	out := &answer.Measured{Suspects: []answer.Suspect{}, Name: node.X.String(), Sum: b.value(s.X), Meter: meter, Inside: got.Inside,
		Difference: b.difference(s.X, at-got.Sum), Percent: inPercent(s.X, at-got.Sum, got.Sum), Exact: len(got.Spread.Parts) == 0}
	out.Low, out.High = b.like(s.X, got.Spread.Lowest, nil), b.like(s.X, got.Spread.Highest, nil)
	for _, e := range got.Explains {
		name := e.Input.Name
		if e.Input.Role == check.Cell {
			name = b.cellName(e.Input)
		}
		if name == "" || e.Input.At != nil && e.Input.At.Parent != nil {
			continue
		}
		out.Suspects = append(out.Suspects, answer.Suspect{Name: name, Now: b.value(e.Input), Wanted: b.like(e.Input, e.Wanted, nil),
			Tolerant: e.Tolerant, State: stateOf(e.Input)})
	}
	kept.answer = out
	return nil
}
