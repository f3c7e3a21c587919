package syntax

import (
	"path"
	"strings"
)

// Walk calls f with every expression that stands on a line, the names that a
// study is about included, and with every expression within them, in the order
// in which they are written.
func Walk(n Node, f func(Expr)) {
	n.exprs(func(es ...Expr) {
		for _, e := range es {
			within(e, f)
		}
	})
}

// within calls f with an expression and every one in it. It takes nil for none.
func within(e Expr, f func(Expr)) {
	if e == nil {
		return
	}
	f(e)
	for _, x := range Operands(e) {
		within(x, f)
	}
}

// Operands are the expressions directly in another.
func Operands(e Expr) []Expr {
	switch e := e.(type) {
	case *Group:
		return []Expr{e.X}
	case *Unary:
		return []Expr{e.X}
	case *Binary:
		return []Expr{e.X, e.Y}
	case *Compare:
		return e.X
	case *Scaled:
		return []Expr{e.X, e.By}
	case *Call:
		return e.Args
	case *If:
		return []Expr{e.Cond, e.Then, e.Else}
	}
	return nil
}

func (*Blank) exprs(func(...Expr))       {}
func (*Remark) exprs(func(...Expr))      {}
func (*Header) exprs(func(...Expr))      {}
func (*Source) exprs(func(...Expr))      {}
func (*Prefer) exprs(func(...Expr))      {}
func (*Broken) exprs(func(...Expr))      {}
func (n *Rule) exprs(do func(...Expr))   { do(n.Cond) }
func (n *Hazard) exprs(do func(...Expr)) { do(n.If) }

func (n *Define) exprs(do func(...Expr)) {
	do(n.Expr)
	n.Tail.exprs(do)
}

func (n *Question) exprs(do func(...Expr)) {
	do(n.Expr)
	n.Tail.exprs(do)
}

func (n *Ask) exprs(do func(...Expr)) {
	do(n.Expr)
	n.Tail.exprs(do)
}

func (n *Tell) exprs(do func(...Expr)) {
	do(n.Expr)
	n.Tail.exprs(do)
}

func (n *Use) exprs(do func(...Expr)) {
	if n.Like != nil {
		do(&Name{Parts: []Part{*n.Like}})
	}
	if n.From != nil {
		do(n.From)
	}
	for _, s := range n.With {
		do(s.Expr)
	}
}

func (n *Table) exprs(do func(...Expr)) {
	for _, h := range n.Heads {
		do(h.Default.Expr)
	}
	for _, r := range n.Rows {
		for _, c := range r.Cells {
			do(c.Expr) // nil for an empty one
		}
	}
}

func (r Range) exprs(do func(...Expr)) {
	do(r.From, r.To)
	do(r.Among...)
}

// A Meaning is what a line makes of a name that it defines.
type Meaning string

const (
	ValueName  Meaning = "a value"
	TableName  Meaning = "a table"
	PlacedName Meaning = "a sheet in use"
	CaseName   Meaning = "a case"
)

// A Defined is a name that a line gives a meaning.
type Defined struct {
	Parts   []Part
	Meaning Meaning
}

// String gives the name without quotes: they make no difference to what a name
// is.
func (d Defined) String() string {
	if len(d.Parts) == 1 {
		return d.Parts[0].Text
	}
	words := make([]string, len(d.Parts))
	for i, p := range d.Parts {
		words[i] = p.Text
	}
	return strings.Join(words, ".")
}

// Defines lists the names that a line gives a meaning.
func Defines(n Node) []Defined {
	switch n := n.(type) {
	case *Define:
		return []Defined{{n.Target.Parts, ValueName}}
	case *Ask:
		return []Defined{{[]Part{n.Name}, ValueName}}
	case *Tell:
		if n.Expr != nil {
			return []Defined{{[]Part{n.Name}, ValueName}}
		}
	case *Table:
		return []Defined{{[]Part{n.Name}, TableName}}
	case *Case:
		return []Defined{{[]Part{n.Name}, CaseName}}
	case *Use:
		names := make([]Defined, len(n.Names))
		for i, p := range n.Names {
			names[i] = Defined{[]Part{p}, PlacedName}
		}
		return names
	}
	return nil
}

// PlacedAs is what a sheet is called that is placed without a name: as its file,
// empty where that is no name.
func (u *Use) PlacedAs() string {
	name := strings.TrimSuffix(path.Base(u.Sheet), sheetEnding)
	for i := range len(name) {
		if !isNameByte(name[i]) {
			return ""
		}
	}
	if IsReserved(name) {
		return ""
	}
	return name
}
