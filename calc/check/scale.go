package check

import (
	"fmt"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// scaled checks "x at H0": times the scale to the power of length that x has.
func (b *builder) scaled(d *Def, e *syntax.Scaled) *Node {
	x := b.expr(d, e.X)
	s := b.scale(d, e)
	if unknown(x, s) {
		return bad(e)
	}
	if s.Type.Kind != types.Number || !s.Type.Dim.IsPlain() {
		return b.fail(d, e, notAScale(e.By, s.Type))
	}
	if of := scaledBefore(x); of != nil {
		return b.fail(d, e, say(e.At, "%s is scaled already", spell(e.X)).
			With("for its full size before write `full_size("+spell(e.X)+", "+scaleSpelled(of.By)+") at "+spell(e.By)+"`"))
	}
	num, ok := 0, false
	if x.Type.Kind == types.Number {
		num, ok = function.ScalePower(x.Type.Dim)
	}
	if !ok {
		return b.fail(d, e, say(e.At, "only lengths, areas, volumes, speeds and accelerations have a scale; this is %s",
			x.Type.Words()))
	}
	if num != 1 {
		p := &Node{Op: Const, Type: types.Plain, At: e.At, Value: float64(num), expr: e}
		s = b.result(d, e, Pow, types.Plain, s, p)
	}
	return b.result(d, e, Mul, types.Type{Kind: types.Number, Dim: x.Type.Dim}, x, s)
}

// scaledBefore gives the scale that a name's own line has put on its value.
func scaledBefore(n *Node) *syntax.Scaled {
	for n.Op == Ref && n.Def.Node != nil {
		if s, ok := n.Def.Expr.(*syntax.Scaled); ok {
			return s
		}
		n = n.Def.Node
	}
	return nil
}

// scaleSpelled is what follows "at", as a value.
func scaleSpelled(by syntax.Expr) string {
	if s, ok := by.(*syntax.ScaleName); ok {
		return scalePrefix + s.Symbol
	}
	return spell(by)
}

// modelInFull refuses the full size of a length that stands in full size behind
// an "at": the way there and back.
func modelInFull(e *syntax.Call) (syntax.Diag, bool) {
	if e.Name != "full_size" || len(e.Args) != 2 {
		return syntax.Diag{}, false
	}
	s, ok := bare(inside(e.Args[0])).(*syntax.Scaled)
	if !ok {
		return syntax.Diag{}, false
	}
	return say(s.At, "this goes to the model and back").
		With("for the full size of a model write `full_size(" + spell(s.X) + ", " + spell(e.Args[1]) + ")`"), true
}

// scale resolves what follows "at": a scale's symbol, unless it is also a name
// of the notebook, or anything with a plain value.
func (b *builder) scale(d *Def, e *syntax.Scaled) *Node {
	symbol := ""
	switch by := e.By.(type) {
	case *syntax.ScaleName:
		symbol = by.Symbol
	case *syntax.Name:
		if len(by.Parts) == 1 && !by.Parts[0].Quoted {
			symbol = by.Parts[0].Text
		}
	}
	if symbol == "" {
		return b.expr(d, e.By)
	}
	c := b.constant(scalePrefix + symbol)
	named := d.In.Names[symbol] != nil
	at := e.By.Pos()
	switch {
	case c != nil && named:
		return b.fail(d, e, say(at, "%s is a scale and also a name of yours", symbol).
			With(fmt.Sprintf("write `at %s%s` for the scale, `at (%s)` for the name", scalePrefix, symbol, symbol)))
	case c != nil:
		return b.ref(d, c, at, e.By)
	case named:
		n := *b.name(d, &syntax.Name{Parts: []syntax.Part{{At: at, Text: symbol}}})
		n.expr = e.By
		return &n
	}
	if b.constant(symbol) == nil {
		d.Waits = append(d.Waits, symbol)
	} else {
		return b.name(d, &syntax.Name{Parts: []syntax.Part{{At: at, Text: symbol}}})
	}
	return b.fail(d, e, b.unknownScale(at, symbol))
}
