package study

import (
	"cmp"
	"context"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
	"railsum/units"
	"railsum/units/words"
)

// Vary lets inputs change.
func (a *Asking) Vary(node *syntax.Vary) {
	a.err = a.inCase(func(ctx context.Context) error { return a.vary(ctx, a.s, node, &a.kept) })
}

func (l *Lab) vary(ctx context.Context, s *check.Study, node *syntax.Vary, kept *studied) error {
	sweep, p := l.Sweep(s)
	if p != nil {
		l.problem(kept, p)
		return nil
	}
	for i, a := range s.Axes {
		if !l.axisFits(kept, a, sweep.Axes[i]) {
			return nil
		}
	}
	out := &answer.Varied{Rows: sweep.Rows, With: spelled(node.In)}
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
		v.Unit = l.axisUnit(a, v)
		out.Axes = append(out.Axes, answer.Series{Expr: a.Name.String(), Value: v, Of: i, Points: sweep.Axes[i].N})
	}
	l.series(sweep, node.Show, rows, out)
	var turned turns
	for _, part := range sweep.Parts() {
		last := make([]answer.Verdict, len(part.Rules))
		err := part.Run(ctx, func(first, n int, cols []*run.Col) error {
			for k := range out.Shown {
				if len(part.Show) > 0 { // it is the first of them
					l.keep(&out.Shown[k], cols, first, n)
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
		l.seriesUnit(d, i, out)
	}
	l.limits(s, sweep, out)
	if out.TooMuch {
		out.Every = 1
		empty(out)
	}
	kept.answer = out
	l.anew(s, s.Show, kept)
	return nil
}

// axisFits holds an axis to what its input takes; the ends stand for a range.
func (l *Lab) axisFits(kept *studied, a check.Axis, v Values) bool {
	if a.Among != nil {
		for i := range min(v.N, keptRows) {
			if part := a.Among[min(i, len(a.Among)-1)]; !l.fits(kept, a, part, v.At(i)) {
				return false
			}
		}
		return true
	}
	if len(a.X.Choice) > 0 {
		for i := range min(v.N, keptRows) {
			if !l.fits(kept, a, a.From, v.At(i)) {
				return false
			}
		}
		return true
	}
	if a.Whole && v.N > 1 && !function.IsWhole(v.At(1)-v.At(0)) {
		part := a.By
		if part == nil {
			part = a.From
		}
		kept.diags = append(kept.diags, problem(part.Expr.Pos(),
			words.Say("%s is a whole number here, and its steps are too", a.Name).With("write `by 1`")))
		return false
	}
	return l.fits(kept, a, a.From, v.At(0)) && l.fits(kept, a, a.To, v.At(v.N-1))
}

// axisUnit shows an axis in the unit its range was written in.
func (l *Lab) axisUnit(a check.Axis, v *answer.Value) units.Unit {
	for _, d := range append([]*check.Def{a.From, a.By}, a.Among...) {
		if d != nil && d.Typed && d.Type.Kind == v.Type.Kind && !d.Show.IsZero() {
			return d.Show
		}
	}
	return l.UnitFor(v, check.Display{Show: a.X.Show})
}

// seriesUnit shows all series of one shown value, the rows of a column, in one
// unit, so that they can stand in one table and on one chart.
func (l *Lab) seriesUnit(d *check.Def, of int, out *answer.Varied) {
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
	unit := l.UnitFor(all, check.Display{Show: d.Show, Pinned: d.Pinned})
	for _, s := range out.Shown {
		if s.Of == of {
			s.Value.Unit = unit
		}
	}
}

// series makes an empty series for every shown value, one per row of a column.
func (l *Lab) series(sweep *Sweep, shown []syntax.Shown, rows int, out *answer.Varied) {
	for i, d := range sweep.Show {
		name := syntax.PrintExpr(shown[i].Expr)
		labels := []string{""}
		if d.Type.Of != nil {
			labels = d.Type.Of.Labels
		}
		for r, label := range labels {
			s := answer.Series{Expr: name, Label: label, Of: i, Row: r,
				Value: &answer.Value{Type: d.Type.Scalar(), Numbers: make([]float64, rows)}}
			if d.Type.Kind == types.Text {
				s.Value.Texts = make([]string, rows)
			}
			out.Shown = append(out.Shown, s)
		}
	}
}

// keep takes a block of a sweep over into a series.
func (l *Lab) keep(s *answer.Series, cols []*run.Col, first, n int) {
	col := cols[s.Of]
	for w := range n {
		v, mk := col.At(s.Row, w)
		s.Value.Numbers[first+w] = v
		if s.Value.Texts != nil {
			s.Value.Texts[first+w] = l.M.Text(v)
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
func (l *Lab) limits(s *check.Study, sweep *Sweep, out *answer.Varied) {
	for _, rule := range sweep.Rules {
		for i, d := range sweep.Show {
			side := Limit(rule, d)
			if side < 0 {
				continue
			}
			other := rule.Sides[1-side]
			moved := false
			for _, a := range s.Axes {
				moved = moved || check.DependsOn(other, a.X)
			}
			col := l.M.Col(other)
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
				out.Limits = append(out.Limits, answer.Limit{Shown: k, Cond: answer.Expr{Expr: rule.Expr},
					Must: answer.Must(rule.Must), At: at})
			}
		}
	}
}

// What is kept of a sweep to be shown. A sweep with one axis keeps keptRows of
// its rows; with the rows of columns, no more than keptNumbers in all, but of the
// sweep fewestKept at least; where even these are too many, none.
const (
	keptRows    = 10_000
	keptNumbers = 2_000_000
	fewestKept  = 1_000
	keptTurns   = 200
	keptLimits  = 200
)

// rowsOf is how many series a shown value makes.
func rowsOf(d *check.Def) int {
	if d.Type.Of == nil {
		return 1
	}
	return len(d.Type.Of.Labels)
}

// tooMuch says that a sweep shows more numbers than are kept, at the shown
// value that has most of them.
func tooMuch(sweep *Sweep, node *syntax.Vary) syntax.Diag {
	at := 0
	for i, d := range sweep.Show {
		if rowsOf(d) > rowsOf(sweep.Show[at]) {
			at = i
		}
	}
	return syntax.Diag{At: node.Show[at].Expr.Pos(), Notice: true,
		Wrong: words.Say("this shows %d rows of a column at %d values, and no more than %d numbers are kept to be shown",
			rowsOf(sweep.Show[at]), sweep.Rows, keptNumbers).
			With("name one row, or gather it with sum, most or least")}
}

// empty takes the numbers out of the series; names and units stay.
func empty(v *answer.Varied) {
	for _, all := range [][]answer.Series{v.Axes, v.Shown} {
		for i := range all {
			x := all[i].Value
			x.Numbers, x.Texts, x.Faults = nil, nil, nil
			all[i].Points = 0
		}
	}
	v.Turns, v.MoreTurns, v.Limits = nil, 0, nil
}

// turn is a row from which on a rule's verdict is another.
type turn struct {
	row      int
	rule     *check.Def
	was, now answer.Verdict
}

// turns keeps the first of many turns and counts the others.
type turns struct {
	kept []turn
	more int
}

// follow judges a rule in a block of rows and takes up where its verdict turns;
// last is that of the row before.
func (t *turns) follow(rule *check.Def, col *run.Col, first, n int, last *answer.Verdict) {
	for w := range n {
		now := view.VerdictAt(rule, col, w)
		if now != *last && first+w > 0 {
			t.add(turn{first + w, rule, *last, now})
		}
		*last = now
	}
}

func (t *turns) add(x turn) {
	t.kept = append(t.kept, x)
	if len(t.kept) >= 8*keptTurns {
		t.cut()
	}
}

func (t *turns) cut() {
	slices.SortStableFunc(t.kept, func(a, b turn) int {
		return cmp.Or(cmp.Compare(a.row, b.row), cmp.Compare(a.rule.Order, b.rule.Order))
	})
	if over := len(t.kept) - keptTurns; over > 0 {
		t.kept, t.more = t.kept[:keptTurns], t.more+over
	}
}

func (t *turns) told() (all []answer.TurnAt, more int) {
	t.cut()
	for _, x := range t.kept {
		all = append(all, answer.TurnAt{Row: x.row,
			Turn: answer.Turn{Name: view.PlaceName(x.rule), Cond: answer.Expr{Expr: x.rule.Expr}, Was: x.was, Now: x.now}})
	}
	return all, t.more
}
