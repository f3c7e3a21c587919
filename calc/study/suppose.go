package study

import (
	"context"

	"railsum/calc/check"
	"railsum/calc/run"
)

// Supposed is what became of the shown values and of the rules with some inputs
// changed: columns beside the present ones.
type Supposed struct {
	Show  []run.Col
	Rules []*check.Def
	Then  []run.Col // of the rules
}

// Suppose computes the shown values and every rule that depends on the changed
// inputs, once.
func (l *Lab) Suppose(ctx context.Context, s *check.Study) (*Supposed, *Problem, error) {
	st := run.Study{Rows: 1}
	out := &Supposed{}
	for _, a := range s.Axes {
		v, ok := l.value(a.Value)
		if !ok {
			return nil, l.unfit(a.Value), nil
		}
		st.Replace(a.X, func(_ int, dst []float64) { dst[0] = v })
	}
	out.Rules = l.rulesMoved(inputs(s)...)
	st.Want = append(append([]*check.Def(nil), s.Show...), out.Rules...)
	err := l.M.Study(ctx, st, func(_, _ int, cols []*run.Col) error {
		for i, c := range cols {
			kept := c.Copy()
			if i < len(s.Show) {
				out.Show = append(out.Show, kept)
			} else {
				out.Then = append(out.Then, kept)
			}
		}
		return nil
	})
	return out, nil, err
}

// inputs are what a study changes.
func inputs(s *check.Study) []*check.Def {
	var xs []*check.Def
	for _, a := range s.Axes {
		xs = append(xs, a.X)
	}
	return xs
}
