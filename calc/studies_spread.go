package calc

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/units"
	"railsum/units/words"
)

// Spread says how sure answers are.
func (a *asking) Spread(node *syntax.Spread) { a.err = a.spread(a.ctx, a.s, node, a.kept) }

func (b *Book) spread(ctx context.Context, s *check.Study, node *syntax.Spread, kept *studied) error {
	var all answer.Spreads
	for i, d := range s.Show {
		at := node.Show[i].Expr.Pos()
		switch {
		case d.Type.Of != nil:
			kept.diags = append(kept.diags, problem(at,
				words.Say("this has a value for each of %s, and a spread is of one", d.Type.Of.Name).
					With("gather it with sum, mean, least or most")))
			continue
		case !d.Quantity():
			kept.diags = append(kept.diags, problem(at, words.Say("only quantities have a spread; this is %s", d.Type.Words())))
			continue
		}
		lab := b.Lab()
		if n := float64(len(s.Show)); lab.Progress != nil {
			lab.Progress = func(share float64) { b.progress((float64(i) + share) / n) }
		}
		got, p, err := lab.Spread(ctx, d)
		if err != nil {
			return err
		}
		if p != nil {
			kept.diags = append(kept.diags, problem(at, p.Wrong))
			continue
		}
		out := &answer.Spread{Name: syntax.PrintExpr(node.Show[i].Expr), Nominal: b.value(d), Samples: study.Samples, Distribution: answer.Distribution,
			Parts: []answer.Part{}, Rules: []answer.RuleShare{}}
		if got == nil {
			why := b.noAnswer(at, d)
			out.Why = why.Message
			kept.diags = append(kept.diags, why)
			all = append(all, out)
			continue
		}
		b.spreading(d, got, out)
		for _, part := range b.checked.Uncounted(d) {
			kept.diags = append(kept.diags, syntax.Diag{At: at, Notice: true, Wrong: words.Say("the tolerance of %s does not count within a formula", syntax.PrintExpr(part)).
				With("give the part a line of its own")})
		}
		all = append(all, out)
	}
	if len(all) > 0 {
		kept.answer = all
	}
	return nil
}

func (b *Book) spreading(d *check.Def, got *study.Spread, out *answer.Spread) {
	x := func(v float64) *answer.Value {
		w := b.like(d, v, nil)
		w.Unit = out.Nominal.Unit
		return w
	}
	out.Lowest, out.Highest = x(got.Lowest), x(got.Highest)
	out.Low95, out.High95 = x(got.Low95), x(got.High95)
	out.RSS = b.difference(d, got.RSS)
	out.Failed, out.MoreRules = got.Failed, got.MoreRules
	out.Exact = len(got.Parts) == 0
	for _, p := range got.Parts {
		out.Parts = append(out.Parts, answer.Part{
			Name: b.sourceName(p.Source), Tol: tolerance(p.Source.Def), Moves: b.difference(d, p.Moves), Share: p.Share,
		})
	}
	for _, r := range got.Rules {
		out.Rules = append(out.Rules, answer.RuleShare{Name: placeName(r.Rule), Cond: answer.Expr{Expr: r.Rule.Expr}, Must: answer.Must(r.Rule.Must), Holds: r.Holds})
	}
}

// sourceName names a tolerance's own place: a line's name, or a table's row and
// column.
func (b *Book) sourceName(s study.Source) string {
	if s.Def.Role == check.Cell {
		if name := b.cellName(s.Def); name != "" {
			return name
		}
	}
	if of := s.Def.Type.Of; of != nil && s.Row < len(of.Labels) {
		return s.Def.Name + ": " + of.Labels[s.Row]
	}
	if s.Def.Name == "" {
		return "line " + units.Format(float64(s.Def.Line+1))
	}
	return s.Def.Name
}

// cellName finds a cell's address: fleet."dock shunter".draw.
func (b *Book) cellName(cell *check.Def) string {
	if cell.Line < 0 || cell.Line >= len(b.checked.Tabs) || b.checked.Tabs[cell.Line] == nil {
		return ""
	}
	t := b.checked.Tabs[cell.Line]
	for _, head := range t.Order {
		for r, c := range t.Columns[head].Cells {
			if c == cell {
				n := syntax.Name{Parts: []syntax.Part{{Text: t.Table.Name}, {Text: t.Table.Labels[r], Quoted: true}, {Text: head}}}
				return n.String()
			}
		}
	}
	return ""
}
