package check

import (
	"math"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// power checks x ^ y. A dimension must be known before anything runs, so the
// exponent of a quantity is a literal.
func (b *builder) power(d *Def, e *syntax.Binary, x, y *Node) *Node {
	if !y.Type.Dim.IsPlain() {
		return b.fail(d, e, say(e.Y.Pos(), "an exponent is a plain number; this is %s", y.Type.Words()))
	}
	if x.Type.Dim.IsPlain() {
		return b.result(d, e, Pow, types.Plain, x, y)
	}
	num, den, ok := exponent(e.Y)
	if !ok {
		return b.fail(d, e, exponentNotLiteral(e.Y, x.Type))
	}
	dim, err := x.Type.Dim.Pow(num, den)
	if err != nil {
		return b.fail(d, e, say(e.Y.Pos(), "%v", err))
	}
	return b.result(d, e, Pow, types.Type{Kind: types.Number, Dim: dim}, x, y)
}

// exponent reads a literal exponent: a whole number, a decimal such as 0.5 that
// is a simple fraction, or (1/3).
func exponent(e syntax.Expr) (num, den int, ok bool) {
	sign := 1
	if g, is := e.(*syntax.Group); is {
		e = g.X
	}
	if u, is := e.(*syntax.Unary); is && u.Op == "-" {
		sign, e = -1, u.X
	}
	if q, is := e.(*syntax.Binary); is && q.Op == "/" {
		n, ok1 := wholeLiteral(q.X)
		m, ok2 := wholeLiteral(q.Y)
		return sign * n, m, ok1 && ok2 && m > 0
	}
	lit, is := e.(*syntax.Literal)
	if !is || lit.Form != syntax.Plain || math.Abs(lit.Value) > 1000 {
		return 0, 0, false
	}
	for _, den := range []int{1, 2, 4} {
		if v := lit.Value * float64(den); v == math.Trunc(v) {
			return sign * int(v), den, true
		}
	}
	return 0, 0, false
}

func wholeLiteral(e syntax.Expr) (int, bool) {
	sign := 1
	if u, is := e.(*syntax.Unary); is && u.Op == "-" {
		sign, e = -1, u.X
	}
	lit, is := e.(*syntax.Literal)
	if !is || lit.Form != syntax.Plain || lit.Value != math.Trunc(lit.Value) || math.Abs(lit.Value) > 1000 {
		return 0, false
	}
	return sign * int(lit.Value), true
}
