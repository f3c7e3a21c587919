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
	put, ok := l.over(kept, s.Axes)
	if !ok {
		return nil
	}
	st := run.Study{Rows: 1}
	put.replace(&st)
	shown, all := s.Show, node.Show == nil
	if all {
		shown = l.moved(put)
	}
	rules := l.rulesMoved(put.of...)
	st.Want = append(append([]*check.Def(nil), shown...), rules...)
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
	for i, d := range shown {
		line := answer.Beside{Name: d.Name, Now: l.Value(d), Then: l.ValueOf(d, &then[i])}
		switch {
		case !all:
			line.Name = syntax.PrintExpr(node.Show[i].Expr)
		case alike(l.M.Col(d), &then[i]):
			continue
		case len(out.Lines) == mostMoved:
			out.More++
			continue
		}
		if d.Quantity() && line.Now.Sound() && line.Then.Sound() {
			was, is := line.Now.Numbers[0], line.Then.Numbers[0]
			line.Change, line.Percent = l.difference(d, is-was), inPercent(d, is-was, was)
		}
		out.Lines = append(out.Lines, line)
	}
	for i, rule := range rules {
		if was, now := l.RuleVerdict(rule), view.VerdictAt(rule, &then[len(shown)+i], 0); was != now {
			out.Turns = append(out.Turns, answer.Turn{Name: view.PlaceName(rule), Cond: answer.Expr{Expr: rule.Expr},
				Line: rule.Line, Was: was, Now: now})
		}
	}
	kept.answer = out
	l.anew(s, s.Show, kept)
	return nil
}

// mostMoved is how many answers are told that would be another, where nobody has
// said which to show.
const mostMoved = 20

// alike reports whether two columns say the same.
func alike(x, y *run.Col) bool {
	if len(x.V) != len(y.V) {
		return false
	}
	for i := range x.V {
		v, m := x.At(i, 0)
		w, n := y.At(i, 0)
		if m.Fault() != n.Fault() || (m == 0) != (n == 0) || m == 0 && !run.Equal(v, w) {
			return false
		}
	}
	return true
}

// inputs are what a study changes.
func inputs(s *check.Study) []*check.Def {
	var xs []*check.Def
	for _, a := range s.Axes {
		xs = append(xs, a.X)
	}
	return xs
}
