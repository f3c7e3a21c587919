package calc

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/study"
	"railsum/calc/syntax"
)

// Find looks for the value of an input.
func (a *asking) Find(node *syntax.Find) { a.err = a.find(a.ctx, a.s, node, a.kept) }

func (b *Book) find(ctx context.Context, s *check.Study, node *syntax.Find, kept *studied) error {
	axis := s.Axes[0]
	found, p, err := b.Lab().Find(ctx, s)
	if p != nil {
		b.problem(kept, p)
	}
	if err != nil || p != nil {
		return err
	}
	f := &answer.Found{Name: node.X.String(), Cond: answer.Expr{Expr: node.So}, Places: []answer.Place{}, Grown: found.Grown,
		More: found.More, Holds: len(found.Spans) > 0 || found.All, All: found.All, Current: b.value(axis.X)}
	x := func(v float64) *answer.Value { return b.like(axis.X, v, node.As) }
	side := func(n study.Near) []*answer.Value {
		return []*answer.Value{b.like(s.Show[0], n.Left, nil), b.like(s.Show[1], n.Right, nil)}
	}
	if axis.Among == nil {
		f.Looked = []*answer.Value{x(found.From), x(found.To)}
	}
	for _, sp := range found.Spans {
		st := answer.Place{From: x(sp.From), To: x(sp.To), ToStart: sp.AtFrom, ToEnd: sp.AtTo, Touches: sp.Touches, Jump: sp.Jump, FromOut: sp.OutFrom, ToOut: sp.OutTo}
		if sp.Jump {
			st.Before, st.Behind = side(sp.Before), side(sp.Behind)
		}
		f.Places = append(f.Places, st)
	}
	for _, p := range found.Poles {
		f.Poles = append(f.Poles, x(p))
	}
	if found.Near != nil {
		two := side(*found.Near)
		f.Near = &answer.Near{X: x(found.Near.X), Left: two[0], Right: two[1]}
	}
	if axis.Among != nil {
		for _, d := range axis.Among {
			if col := b.machine.Col(d); col != nil {
				f.Tried += len(col.V)
			}
		}
		if found.Chosen >= 0 {
			f.Chosen = x(found.Spans[0].From)
			if of := axis.Among[0].Type.Of; of != nil && found.Chosen < len(of.Labels) {
				f.Label = of.Labels[found.Chosen]
			}
		}
	}
	kept.answer = f
	if f.Take, err = b.takeOver(ctx, s, found, f); err != nil {
		return err
	}
	return b.ends(ctx, s, f)
}
