package check

import (
	"slices"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// none: that there is no such value. The word takes its kind and dimension from
// its partner or from "as"; whatever is computed of none is none.

// isNothing is the word none as written.
func isNothing(n *Node) bool { return n.Op == Call && n.Fn == function.Nothing }

// mayBeNone reports whether a value can come to be none.
func mayBeNone(n *Node) bool {
	switch {
	case n == nil:
		return false
	case isNothing(n) || n.Op == OrNone:
		return true
	case n.Op == IsNone || n.Op == NotNone:
		return false
	case n.Op == Ref:
		return n.Def.MayBeNone
	case n.Op == Either:
		return mayBeNone(n.Kids[len(n.Kids)-1])
	}
	return slices.ContainsFunc(n.Kids, mayBeNone)
}

// nothing gives the word none on a line of its own its dimension, and reports
// whether it has one.
func (b *builder) nothing(d *Def, n *Node) bool {
	switch as := d.Tail.As; {
	case d.set != nil:
		n.Type = d.wanted().typ
	case as != nil:
		n.Type = unitType(as.Unit)
	case d.dates:
		n.Type = types.Type{Kind: types.Date}
	case d.Head != nil:
		n.Type = unitType(d.Head.Unit)
	case d.Role == Cell || d.Role == Question || d.Whole:
		n.Type = plainNumber
	default:
		b.report(d, say(n.At, "this says nothing of what there is none of").With("name a unit of it, as in `none as ohm`"))
		return false
	}
	return true
}

// strayNone refuses the word none where it can only mean that nothing comes of
// it.
func (b *builder) strayNone(d *Def, nodes ...*Node) bool {
	for _, n := range nodes {
		if isNothing(n) {
			b.report(d, say(n.At, "nothing can be computed with none").
				With("test for it, as in `x = none`, or put a value in its place, as in `either(x, 0)`"))
			return true
		}
	}
	return false
}

// isNone checks "x = none" and "x != none".
func (b *builder) isNone(d *Def, e *syntax.Compare, at syntax.Pos, op Op, x, y *Node) *Node {
	if isNothing(x) {
		x, y = y, x
	}
	switch {
	case isNothing(x):
		return b.fail(d, e, say(at, "none is none").With("compare a name with it, as in `x = none`"))
	case op != Eq && op != Ne:
		return b.fail(d, e, say(at, "none is neither more nor less than anything").With("use = or !="))
	}
	n := b.result(d, e, IsNone, types.Type{Kind: types.Truth}, x)
	if n.At = at; op == Ne && !unknown(n) {
		n = b.result(d, e, Not, n.Type, n)
	}
	return n
}

// either checks either(a, b, …), the first that is not none.
func (b *builder) either(d *Def, e *syntax.Call) *Node {
	kids := make([]*Node, len(e.Args))
	var of *Node
	for i, a := range e.Args {
		kids[i] = b.expr(d, a)
		if !unknown(kids[i]) && !isNothing(kids[i]) && (of == nil || isZero(of)) {
			of = kids[i]
		}
	}
	if unknown(kids...) {
		return bad(e)
	}
	if len(kids) < 2 || of == nil {
		return b.fail(d, e, say(e.At, "either takes two values or more, the first of which may be none").With("its form is `either(a, b, …)`"))
	}
	t := of.Type.Scalar()
	for i, k := range kids {
		switch {
		case isNothing(k):
			k.Type = t
		case k.Type.Scalar() != t && !(isZero(k) && t.Kind == types.Number):
			return b.fail(d, e, say(e.Args[i].Pos(), "either gives one of its values, and %s and %s are not alike", t.Words(),
				k.Type.Words()))
		}
	}
	return b.result(d, e, Either, t, kids...)
}

// present holds an input that cannot be none to be there.
func (b *builder) present(d *Def, n *Node) *Node {
	if d.set == nil || d.wanted().none || !mayBeNone(n) {
		return n
	}
	if isNothing(n) {
		b.report(d, say(n.At, "%s cannot be none", d.set.key).With("leave the setting out, or write a value"))
		return nil
	}
	return &Node{Op: NotNone, Type: n.Type, At: n.At, Kids: []*Node{n}, expr: n.expr}
}

// isDefaultNone reports whether an input's own default is none.
func isDefaultNone(d *Def) bool { return d.Node != nil && isNothing(d.Node) }
