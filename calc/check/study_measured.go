package check

import (
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Measured checks what is measured and holds the meter to its type.
func (b *asking) Measured(node *syntax.Measured) {
	d, st := b.d, b.st
	st.X, _ = b.subject(d, node.X)
	if st.X != nil && st.X.Type.Of != nil && len(node.X.Parts) == 3 { // one row of a computed column
		st.X = b.part(d, node.X, none)
	}
	v := b.part(d, node.Expr, node.Tail)
	if node.On != nil {
		st.On = b.part(d, node.On, none)
		switch {
		case !st.On.OK():
			st.OK = false
		case st.On.Type != types.Type{Kind: types.Date}:
			b.report(d, say(node.On.Pos(), "a date must follow `on`; this is %s", st.On.Type.Words()).
				With("as in `on "+units.DateForm+"`"))
		}
	}
	if st.X == nil || !v.OK() {
		st.OK = false
		return
	}
	switch {
	case st.X.Type.Of != nil:
		b.report(d, say(node.X.Pos(), "%s has a value for each of %s", node.X, st.X.Type.Of.Name).
			With("measure one row of it"))
	case st.X.Type.Kind != types.Number && st.X.Type.Kind != types.Point:
		b.report(d, say(node.X.Pos(), "%s is %s, and only quantities are measured", node.X, st.X.Type.Words()))
	default:
		b.alike(d, node.X, st.X, v)
	}
	st.Axes = []Axis{{X: st.X, Name: node.X, Value: v}}
}
