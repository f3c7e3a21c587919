package calc

import (
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// What decides in a formula: of `if` the branch that is taken, of max and min the term
// that is the larger or the smaller. A working shows that and no more, and says why.

// deciding are the decisions in one formula.
type deciding struct {
	b     *Book
	refs  map[syntax.Expr]check.Target
	at    rowOf
	taken map[syntax.Expr]syntax.Expr // the branch or term, by the whole
	said  []answer.Decision
	names map[*check.Def]bool // what stands in what is left of the formula, or decides
}

func (b *Book) decided(d *check.Def, at rowOf) *deciding {
	g := &deciding{b: b, refs: d.Refs(), at: at, taken: map[syntax.Expr]syntax.Expr{}, names: map[*check.Def]bool{}}
	g.look(d.Expr)
	return g
}

// look goes through what is left of an expression.
func (g *deciding) look(e syntax.Expr) {
	switch e := e.(type) {
	case *syntax.If:
		g.name(e.Cond)
		if v := g.value(e.Cond); v != nil && v.Type.Kind == types.Truth {
			holds := v.Numbers[0] != 0
			g.taken[e] = e.Else
			if holds {
				g.taken[e] = e.Then
			}
			g.said = append(g.said, answer.Decision{By: answer.Expr{Expr: e.Cond}, Why: answer.Holding(holds)})
			g.look(g.taken[e])
			g.nought(e)
			return
		}
	case *syntax.Call:
		if i := g.extreme(e); i >= 0 {
			g.taken[e] = e.Args[i]
			why := answer.Extreme(e.Name == "max", len(e.Args))
			g.said = append(g.said, answer.Decision{By: answer.Expr{Expr: e.Args[i]}, Why: why})
			g.look(e.Args[i])
			g.nought(e)
			return
		}
	}
	if to, is := g.refs[e]; is {
		g.names[to.Def] = true
	}
	for _, x := range syntax.Operands(e) {
		g.look(x)
	}
}

// nought gives a bare 0 that is taken the unit of what it stands for: alone it is of no
// dimension.
func (g *deciding) nought(e syntax.Expr) {
	lit, is := g.taken[e].(*syntax.Literal)
	if !is || lit.Value != 0 || !lit.Unit.IsZero() {
		return
	}
	if v := g.value(e); v != nil && !v.Unit.IsZero() {
		g.taken[e] = &syntax.Literal{At: lit.At, Text: "0 " + v.Unit.String(), Form: syntax.Quantity, Unit: v.Unit}
	}
}

// name notes what stands in an expression.
func (g *deciding) name(e syntax.Expr) {
	syntax.Walk(&syntax.Question{Expr: e}, func(x syntax.Expr) {
		if to, is := g.refs[x]; is {
			g.names[to.Def] = true
		}
	})
}

// extreme is the argument that max or min gives, -1 for another call, where it cannot
// be said, and where two are the same.
func (g *deciding) extreme(e *syntax.Call) int {
	if e.Name != "max" && e.Name != "min" || len(e.Args) < 2 {
		return -1
	}
	best, tie := 0, false
	var most float64
	for i, a := range e.Args {
		v := g.value(a)
		if v == nil || v.Type.Kind == types.Text || v.Type.Kind == types.Truth {
			return -1
		}
		x := v.Numbers[0]
		if e.Name == "min" {
			x = -x
		}
		switch {
		case i == 0 || x > most:
			best, most, tie = i, x, false
		case x == most:
			tie = true
		}
	}
	if tie {
		return -1
	}
	return best
}

// value computes a part of the formula with all digits of its values put in, nil if it
// has no single answer alone.
func (g *deciding) value(e syntax.Expr) *answer.Value {
	f := filling{b: g.b, digits: 17, refs: g.refs, at: g.at}
	line, _ := syntax.ParseLine(syntax.PrintExpr(f.expr(e, false)))
	v := Open([]*syntax.Line{line}, g.b.lib).Answer(0).Value
	if v == nil || v.Column() || !v.Sound() || v.Fault(0) != "" || len(v.Numbers) != 1 {
		return nil
	}
	return v
}

// left are the ingredients that stand in what is left of the formula.
func (g *deciding) left(deps []*check.Def) []*check.Def {
	if len(g.taken) == 0 {
		return deps
	}
	written := map[*check.Def]bool{}
	for _, to := range g.refs {
		written[to.Def] = true
	}
	return slices.DeleteFunc(slices.Clone(deps), func(d *check.Def) bool { return written[d] && !g.names[d] })
}
