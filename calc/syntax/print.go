package syntax

import (
	"strings"

	"railsum/units"
)

// A printer writes trees in their one canonical spelling.
type printer struct {
	strings.Builder
	unit func(units.Unit) string // how units are spelled, nil for as in a file
}

// PrintExpr gives the canonical spelling of an expression.
func PrintExpr(e Expr) string { return PrintExprIn(e, nil) }

// PrintExprIn is PrintExpr with the units behind numbers spelled otherwise: for
// a reader, and not for a file.
func PrintExprIn(e Expr, unit func(units.Unit) string) string {
	p := printer{unit: unit}
	p.expr(e)
	return p.String()
}

// String gives the name as it is written.
func (n *Name) String() string {
	if len(n.Parts) == 1 && !n.Parts[0].Quoted {
		return n.Parts[0].Text
	}
	var p printer
	p.name(n.Parts)
	return p.String()
}

func (p *printer) put(parts ...string) {
	for _, s := range parts {
		p.WriteString(s)
	}
}

func (p *printer) name(parts []Part) {
	for i, part := range parts {
		if i > 0 {
			p.put(".")
		}
		if part.Quoted {
			p.quote(part.Text)
		} else {
			p.put(part.Text)
		}
	}
}

func (p *printer) quote(s string) {
	p.put(`"`, strings.ReplaceAll(s, `"`, `""`), `"`)
}

func (p *printer) expr(e Expr) {
	switch e := e.(type) {
	case *Literal:
		number, ok := strings.CutSuffix(e.Text, " "+e.Unit.String())
		if p.unit == nil || !ok || e.Unit.IsZero() {
			p.put(e.Text)
			break
		}
		p.put(number, " ", p.unit(e.Unit))
	case *Date:
		p.put(units.FormatDate(e.Value))
	case *Text:
		p.quote(e.Value)
	case *Truth:
		if e.Value {
			p.put("yes")
		} else {
			p.put("no")
		}
	case *None:
		p.put("none")
	case *Name:
		p.name(e.Parts)
	case *That:
		p.put("that")
	case *Group:
		p.put("(")
		p.expr(e.X)
		p.put(")")
	case *Unary:
		p.put(e.Op)
		if e.Op == "not" {
			p.put(" ")
		}
		p.expr(e.X)
	case *Binary:
		p.binary(e)
	case *Compare:
		p.expr(e.X[0])
		for i, op := range e.Ops {
			p.put(" ", op, " ")
			p.expr(e.X[i+1])
		}
	case *Scaled:
		p.expr(e.X)
		p.put(" at ")
		p.expr(e.By)
	case *ScaleName:
		p.put(e.Symbol)
	case *Call:
		p.put(e.Name, "(")
		p.list(e.Args)
		p.put(")")
	case *If:
		p.put("if ")
		p.expr(e.Cond)
		p.put(" then ")
		p.expr(e.Then)
		p.put(" else ")
		p.expr(e.Else)
	}
}

// binary prints a chain of operators from its left end, so that a row of two
// thousand terms is no deep recursion.
func (p *printer) binary(e *Binary) {
	var chain []*Binary
	var first Expr = e
	for {
		b, ok := first.(*Binary)
		if !ok {
			break
		}
		chain = append(chain, b)
		first = b.X
	}
	p.expr(first)
	for i := len(chain) - 1; i >= 0; i-- {
		b := chain[i]
		if b.Op == "^" {
			p.put("^")
		} else {
			p.put(" ", b.Op, " ")
		}
		p.expr(b.Y)
	}
}

func (p *printer) list(es []Expr) {
	for i, e := range es {
		if i > 0 {
			p.put(", ")
		}
		p.expr(e)
	}
}

func (p *printer) tail(t Tail) {
	p.tol(t.Tol)
	p.as(t.As)
	p.whole(t.Whole)
	p.values(t.Range)
	if t.Usual != nil {
		p.put(" usual ")
		p.name(t.Usual.Parts)
	}
}

func (p *printer) values(r Range) {
	if r.From != nil {
		p.put(" from ")
		p.expr(r.From)
		p.put(" to ")
		p.expr(r.To)
	}
	if r.Among != nil {
		p.put(" among ")
		p.list(r.Among)
	}
}

func (p *printer) tol(t *Tol) {
	if t != nil {
		p.put(" +- ", t.By.Text)
	}
}

func (p *printer) whole(is bool) {
	if is {
		p.put(" ", whole)
	}
}

func (p *printer) as(u *UnitRef) {
	switch {
	case u == nil:
	case u.Exactly:
		p.put(" as ", exactly, " ", u.Unit.String())
	default:
		p.put(" as ", u.Unit.String())
	}
}
