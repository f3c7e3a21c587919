package calc

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
)

// Suppose sets what would be beside what is.
func (a *asking) Suppose(node *syntax.Suppose) { a.err = a.suppose(a.ctx, a.s, node, a.kept) }

func (b *Book) suppose(ctx context.Context, s *check.Study, node *syntax.Suppose, kept *studied) error {
	got, p, err := b.Lab().Suppose(ctx, s)
	if p != nil {
		b.problem(kept, p)
	}
	if err != nil || p != nil {
		return err
	}
	for _, a := range s.Axes {
		if x := b.machine.Col(a.Value).V[0]; !b.fits(kept, a.X, a.Value, x) {
			return nil
		}
	}
	out := &answer.Supposed{Lines: []answer.Beside{}, Turns: []answer.Turn{}}
	for _, x := range node.Sets {
		out.Sets = append(out.Sets, x.X.String()+" = "+syntax.PrintExpr(x.Expr))
	}
	for i, d := range s.Show {
		l := answer.Beside{Name: syntax.PrintExpr(node.Show[i].Expr), Now: b.value(d), Then: b.valueOf(d, &got.Show[i])}
		if d.Quantity() && l.Now.Sound() && l.Then.Sound() {
			was, is := l.Now.Numbers[0], l.Then.Numbers[0]
			l.Change = b.difference(d, is-was)
			l.Percent = inPercent(d, is-was, was)
		}
		out.Lines = append(out.Lines, l)
	}
	for i, rule := range got.Rules {
		was, now := b.ruleVerdict(rule), verdict(rule, &got.Then[i], 0)
		if was != now {
			out.Turns = append(out.Turns, answer.Turn{Name: placeName(rule), Cond: answer.Expr{Expr: rule.Expr}, Line: rule.Line, Was: was, Now: now})
		}
	}
	kept.answer = out
	return nil
}
