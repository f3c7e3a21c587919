package run

import (
	"fmt"
	"reflect"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/checker/nature"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"railsum/calc/check"
	"railsum/calc/types"
)

// Lower makes or renews the program of a Def from its checked tree.
func (m *Machine) Lower(d *check.Def) {
	k := m.cells[d]
	k.program, k.like, k.gather = nil, nil, nil
	k.deps = k.deps[:0]
	for _, dep := range d.Deps {
		k.deps = append(k.deps, int32(dep.Order))
	}
	if d.Role == check.Column {
		k.gather = make([]*Col, len(d.Cells))
		for i, c := range d.Cells {
			k.gather[i] = m.operand(c)
		}
		return
	}
	switch n := d.Node; n.Op {
	case check.Const:
		k.value = m.constant(n)
	case check.Ref:
		k.like = m.operand(n.Def)
	default:
		m.compile(k, n)
	}
}

// operand is the register of a Def that another one uses. A label of a table
// is no Def of the order: it gets its register here.
func (m *Machine) operand(d *check.Def) *Col {
	k := m.cells[d]
	if k == nil {
		k = &cell{def: d, out: &Col{}}
		m.cells[d] = k
		k.out.reshape(1, 1)
		k.out.V[0] = m.constant(d.Node)
	}
	return k.out
}

func (m *Machine) constant(n *check.Node) float64 {
	if n.Type.Kind == types.Text {
		return m.texts.ID(n.Text)
	}
	return n.Value
}

// compile lowers a tree onto expr: every operation a call whose first argument
// is its step, every operand a constant that holds a register.
func (m *Machine) compile(k *cell, n *check.Node) {
	l := lowering{m: m, def: k.def}
	tree := &parser.Tree{Node: l.node(n, 0, k.out), Source: noSource}
	program, err := compiler.Compile(tree, m.cfg)
	if err != nil {
		panic(fmt.Sprintf("run: lowering: %v", err)) // the tree is ours: an error here is one of ours
	}
	k.program = program
}

var (
	noSource  = file.NewSource("")
	colNature = nature.FromType(reflect.TypeFor[*Col]())
)

type lowering struct {
	m   *Machine
	def *check.Def
}

var opNames = map[check.Op]string{
	check.Neg: "negate", check.Not: "not", check.Add: "add", check.Sub: "sub", check.Mul: "mul", check.Div: "div",
	check.Pow: "power", check.Eq: "eq", check.Ne: "ne", check.Lt: "lt", check.Le: "le", check.Gt: "gt", check.Ge: "ge",
	check.And: "and", check.Or: "or", check.If: "if", check.RowOf: "row", check.Spread: "spread",
}

// node lowers one node. Its answer goes to out, or, if that is nil, to the
// shared register of that depth; its operands use the registers from there on,
// so that none is overwritten before it has been read.
func (l *lowering) node(n *check.Node, depth int, out *Col) ast.Node {
	switch n.Op {
	case check.Const:
		c := &Col{}
		c.reshape(1, 1)
		c.V[0] = l.m.constant(n)
		return constantNode(c)
	case check.Ref:
		return constantNode(l.m.operand(n.Def))
	}
	if out == nil {
		out = l.m.register(depth)
	}
	st := &step{out: out, fn: n.Fn, row: n.Row}
	name := opNames[n.Op]
	if n.Op == check.Call {
		name = shapeOfCall(n)
	}
	if n.Op == check.Spread {
		st.row = len(l.def.Of.Labels)
	}
	st.site = l.m.site(l.def, n)
	args := make([]ast.Node, 1, len(n.Kids)+1)
	args[0] = &ast.ConstantNode{Value: st}
	for i, kid := range n.Kids {
		args = append(args, l.node(kid, depth+1+i, nil))
	}
	call := &ast.CallNode{Callee: &ast.IdentifierNode{Value: name}, Arguments: args}
	call.SetNature(colNature)
	return call
}

func constantNode(c *Col) ast.Node {
	n := &ast.ConstantNode{Value: c}
	n.SetNature(colNature)
	return n
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

// register gives the shared register of a depth.
func (m *Machine) register(depth int) *Col {
	for len(m.registers) <= depth {
		m.registers = append(m.registers, &Col{})
	}
	return m.registers[depth]
}

// site numbers a place where rows can lose their answer.
func (m *Machine) site(d *check.Def, n *check.Node) uint32 {
	m.sites = append(m.sites, Site{Def: d, At: n.At})
	return uint32(len(m.sites) - 1)
}
