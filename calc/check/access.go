package check

import (
	"sort"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// SetHere gives the inputs of a placement that were set on its own use line.
func (p *Placement) SetHere(line int) []*Def {
	var ds []*Def
	for _, set := range p.Settings {
		if set.with && !set.like && set.line == line && set.def != nil {
			ds = append(ds, set.def)
		}
	}
	sort.Slice(ds, func(i, j int) bool { return ds[i].set.at.Col < ds[j].set.at.Col })
	return ds
}

// Whole lists a placement and the sheets that its sheet places, however deep.
func (p *Placement) Whole() []*Placement {
	all := []*Placement{p}
	for _, in := range p.inner {
		if in.Scope != nil {
			all = append(all, in.Whole()...)
		}
	}
	return all
}

// Set reports whether a Def is an input of a placed sheet that somebody has
// set.
func (d *Def) Set() bool { return d.set != nil }

// A Target is what a name in an expression stands for: a Def, or one row of it.
type Target struct {
	Def *Def
	Row int // -1 for all of it
}

// Refs gives what the names in a Def's expression stand for.
func (d *Def) Refs() map[syntax.Expr]Target {
	refs := map[syntax.Expr]Target{}
	var visit func(n *Node, row int)
	visit = func(n *Node, row int) {
		switch {
		case n == nil:
			return
		case n.Op == Ref && n.expr != nil:
			target := n.Def
			for target.Role == Side && target.Node != nil && target.Node.Op == Ref {
				target = target.Node.Def
			}
			refs[inside(n.expr)] = Target{target, row}
		}
		row = -1
		if n.Op == RowOf {
			row = n.Row
		}
		for _, k := range n.Kids {
			visit(k, row)
		}
	}
	visit(d.Node, -1)
	return refs
}

// inside is an expression without the parentheses round it.
func inside(e syntax.Expr) syntax.Expr {
	for {
		g, ok := e.(*syntax.Group)
		if !ok {
			return e
		}
		e = g.X
	}
}

// Quantity reports whether a Def is a single quantity or temperature.
func (d *Def) Quantity() bool {
	return d.Type.Of == nil && (d.Type.Kind == types.Number || d.Type.Kind == types.Point)
}

// Shared reports whether a name is that of several cards without one: they are there,
// and none of them goes by it.
func (c *Checked) Shared(name string) bool { return len(c.b.unnamed[name]) > 0 }

// FullName is a name of the scope as the notebook knows it.
func (s *Scope) FullName(name string) string { return s.full(name) }

// AllNames gives every name that could be typed in an expression of the
// notebook, dotted ones included, sorted.
func (c *Checked) AllNames() []string {
	var names []string
	for name, sym := range c.Root.Names {
		switch {
		case sym.Def != nil:
			names = append(names, name)
		case sym.Tab != nil:
			for col := range sym.Tab.Columns {
				names = append(names, name+"."+col)
			}
		case sym.Place != nil && sym.Place.facts != nil:
			for in := range sym.Place.facts.asks {
				names = append(names, name+"."+in)
			}
			for in := range sym.Place.facts.tabs {
				names = append(names, name+"."+in)
			}
			for out := range sym.Place.facts.gives {
				names = append(names, name+"."+out)
			}
		}
	}
	sort.Strings(names)
	return names
}
