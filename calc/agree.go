package calc

import (
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/view"
	"railsum/units/words"
)

// Agree fills an order to agree in: what it is about with the values that it has
// now and the edition of its sheet. It says why it cannot.
func (b *Book) Agree(order *syntax.Agree) (*syntax.Agree, *syntax.Diag) {
	p, items, defs, diag := b.C.Agreeing(order)
	if diag != nil {
		return nil, diag
	}
	full := &syntax.Agree{Edition: p.Sheet.Edition}
	for n, i := range items {
		if i.At == nil {
			if i.At = b.writtenOut(defs[n]); i.At == nil {
				continue // it has no value to agree to
			}
		}
		full.Items = append(full.Items, i)
	}
	if len(full.Items) == 0 {
		return nil, &syntax.Diag{At: order.Items[0].X.Pos(),
			Wrong: words.Say("%s has no value to agree to", order.Items[0].X).With("mend the line it follows from")}
	}
	return full, nil
}

// writtenOut is the value of an input as it is written in a line, so that reading it
// gives that value again; nil if it has none.
func (b *Book) writtenOut(d *check.Def) syntax.Expr {
	v := b.Value(d)
	if v == nil || v.Column() {
		return nil
	}
	text := v.String()
	switch {
	case v.Fault(0) != "" && !v.Sound():
		return nil
	case v.Quantity() && v.Fault(0) == "" && (v.Literal.IsZero() || !v.Tol.IsZero()):
		if text = view.Spelled(v.InUnit(0), 17); v.Unit.Follows() {
			text += " " + v.Unit.String()
		}
		if short := v.Cell(0); b.reads(short, d) {
			text = short
		}
	}
	l, _ := syntax.ParseLine(text)
	q, ok := l.Node.(*syntax.Question)
	if !ok || hasError(l.Errors) {
		return nil
	}
	return q.Expr
}

// reads reports whether a spelling is that of the value a Def has, to the last
// digit.
func (b *Book) reads(text string, d *check.Def) bool {
	l, _ := syntax.ParseLine(text)
	q, ok := l.Node.(*syntax.Question)
	if !ok || hasError(l.Errors) {
		return false
	}
	sign, e := 1.0, q.Expr
	if u, is := e.(*syntax.Unary); is && u.Op == "-" {
		sign, e = -1, u.X
	}
	lit, ok := e.(*syntax.Literal)
	col := b.M.Col(d)
	return ok && col != nil && len(col.V) == 1 && sign*lit.Value == col.V[0]
}
