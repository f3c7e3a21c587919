package check

import (
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// Part checks the fields: how many is a plain number and how long a length, and
// columns are of one table.
func (b *asking) Part(node *syntax.Needed) {
	var of *types.Table
	for _, s := range node.With {
		v := b.value(s.Expr)
		b.st.Show = append(b.st.Show, v)
		if v == nil || !v.OK() {
			continue
		}
		switch {
		case s.Name.Text == "count" && v.Type.Scalar() != types.Plain:
			b.refuse(say(s.Expr.Pos(), "a count is a plain number, and this is %s", v.Type.Words()))
		case s.Name.Text == "length" && v.Type.Scalar() != unitType(metre):
			b.refuse(say(s.Expr.Pos(), "this is %s, and not a length", v.Type.Words()).With("as in `length = 2 * run`"))
		}
		of = b.alongside(of, v)
	}
}

var metre = units.Known("m")

// alongside holds columns of one row or line to one table, and gives it.
func (b *asking) alongside(of *types.Table, v *Def) *types.Table {
	switch {
	case v.Type.Of == nil:
	case of == nil:
		return v.Type.Of
	case of != v.Type.Of:
		b.refuse(say(v.Expr.Pos(), "one side has a row for each of %s, the other for each of %s", of.Name, v.Type.Of.Name).
			With("look values up with `lookup(key, …)`, or gather one of them with sum, mean, least or most"))
	}
	return of
}
