package check

import (
	"fmt"
	"math"
	"slices"

	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Whole numbers: inputs, named values and columns that are followed by "whole".
// One that is written as a number is judged here; one that is computed is judged
// as it comes, and what is not whole is no answer.

// whole holds a Def to be a whole number, and gives the node that sees to it,
// nil if it cannot be one.
func (b *builder) whole(d *Def, n *Node) *Node {
	switch {
	case n.Type.Scalar() != types.Plain:
		b.report(d, neverWhole(d, n.Type))
		return nil
	case n.Op == Const && !function.IsWhole(n.Value):
		b.report(d, NotWhole(d.Expr.Pos(), d.Called(), n.Value))
		return nil
	case n.Op == Const || n.Op == Ref && n.Def.Whole:
		return n
	}
	return &Node{Op: Call, Type: n.Type, At: n.At, Kids: []*Node{n}, Fn: function.Whole, expr: n.expr}
}

// OnlyWhole reports whether what a Def is computed from exists only where x is a
// whole number: x, or a sum or product of it with whole numbers, is handed to a
// function that has no answer for any other, as the gauge of a wire.
func OnlyWhole(d, x *Def) bool {
	yes, _ := onlyWhole(d, x)
	return yes
}

// onlyWhole tells how many steps it took, too.
func onlyWhole(d, x *Def) (yes bool, steps int) {
	if x.Type != types.Plain {
		return false, 0
	}
	seen := since{from: x.Order}
	var visit func(d *Def) bool
	var within func(n *Node) bool
	within = func(n *Node) bool {
		for i, k := range n.Kids {
			if n.Op == Call && n.Fn.WantsWhole(i) && wholeOf(k, x) == itself || within(k) {
				return true
			}
		}
		return false
	}
	visit = func(d *Def) bool {
		return seen.first(d) && (d.Node != nil && within(d.Node) || slices.ContainsFunc(d.Deps, visit))
	}
	yes = visit(d)
	return yes, seen.count
}

// share is what a term has to do with an input: nothing but whole numbers, the
// input itself with whole numbers, or anything else.
type share uint8

const (
	other share = iota
	number
	itself
)

func wholeOf(n *Node, x *Def) share {
	switch n.Op {
	case Const:
		if function.IsWhole(n.Value) {
			return number
		}
	case Ref:
		if n.Def == x {
			return itself
		}
		if n.Def.Node != nil {
			return wholeOf(n.Def.Node, x)
		}
	case Neg, Add, Sub, Mul:
		all := number
		for _, k := range n.Kids {
			s := wholeOf(k, x)
			if s == other {
				return other
			}
			all = max(all, s)
		}
		return all
	}
	return other
}

// Called is what a message calls the Def.
func (d *Def) Called() string {
	switch {
	case d.set != nil:
		return d.set.key
	case d.Role == Cell:
		return "a cell of this column"
	case d.Name == "":
		return "this"
	}
	return d.Name
}

func wholeIsExact(tol *syntax.Tol, d *Def) syntax.Diag {
	return say(tol.At, "%s is a whole number and has no tolerance", d.Called()).With(fmt.Sprintf("leave `+- %s` out", tol.By.Text))
}

func neverWhole(d *Def, t types.Type) syntax.Diag {
	return say(d.Expr.Pos(), "only a plain number can be held to be whole; this is %s", t.Words()).With("leave out `whole`")
}

// NotWhole says that a value for what has a name, which stands at a place, is not
// whole.
func NotWhole(at syntax.Pos, name string, v float64) syntax.Diag {
	return say(at, "%s is a whole number", name).With(fmt.Sprintf("write `%.0f` or `%.0f`", math.Floor(v), math.Ceil(v)))
}
