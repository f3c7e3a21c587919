package study

import (
	"cmp"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Show sets the columns of a table side by side.
func (a *Asking) Show(node *syntax.Show) { a.kept.answer = a.table(a.s, node) }

func (l *Lab) table(s *check.Study, node *syntax.Show) *answer.Table {
	t := &answer.Table{Name: s.Of.Name, Rows: len(s.Of.Labels), Columns: []answer.CardLine{},
		Sort: answer.Expr{Expr: node.Sort}, Where: answer.Expr{Expr: node.Where}}
	rows := make([]int, t.Rows)
	for i := range rows {
		rows[i] = i
	}
	if s.Where != nil {
		rows, t.Unknown = l.where(s.Where, rows)
	}
	if s.Sort != nil {
		t.Last = l.sort(s.Sort, rows)
	}
	of := &types.Table{Name: s.Of.Name, Labels: labelled(s.Of, rows)}
	for _, d := range s.Show {
		line := answer.CardLine{Name: l.headOf(s, d)}
		if v := l.Value(d); v != nil {
			line.Value = v.Picked(of, rows)
		}
		t.Columns = append(t.Columns, line)
	}
	return t
}

// headOf is what stands above a column: its name alone if it is one of the table.
func (l *Lab) headOf(s *check.Study, d *check.Def) string {
	if n, is := d.Expr.(*syntax.Name); is {
		if last := len(n.Parts) - 1; l.C.IsTable(n.Parts[:last], s.Of) {
			return n.Parts[last].Text
		}
	}
	return syntax.PrintExpr(d.Expr)
}

func labelled(of *types.Table, rows []int) []string {
	labels := make([]string, len(rows))
	for i, r := range rows {
		labels[i] = of.Labels[r]
	}
	return labels
}

// where keeps the rows for which a condition holds, and names those for which
// it has no answer.
func (l *Lab) where(cond *check.Def, rows []int) (kept []int, unknown []string) {
	col := l.M.Col(cond)
	for _, r := range rows {
		switch s := sampleOf(col, r); {
		case !s.OK:
			unknown = append(unknown, cond.Type.Of.Labels[r])
		case s.V != 0:
			kept = append(kept, r)
		}
	}
	return kept, unknown
}

// sort puts rows in the order of a column, those without an answer last, and
// names them. Rows that are alike stay as they stand.
func (l *Lab) sort(by *check.Def, rows []int) (last []string) {
	col := l.M.Col(by)
	slices.SortStableFunc(rows, func(r, q int) int {
		x, y := sampleOf(col, r), sampleOf(col, q)
		switch {
		case !x.OK || !y.OK:
			return one(y.OK) - one(x.OK)
		case by.Type.Kind == types.Text:
			return cmp.Compare(l.M.Text(x.V), l.M.Text(y.V))
		}
		return cmp.Compare(x.V, y.V)
	})
	for _, r := range rows {
		if !sampleOf(col, r).OK {
			last = append(last, by.Type.Of.Labels[r])
		}
	}
	return last
}

func one(is bool) int {
	if is {
		return 1
	}
	return 0
}

// sampleOf reads a row of a column.
func sampleOf(c *run.Col, row int) Sample {
	v, mk := c.At(row, 0)
	return Sample{v, mk == 0 && finite(v)}
}
