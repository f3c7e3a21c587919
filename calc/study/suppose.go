package study

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/view"
)

// Suppose sets other values beside the present ones.
func (a *Asking) Suppose(node *syntax.Suppose) { a.err = a.suppose(a.ctx, a.s, node, &a.kept) }

// suppose computes the shown values and every rule that depends on the changed
// inputs once more, and sets them beside the present ones.
func (l *Lab) suppose(ctx context.Context, s *check.Study, node *syntax.Suppose, kept *studied) error {
	st, ok := l.put(s, kept)
	if !ok {
		return nil
	}
	rules := l.rulesMoved(inputs(s)...)
	st.Want = append(append([]*check.Def(nil), s.Show...), rules...)
	var then []run.Col
	err := l.M.Study(ctx, st, func(_, _ int, cols []*run.Col) error {
		for _, c := range cols {
			then = append(then, c.Copy())
		}
		return nil
	})
	if err != nil {
		return err
	}
	out := &answer.Supposed{Sets: spelled(node.Sets), Lines: []answer.Beside{}, Turns: []answer.Turn{}}
	for i, d := range s.Show {
		line := answer.Beside{Name: syntax.PrintExpr(node.Show[i].Expr), Now: l.Value(d), Then: l.ValueOf(d, &then[i])}
		if d.Quantity() && line.Now.Sound() && line.Then.Sound() {
			was, is := line.Now.Numbers[0], line.Then.Numbers[0]
			line.Change, line.Percent = l.difference(d, is-was), inPercent(d, is-was, was)
		}
		out.Lines = append(out.Lines, line)
	}
	for i, rule := range rules {
		if was, now := l.RuleVerdict(rule), view.VerdictAt(rule, &then[len(s.Show)+i], 0); was != now {
			out.Turns = append(out.Turns, answer.Turn{Name: view.PlaceName(rule), Cond: answer.Expr{Expr: rule.Expr}, Line: rule.Line, Was: was, Now: now})
		}
	}
	kept.answer = out
	l.anew(s, s.Show, kept)
	return nil
}

// put makes a study of one row that puts other values in. It reports false if
// there can be no answer.
func (l *Lab) put(s *check.Study, kept *studied) (run.Study, bool) {
	st := run.Study{Rows: 1}
	for _, a := range s.Axes {
		x, ok := l.value(a.Value)
		if !ok {
			l.problem(kept, l.unfit(a.Value))
			return st, false
		}
		if !l.fits(kept, a, a.Value, x) {
			return st, false
		}
		st.Replace(a.X, func(_ int, dst []float64) { dst[0] = x })
	}
	return st, true
}

// spelled are what is put in, as written.
func spelled(sets []syntax.Supposed) []string {
	var all []string
	for _, x := range sets {
		all = append(all, x.X.String()+" = "+syntax.PrintExpr(x.Expr))
	}
	return all
}

// inputs are what a study changes.
func inputs(s *check.Study) []*check.Def {
	var xs []*check.Def
	for _, a := range s.Axes {
		xs = append(xs, a.X)
	}
	return xs
}
