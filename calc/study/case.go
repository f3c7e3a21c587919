package study

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
)

// Case sets what a case puts in beside what is.
func (a *Asking) Case(node *syntax.Case) {
	if _, ok := a.over(&a.kept, a.s.Axes); !ok {
		return
	}
	out := &answer.Case{Name: node.Name.Text, Sets: []answer.CaseSet{}}
	for _, x := range a.s.Axes {
		out.Sets = append(out.Sets, answer.CaseSet{Name: x.Name.String(), Now: a.Value(x.X), Then: a.Value(x.Value)})
	}
	a.kept.answer = out
}

// put is what is put in for a study: the Defs, in the order in which they are
// named, and the values of each, one for each of its rows.
type put struct {
	of     []*check.Def
	values map[*check.Def][]float64
}

// over settles what is put in. Of a column with cells it is the cells, so that
// whoever looks at one of them sees it too. It reports false, having said why, if
// a value is none that can be put in.
func (l *Lab) over(kept *studied, axes []check.Axis) (put, bool) {
	p := put{values: map[*check.Def][]float64{}}
	add := func(d *check.Def, v []float64) {
		p.of = append(p.of, d)
		p.values[d] = v
	}
	for _, a := range axes {
		col := l.M.Col(a.Value)
		if col == nil || col.Marks != nil || len(col.V) == 0 && col.Rows != 0 || !allFinite(col.V) {
			l.problem(kept, l.unfit(a.Value))
			return p, false
		}
		if !l.fits(kept, a, a.Value, col.V...) {
			return p, false
		}
		xs := col.V
		if n := rowsOf(a.X); col.Rows == 1 && a.Value.Type.Of == nil {
			xs = make([]float64, n)
			for i := range xs {
				xs[i] = col.V[0]
			}
		}
		if a.X.Cells == nil {
			add(a.X, append([]float64(nil), xs...))
			continue
		}
		for i, c := range a.X.Cells {
			add(c, xs[i:i+1:i+1])
		}
	}
	return p, true
}

// replace puts the values in for every row of a study.
func (p put) replace(st *run.Study) {
	for d, v := range p.values {
		st.Replace(d, func(_ int, dst []float64) {
			n := len(dst) / max(1, len(v))
			for i := range dst {
				dst[i] = v[i/n]
			}
		})
	}
}

// inCase answers a study while what else it puts in has those values.
func (a *Asking) inCase(do func(ctx context.Context) error) error {
	p, ok := a.over(&a.kept, a.s.In)
	if !ok {
		return nil
	}
	return a.M.With(p.values, func() error { return do(a.ctx) })
}

// spelled are what is put in, as written.
func spelled(sets []syntax.Supposed) []string {
	var all []string
	for _, x := range sets {
		one := x.X.String()
		if x.Expr != nil {
			one += " = " + syntax.PrintExpr(x.Expr)
		}
		all = append(all, one)
	}
	return all
}

// moved lists what the notebook names, and what the sheets that it has placed
// tell, of that which depends on what is put in.
func (l *Lab) moved(p put) []*check.Def {
	hit := make([]bool, len(l.C.Order))
	for _, d := range p.of {
		hit[d.Order] = true
	}
	var all []*check.Def
	for i, d := range l.C.Order {
		if hit[i] {
			continue // it is put in
		}
		for _, dep := range d.Deps {
			hit[i] = hit[i] || hit[dep.Order]
		}
		tells := d.At == nil && d.Line >= 0 && (d.Role == check.Named || d.Role == check.Given) ||
			d.At != nil && d.At.Parent == nil && d.At.Name != "" && d.Role == check.Given
		if hit[i] && tells && d.Name != "" {
			all = append(all, d)
		}
	}
	return all
}
