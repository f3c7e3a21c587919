package check

import (
	"fmt"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Vary checks the inputs that change, and what is shown.
func (b *asking) Vary(node *syntax.Vary) {
	for _, a := range node.Axes {
		b.axis(a)
	}
	b.shows(node.Show)
	b.supposed(&b.st.In, node.In)
}

func (b *asking) axis(a syntax.Axis) {
	d, st := b.d, b.st
	x := Axis{X: b.input(d, a.X), Name: a.X, Steps: a.Steps}
	x.From, x.To, x.By = b.part(d, a.From, none), b.part(d, a.To, none), b.part(d, a.By, none)
	b.list(d, &x, a.Among)
	if x.X == nil {
		st.OK = false
		return
	}
	ok := true
	if x.From != nil {
		ok = b.alike(d, a.X, x.X, x.From) && b.alike(d, a.X, x.X, x.To)
	}
	if x.By != nil && ok {
		want := x.X.Type.Scalar()
		if want.Kind == types.Point {
			want = types.Type{Kind: types.Number, Dim: kelvin()}
		}
		if x.By.OK() && x.By.Type != want {
			b.report(d, stepOfOther(x.By, want))
			ok = false
		}
		ok = ok && x.By.OK()
	}
	for _, v := range x.Among {
		ok = ok && (v.Type.Of != nil || b.alike(d, a.X, x.X, v))
	}
	for _, old := range st.Axes {
		if old.X == x.X {
			b.report(d, variedTwice(a.X))
			ok = false
		}
	}
	st.OK = st.OK && ok
	st.Axes = append(st.Axes, x)
}

func stepOfOther(by *Def, want types.Type) syntax.Diag {
	cure := ""
	switch {
	case by.Type.Kind == types.Point:
		cure = fmt.Sprintf("write `by %s K`", strings.Fields(spell(by.Expr))[0])
	case isBareNumber(by.Node) && by.Node.Value == 0:
		cure = strings.TrimSuffix("write a step of some size, as in `by 1 "+want.Dim.String(), " ") + "`"
	case isBareNumber(by.Node) && want.Dim.String() != "":
		cure = fmt.Sprintf("write `by %s %s`", spell(by.Expr), want.Dim)
	}
	return say(by.Expr.Pos(), "the step is %s, and must be %s", by.Type.Words(), want.Words()).With(cure)
}
