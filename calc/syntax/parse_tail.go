package syntax

import (
	"railsum/units"
	"railsum/units/words"
)

// tails says what may follow the expression of a line besides a tolerance and a
// unit.
type tails uint8

const (
	bareTail  tails = iota
	namedTail       // whole
	askTail         // whole, and a range or a list
)

// tail reads what may follow an expression at the end of a line, each once and
// in this order: +- tolerance, as unit, whole, from a to b or among a, b, usual
// column.
func (p *parser) tail(x Expr, allowed tails) Tail {
	var t Tail
	last := 0
	for p.err == nil {
		kind := 0
		switch {
		case p.tok.is("+-"):
			kind = 1
		case p.tok.isWord("as"):
			kind = 2
		case p.tok.isWord(whole):
			kind = 3
		case p.tok.isWord("from"), p.tok.isWord("among"):
			kind = 4
		case allowed == askTail && p.tok.isWord("usual"):
			kind = 5
		}
		switch {
		case kind == 0:
			return t
		case kind == last:
			p.fail(p.tok.off, say("`%s` appears twice", p.tok.str).With("take one of them out"))
		case kind < last:
			p.fail(p.tok.off, say("the ends of this line are in another order").
				With("write the tolerance first, then `as` with a unit, then `whole`, then the range"))
		case kind == 3 && allowed == bareTail:
			p.fail(p.tok.off, say("only an input, a named value or a column is held to be whole").With("leave it out"))
		case kind == 3 && t.Tol != nil:
			p.fail(p.tok.off, say("a whole number has no tolerance").
				With("leave one of them out: `"+PrintExpr(x)+" whole`"))
		case kind == 4 && allowed != askTail:
			p.fail(p.tok.off, say("only an ask line has a range").
				With("write the range as a rule, as in `must 2 m <= x <= 5 m`"))
		}
		if p.err != nil {
			return t
		}
		last = kind
		switch {
		case kind == 1:
			t.Tol = p.tolerance(x)
		case kind == 2:
			t.As = p.unit()
		case p.takeWord(whole):
			t.Whole = true
		case kind == 4:
			t.Range = p.values()
		default:
			t.Usual = p.usual()
		}
	}
	return t
}

// usual reads the column behind the word.
func (p *parser) usual() *Name {
	p.advance()
	t := p.tok
	if t.kind != word || len(t.parts) < 2 {
		p.fail(t.off, say("a column must follow").With("as in `usual conductors.area`"))
		return nil
	}
	p.advance()
	return &Name{Parts: t.parts}
}

// values reads "from a to b" or "among a, b, c", if either follows.
func (p *parser) values() Range {
	var r Range
	switch {
	case p.takeWord("from"):
		r.From = p.sum()
		if !p.takeWord("to") {
			p.fail(p.tok.off, say("a to is missing in this range").
				With("write `from … to …`, with parentheses round a comparison"))
		}
		r.To = p.sum()
	case p.tok.isWord("among"):
		for ok := true; ok && p.err == nil; ok = p.tok.is(",") {
			p.advance()
			r.Among = append(r.Among, p.sum())
		}
	}
	return r
}

// tolerance reads "+- 5 %" behind the expression x.
func (p *parser) tolerance(x Expr) *Tol {
	sign := p.tok
	tol := &Tol{At: p.here()}
	p.advance()
	t := p.tok
	if t.kind != number {
		p.toleranceWanted(sign, x)
		return nil
	}
	tol.By = t.lit
	p.advance()
	if p.err != nil {
		return nil
	}
	if p.tok.kind == op && (p.tok.str == "+" || p.tok.str == "-" || p.tok.str == "*" || p.tok.str == "/") ||
		p.tok.isWord("of") {
		p.toleranceNotLast(x, tol)
	}
	p.judgeTolerance(t, x, tol)
	return tol
}

// judgeTolerance checks what can be said of a tolerance without knowing the
// dimension of a name.
func (p *parser) judgeTolerance(t token, x Expr, tol *Tol) {
	l, isLiteral := x.(*Literal)
	by := tol.By
	switch {
	case by.Unit.Point():
		p.toleranceIsPoint(t)
	case !isLiteral:
	case by.Unit.IsZero() && l.Unit.Percent() && by.Value < 1:
	case by.Unit.IsZero() && l.Unit.Percent():
		p.fail(t.off, say("%s what?", t.lit.Text).
			With("write `"+l.Text+" +- "+units.Format(by.Value/100)+"` for that many per cent either way"))
	case by.Unit.IsZero() && !l.Unit.IsZero():
		p.fail(t.off, say("%s what?", t.lit.Text).
			With("write `"+l.Text+" +- "+t.lit.Text+" "+l.Unit.String()+"` or `"+l.Text+" +- "+t.lit.Text+" %`"))
	case l.Unit.IsZero() && !by.Unit.IsZero() && !by.Unit.Percent():
		p.fail(t.off, say("the value %s has no unit and its tolerance has one", l.Text).
			With("write `"+l.Text+" "+by.Unit.String()+" +- "+by.Text+"`"))
	case l.Value == 0 && by.Unit.Percent() && !l.Unit.Point():
		p.notices = append(p.notices, Diag{At: p.pos(t.off), Notice: true,
			Wrong: words.Say("%s of nothing is nothing", by.Text).
				With("write the tolerance as a quantity")})
	}
}
