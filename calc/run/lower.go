package run

import (
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
)

// Lower makes or renews the program of a Def from its checked tree.
func (m *Machine) Lower(d *check.Def) {
	k := m.cells[d]
	k.deps = k.deps[:0]
	for _, dep := range d.Deps {
		k.deps = append(k.deps, int32(dep.Order))
	}
	k.site, k.terms = uint32(len(m.sites)), terms(d.Node)
	m.lower(m.lane, k, m.operand, func(at syntax.Pos) { m.sites = append(m.sites, Site{Def: d, At: at}) })
}

// terms counts the nodes of a tree.
func terms(n *check.Node) int {
	if n == nil {
		return 0
	}
	all := 1
	for _, kid := range n.Kids {
		all += terms(kid)
	}
	return all
}

// lower makes the program of a cell, to be run in a lane. operand gives the
// registers of other Defs; told is called with the place of each operation, in
// the order of their sites.
func (m *Machine) lower(l *lane, k *cell, operand func(*check.Def) *Col, told func(syntax.Pos)) {
	k.program, k.like, k.column = nil, nil, nil
	if labels := k.def.Labels(); labels != nil {
		k.column = &column{labels: make([]float64, len(labels))}
		for i, label := range labels {
			k.column.labels[i] = m.texts.ID(label)
		}
		return
	}
	if k.def.Role == check.Column {
		k.column = &column{cells: make([]*Col, len(k.def.Cells))}
		for i, c := range k.def.Cells {
			k.column.cells[i] = operand(c)
		}
		return
	}
	switch n := k.def.Node; n.Op {
	case check.Const:
		k.value = m.constant(n)
	case check.Ref:
		k.like = operand(n.Def)
	default:
		lo := lowering{m: m, lane: l, def: k.def, operand: operand, told: told, site: k.site}
		k.program = l.compile(lo.call(n, 0, k.out))
	}
}

// operand is the register of a Def that another one uses. A constant such as pi is
// no Def of the order: it gets its register here.
func (m *Machine) operand(d *check.Def) *Col {
	k := m.cells[d]
	if k == nil {
		k = &cell{def: d, out: m.single(d.Node)}
		m.cells[d] = k
	}
	return k.out
}

// single is a register that holds a constant.
func (m *Machine) single(n *check.Node) *Col {
	return &Col{Rows: 1, Width: 1, V: []float64{m.constant(n)}}
}

func (m *Machine) constant(n *check.Node) float64 {
	if n.Type.Kind == types.Text {
		return m.texts.ID(n.Text)
	}
	return n.Value
}

// lowering is a tree on its way to calls on registers.
type lowering struct {
	m       *Machine
	lane    *lane
	def     *check.Def
	operand func(*check.Def) *Col
	told    func(syntax.Pos)
	site    uint32 // of the next operation
}

var opNames = map[check.Op]string{
	check.Neg: "negate", check.Not: "not", check.Add: "add", check.Sub: "sub", check.Mul: "mul", check.Div: "div",
	check.Pow: "power", check.Eq: "eq", check.Ne: "ne", check.Lt: "lt", check.Le: "le", check.Gt: "gt", check.Ge: "ge",
	check.And: "and", check.Or: "or", check.If: "if", check.RowOf: "row", check.Spread: "spread",
	check.Override: "override",
	check.Either:   "either", check.IsNone: "none", check.OrNone: "missed", check.NotNone: "there",
}

// call lowers an operation whose answer goes to out. Its operands use the shared
// registers from a depth on, so that none is overwritten before it has been read.
func (lo *lowering) call(n *check.Node, depth int, out *Col) *call {
	c := &call{name: opNames[n.Op], step: &step{out: out, fn: n.Fn, row: n.Row, site: lo.site}}
	switch n.Op {
	case check.Call:
		c.name = shapeOfCall(n)
	case check.Spread:
		c.step.row = len(n.Type.Of.Labels)
	}
	lo.site++
	lo.told(n.At)
	c.step.in = make([]*Col, len(n.Kids))
	for i, kid := range n.Kids {
		in := &c.step.in[i]
		switch kid.Op {
		case check.Const:
			*in = lo.m.single(kid)
		case check.Ref:
			*in = lo.operand(kid.Def)
		default:
			*in = lo.lane.register(depth + 1 + i)
			c.after = append(c.after, lo.call(kid, depth+1+i, *in))
		}
	}
	return c
}

func shapeOfCall(n *check.Node) string {
	switch f := n.Fn; {
	case f.One != nil:
		return "one"
	case f.Two != nil:
		return "two"
	case f.Down != nil:
		return "down"
	case f.Along != nil:
		return "along"
	case f.Seek != nil:
		return "seek"
	}
	return "many"
}
