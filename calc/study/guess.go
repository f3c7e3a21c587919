package study

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
)

// Guess works out what is asked, with what is put in for it.
func (a *Asking) Guess(node *syntax.Guess) { a.err = a.guess(a.ctx, a.s, node, &a.kept) }

func (l *Lab) guess(ctx context.Context, s *check.Study, node *syntax.Guess, kept *studied) error {
	d := s.Show[0]
	out := &answer.Guess{Of: answer.Expr{Expr: node.Show.Expr}, Question: d.Src.Note, Answer: l.Value(d),
		Sets: spelled(node.Sets)}
	if len(s.Axes) > 0 {
		put, ok := l.over(kept, s.Axes)
		if !ok {
			return nil
		}
		st := run.Study{Rows: 1}
		put.replace(&st)
		st.Want = s.Show
		err := l.M.Study(ctx, st, func(_, _ int, cols []*run.Col) error {
			out.Answer = l.ValueOf(d, cols[0])
			return nil
		})
		if err != nil {
			return err
		}
	}
	if !out.Answer.Sound() {
		if len(s.Axes) == 0 {
			kept.diags = append(kept.diags, l.noAnswer(node.Show.Expr.Pos(), d))
		} else {
			l.problem(kept, &Problem{Part: d, Wrong: unanswered(out.Answer)})
		}
	}
	kept.answer = out
	return nil
}
