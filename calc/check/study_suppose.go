package check

import (
	"railsum/calc/syntax"
)

// Suppose checks the inputs and their other values, and what is shown.
func (b *asking) Suppose(node *syntax.Suppose) {
	for _, x := range node.Sets {
		b.supposed(x)
	}
	b.shows(node.Show)
}

func (b *asking) supposed(s syntax.Supposed) {
	d, st := b.d, b.st
	x := Axis{X: b.input(d, s.X), Name: s.X, Value: b.part(d, s.Expr, none)}
	if x.X == nil || !b.alike(d, s.X, x.X, x.Value) {
		st.OK = false
		return
	}
	for _, old := range st.Axes {
		if old.X == x.X {
			b.report(d, variedTwice(s.X))
		}
	}
	st.Axes = append(st.Axes, x)
}
