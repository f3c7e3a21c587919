package calc

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Vary lets inputs change.
func (a *asking) Vary(node *syntax.Vary) { a.err = a.vary(a.ctx, a.s, node, a.kept) }

func (b *Book) vary(ctx context.Context, s *check.Study, node *syntax.Vary, kept *studied) error {
	sweep, p := b.Lab().Sweep(s)
	if p != nil {
		b.problem(kept, p)
		return nil
	}
	for i, a := range s.Axes {
		if !b.axisFits(kept, a, sweep.Axes[i]) {
			return nil
		}
	}
	out := &answer.Varied{Rows: sweep.Rows}
	series := 0
	for _, d := range sweep.Show {
		series += rowsOf(d)
	}
	if min(sweep.Rows, fewestKept)*series > keptNumbers {
		kept.diags = append(kept.diags, tooMuch(sweep, node))
		out.TooMuch = true
		sweep = sweep.ShowOnly().Thinned(len(s.Axes) * 2)
	}
	sweep = sweep.Thinned(min(keptRows, max(fewestKept, keptNumbers/max(series, 1))))
	out.Every = sweep.Every
	rows := sweep.Rows
	for i, a := range s.Axes {
		v := &answer.Value{Type: a.X.Type.Scalar(), Numbers: make([]float64, rows)}
		for r := range rows {
			v.Numbers[r] = sweep.Axis(i, r)
		}
		v.Unit = b.axisUnit(a, v)
		out.Axes = append(out.Axes, answer.Series{Expr: a.Name.String(), Value: v, Of: i, Points: sweep.Axes[i].N})
	}
	b.series(sweep, node.Show, rows, out)
	var turned turns
	for _, part := range sweep.Parts() {
		last := make([]answer.Verdict, len(part.Rules))
		err := part.Run(ctx, func(first, n int, cols []*run.Col) error {
			for k := range out.Shown {
				if len(part.Show) > 0 { // it is the first of them
					b.keep(&out.Shown[k], cols, first, n)
				}
			}
			if len(sweep.Axes) == 1 {
				for j, rule := range part.Rules {
					turned.follow(rule, cols[len(part.Show)+j], first, n, &last[j])
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	out.Turns, out.MoreTurns = turned.told()
	for i, d := range sweep.Show {
		b.seriesUnit(d, i, out)
	}
	b.limits(s, sweep, out)
	if out.TooMuch {
		out.Every = 1
		empty(out)
	}
	kept.answer = out
	return nil
}

// axisFits holds an axis to what its input takes; the ends stand for a range.
func (b *Book) axisFits(kept *studied, a check.Axis, v study.Values) bool {
	if a.Among != nil {
		for i := range min(v.N, keptRows) {
			if part := a.Among[min(i, len(a.Among)-1)]; !b.fits(kept, a.X, part, v.At(i)) {
				return false
			}
		}
		return true
	}
	if len(a.X.Choice) > 0 {
		for i := range min(v.N, keptRows) {
			if !b.fits(kept, a.X, a.From, v.At(i)) {
				return false
			}
		}
		return true
	}
	return b.fits(kept, a.X, a.From, v.At(0)) && b.fits(kept, a.X, a.To, v.At(v.N-1))
}

// axisUnit shows an axis in the unit its range was written in.
func (b *Book) axisUnit(a check.Axis, v *answer.Value) units.Unit {
	for _, d := range append([]*check.Def{a.From, a.By}, a.Among...) {
		if d != nil && d.Typed && d.Type.Kind == v.Type.Kind && !d.Show.IsZero() {
			return d.Show
		}
	}
	return b.unitFor(v, check.Display{Show: a.X.Show})
}

// seriesUnit shows all series of one shown value, the rows of a column, in one
// unit, so that they can stand in one table and on one chart.
func (b *Book) seriesUnit(d *check.Def, of int, out *answer.Varied) {
	all := &answer.Value{Type: d.Type.Scalar()}
	for _, s := range out.Shown {
		if s.Of == of {
			for i, x := range s.Value.Numbers {
				if s.Value.Faults == nil || s.Value.Faults[i] == "" {
					all.Numbers = append(all.Numbers, x)
				}
			}
		}
	}
	unit := b.unitFor(all, check.Display{Show: d.Show, Pinned: d.Pinned})
	for _, s := range out.Shown {
		if s.Of == of {
			s.Value.Unit = unit
		}
	}
}

// series makes an empty series for every shown value, one per row of a column.
func (b *Book) series(sweep *study.Sweep, shown []syntax.Shown, rows int, out *answer.Varied) {
	for i, d := range sweep.Show {
		name := syntax.PrintExpr(shown[i].Expr)
		labels := []string{""}
		if d.Type.Of != nil {
			labels = d.Type.Of.Labels
		}
		for r, label := range labels {
			s := answer.Series{Expr: name, Label: label, Of: i, Row: r, Value: &answer.Value{Type: d.Type.Scalar(), Numbers: make([]float64, rows)}}
			if d.Type.Kind == types.Text {
				s.Value.Texts = make([]string, rows)
			}
			out.Shown = append(out.Shown, s)
		}
	}
}

// keep takes a block of a sweep over into a series.
func (b *Book) keep(s *answer.Series, cols []*run.Col, first, n int) {
	col := cols[s.Of]
	for w := range n {
		v, mk := col.At(s.Row, w)
		s.Value.Numbers[first+w] = v
		if s.Value.Texts != nil {
			s.Value.Texts[first+w] = b.machine.Text(v)
		}
		if mk != 0 {
			if s.Value.Faults == nil {
				s.Value.Faults = make([]string, len(s.Value.Numbers))
			}
			s.Value.Faults[first+w] = mk.Fault().Words()
		}
	}
}

// limits finds the limits that rules set to the shown values and that the sweep
// does not move.
func (b *Book) limits(s *check.Study, sweep *study.Sweep, out *answer.Varied) {
	for _, rule := range sweep.Rules {
		for i, d := range sweep.Show {
			side := study.Limit(rule, d)
			if side < 0 {
				continue
			}
			other := rule.Sides[1-side]
			moved := false
			for _, a := range s.Axes {
				moved = moved || check.DependsOn(other, a.X)
			}
			col := b.machine.Col(other)
			if moved || col == nil || len(col.V) != 1 || col.Marks != nil {
				continue
			}
			for k, shown := range out.Shown {
				if shown.Of != i {
					continue
				}
				if len(out.Limits) == keptLimits {
					return
				}
				at := &answer.Value{Type: shown.Value.Type, Numbers: []float64{col.V[0]}, Unit: shown.Value.Unit}
				out.Limits = append(out.Limits, answer.Limit{Shown: k, Cond: answer.Expr{Expr: rule.Expr}, Must: answer.Must(rule.Must), At: at})
			}
		}
	}
}
