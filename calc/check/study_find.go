package check

import (
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Find checks the input, where it looks and the comparisons.
func (b *asking) Find(node *syntax.Find) {
	d, st := b.d, b.st
	x := Axis{X: b.input(d, node.X), Name: node.X, From: b.part(d, node.From, none), To: b.part(d, node.To, none)}
	b.list(d, &x, node.Among)
	st.As = node.As
	for _, so := range syntax.Comparisons(node.So) {
		x.Whole = b.compared(&x, so) || x.Whole
	}
	if x.X == nil || !st.OK {
		st.OK = false
		return
	}
	if node.As != nil && (node.As.Unit.Point() != (x.X.Type.Kind == types.Point) ||
		node.As.Unit.Dim() != unitDim(x.X.Type)) {
		b.report(d, cannotShow(node.As, x.X.Type))
	}
	if x.From != nil && !(b.alike(d, node.X, x.X, x.From) && b.alike(d, node.X, x.X, x.To)) {
		st.OK = false
	}
	for _, v := range x.Among {
		if v.Type.Of == nil && !b.alike(d, node.X, x.X, v) {
			st.OK = false
		}
	}
	switch choice := len(x.X.Choice) > 0; {
	case choice && x.From != nil:
		b.report(d, rangeOfChoice(node, x.X))
	case choice && x.Among == nil:
		x.Among = x.X.Choice
	}
	x.Whole = x.X.Whole || x.Whole
	st.Axes = []Axis{x}
	b.supposed(&st.In, node.In)
}

// compared checks a comparison, and reports whether it has an answer only where
// the input is a whole number. Its two sides are checked as a rule is, so that they
// are held to one another.
func (b *asking) compared(x *Axis, so *syntax.Compare) (whole bool) {
	d, st := b.d, b.st
	rule := d.Origin.def(Ruled, so)
	for _, e := range so.X {
		rule.compared().Sides = append(rule.Sides, d.Origin.def(Side, e))
	}
	b.infer(rule)
	d.blame(rule)
	if x.X == nil || !rule.OK() {
		b.noValue(d, so.X[0].Pos(), spell(so))
		st.OK = false
		return false
	}
	op := comparisons[so.Ops[0]]
	switch {
	case op == Ne:
		b.report(d, say(so.At[0], "`!=` holds nearly everywhere").
			With("write `=` to look for where it does not hold"))
	case rule.Type.Of != nil:
		b.report(d, say(so.X[0].Pos(), "this has a value for each of %s, and find looks for one", rule.Type.Of.Name).
			With("compare one row, or gather it with sum, most or least"))
	case rule.Sides[0].Type.Kind != types.Number && rule.Sides[0].Type.Kind != types.Point:
		b.report(d, say(so.X[0].Pos(), "find compares quantities; this is %s", rule.Sides[0].Type.Words()))
	case !b.counted(dependsOn(rule, x.X)):
		b.report(d, say(x.Name.Pos(), "%s has no part in %s", x.Name, spell(so)))
	}
	st.So = append(st.So, Comparison{so, rule.Sides, op})
	return b.counted(onlyWhole(rule, x.X))
}

func rangeOfChoice(node *syntax.Find, x *Def) syntax.Diag {
	var words []string
	for _, c := range x.Choice {
		words = append(words, spell(c.Expr))
	}
	return say(node.From.Pos(), "%s takes nothing but %s", node.X, strings.Join(words, ", ")).
		With("leave the range out")
}

func unitDim(t types.Type) units.Dim {
	if t.Kind == types.Point {
		return kelvin()
	}
	return t.Dim
}
