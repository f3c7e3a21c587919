package syntax

// The grammar of expressions, from loose to tight:
//
//	expr    = "if" expr "then" expr "else" expr | or
//	or      = and { "or" and }
//	and     = not { "and" not }
//	not     = "not" not | compare
//	compare = sum { ( "=" | "!=" | "<" | "<=" | ">" | ">=" ) sum }
//	sum     = product { ( "+" | "-" ) product }
//	product = of { ( "*" | "/" ) of | "at" scale }
//	of      = unary { "of" unary }
//	unary   = "-" unary | power
//	power   = primary [ "^" [ "-" ] primary ]
//
// A function that fails gives nil, which nobody looks at: from the first error
// on every token is the end of the row.

// deeper counts a level of nesting; leave it with p.depth--.
func (p *parser) deeper() bool {
	if p.depth++; p.depth > MaxDepth {
		p.fail(p.tok.off, say("this line nests more than 200 deep").With("name the inner parts on lines of their own"))
	}
	return p.err == nil
}

func (p *parser) expr() Expr {
	if p.tok.isWord("if") {
		return p.ifThen()
	}
	x := p.and()
	for p.tok.isWord("or") {
		at := p.here()
		p.advance()
		x = &Binary{At: at, Op: "or", X: x, Y: p.and()}
	}
	return x
}

// here is the place of the next token.
func (p *parser) here() Pos { return p.pos(p.tok.off) }

func (p *parser) ifThen() Expr {
	defer func() { p.depth-- }()
	if !p.deeper() {
		return nil
	}
	start := p.tok.off
	x := &If{At: p.here()}
	p.advance()
	outer := p.equals
	p.equals = compares
	x.Cond = p.expr()
	p.equals = outer
	if !p.takeWord("then") {
		p.ifWithout(start, "then")
		return nil
	}
	x.Then = p.expr()
	if !p.takeWord("else") {
		p.ifWithout(start, "else")
		return nil
	}
	x.Else = p.expr()
	return x
}

func (p *parser) and() Expr {
	x := p.not()
	for p.tok.isWord("and") {
		at := p.here()
		p.advance()
		x = &Binary{At: at, Op: "and", X: x, Y: p.not()}
	}
	return x
}

func (p *parser) not() Expr {
	if !p.tok.isWord("not") {
		return p.compare()
	}
	defer func() { p.depth-- }()
	if !p.deeper() {
		return nil
	}
	at := p.here()
	p.advance()
	if p.equals == notFirst {
		p.equals = compares
	}
	return &Unary{At: at, Op: "not", X: p.not()}
}

var comparisons = map[string]byte{"=": '=', "!=": '=', "<": '<', "<=": '<', ">": '>', ">=": '>'}

func (p *parser) compare() Expr {
	x := p.sum()
	if p.tok.kind != op || comparisons[p.tok.str] == 0 {
		if p.equals == notFirst {
			p.equals = compares
		}
		return x
	}
	c := &Compare{X: []Expr{x}}
	way := comparisons[p.tok.str]
	for p.tok.kind == op && comparisons[p.tok.str] != 0 {
		switch {
		case p.tok.str == "=" && p.equals != compares:
			p.secondEquals(x)
		case len(c.Ops) > 0 && (way == '=' || comparisons[p.tok.str] != way):
			p.fail(p.tok.off, say("a chain of comparisons goes one way, as in `2 m <= x <= 5 m`").
				With("join two comparisons with `and`"))
		}
		c.At = append(c.At, p.here())
		c.Ops = append(c.Ops, p.tok.str)
		p.advance()
		c.X = append(c.X, p.sum())
	}
	if p.equals == notFirst {
		p.equals = compares
	}
	return c
}

func (p *parser) sum() Expr {
	x := p.product()
	glued := false // the sign before stood like that of a tolerance: " +10 %"
	for p.tok.is("+") || p.tok.is("-") {
		b := &Binary{At: p.here(), Op: p.tok.str, X: x}
		sign := p.tok
		p.advance()
		tight := sign.spaced && !p.tok.spaced
		b.Y = p.product()
		if p.err != nil {
			return nil
		}
		p.twoReadingsOfSum(b, sign)
		if b.Op == "-" && glued && tight && isPercent(b.Y) {
			if plus, ok := x.(*Binary); ok && isPercent(plus.Y) && !isPercent(plus.X) {
				p.unequalTolerance(sign.off)
			}
		}
		glued = tight && b.Op == "+"
		x = b
	}
	return x
}

func (p *parser) product() Expr {
	x := p.of()
	for p.err == nil {
		switch {
		case p.tok.is("*") || p.tok.is("/"):
			b := &Binary{At: p.here(), Op: p.tok.str, X: x}
			before, sign := p.prev, p.tok
			p.advance()
			b.Y = p.of()
			if sign.str == "/" && p.err == nil {
				p.twoReadingsOfQuotient(b, before, sign)
			}
			x = b
		case p.tok.isWord("at"):
			x = p.scaled(x)
		default:
			return x
		}
	}
	return nil
}

// scaled reads what follows "at".
func (p *parser) scaled(x Expr) Expr {
	s := &Scaled{At: p.here(), X: x}
	if hasScale(x) {
		p.twoScales(p.tok.off, x)
	}
	if q := bareQuotient(x); q != nil {
		p.quotientAt(p.tok.off, x, q)
	}
	if t, ok := p.scale(); ok {
		p.tok = t
	} else {
		p.advance()
	}
	switch {
	case p.tok.kind == word && p.tok.parts != nil:
		s.By = &Name{Parts: p.tok.parts}
	case p.tok.kind == word && IsReserved(p.tok.str):
		p.reserved(p.tok)
	case p.tok.kind == word:
		s.By = &ScaleName{At: p.here(), Symbol: p.tok.str}
	case p.tok.kind == number && p.tok.lit.Form == Ratio:
		s.By = p.tok.lit
	case p.tok.is("("):
		s.By = p.group()
		return s
	default:
		p.noScale()
	}
	p.advance()
	return s
}

// hasScale reports whether a term has a scale already.
func hasScale(x Expr) bool {
	switch x := x.(type) {
	case *Scaled:
		return true
	case *Binary:
		return (x.Op == "*" || x.Op == "/") && (hasScale(x.X) || hasScale(x.Y))
	}
	return false
}

func (p *parser) of() Expr {
	x := p.unary()
	for p.tok.isWord("of") {
		b := &Binary{At: p.here(), Op: "of", X: x}
		p.advance()
		b.Y = p.unary()
		x = b
	}
	return x
}

func (p *parser) unary() Expr {
	if !p.tok.is("-") {
		return p.power()
	}
	defer func() { p.depth-- }()
	if !p.deeper() {
		return nil
	}
	at := p.here()
	p.advance()
	if p.tok.kind == number && p.tok.lit.Unit.Point() && !p.peekIs("^") {
		return p.belowZero(at)
	}
	return &Unary{At: at, Op: "-", X: p.unary()}
}

func (p *parser) peekIs(o string) bool {
	t := p.peek()
	return t.is(o)
}

// belowZero reads a temperature with a minus: one literal, for the number of
// degrees is what is negative, not the kelvins.
func (p *parser) belowZero(at Pos) Expr {
	l := *p.tok.lit
	r := p.tok.num.rat()
	l.At, l.Text, l.Value = at, "-"+l.Text, l.Unit.SI(r.Neg(r))
	if l.Value < 0 {
		p.belowAbsoluteZero(p.tok.off, l.Text)
	}
	p.advance()
	return &l
}

func (p *parser) power() Expr {
	base := p.tok
	x := p.primary()
	if !p.tok.is("^") {
		return x
	}
	b := &Binary{At: p.here(), Op: "^", X: x}
	if l, ok := x.(*Literal); ok && base.kind == number && !l.Unit.IsZero() && l.Form != Code {
		p.raisedQuantity(l)
	}
	p.advance()
	if p.tok.is("-") {
		minus := &Unary{At: p.here(), Op: "-"}
		p.advance()
		minus.X = p.primary()
		b.Y = minus
	} else {
		b.Y = p.primary()
	}
	if p.tok.is("^") {
		p.towerOfPowers(b)
	}
	return b
}

func (p *parser) primary() Expr {
	t := p.tok
	switch {
	case t.kind == number:
		p.advance()
		return t.lit
	case t.kind == day:
		p.advance()
		return &Date{At: p.pos(t.off), Value: t.lit.Value}
	case t.kind == text:
		p.advance()
		return &Text{At: p.pos(t.off), Value: t.str}
	case t.kind == word:
		return p.word()
	case t.is("("):
		return p.group()
	}
	p.noValue()
	return nil
}

// word reads a name, a call or one of the words that are values.
func (p *parser) word() Expr {
	t := p.tok
	at := p.here()
	switch {
	case t.parts != nil:
		if IsReserved(t.parts[0].Text) {
			p.reserved(t)
		}
		p.advance()
		return &Name{Parts: t.parts}
	case t.str == "yes" || t.str == "no":
		p.advance()
		return &Truth{At: at, Value: t.str == "yes"}
	case t.str == "none":
		p.advance()
		return &None{At: at}
	case t.str == "that":
		if p.noThat != "" {
			p.fail(p.tok.off, say("that is for questions and named values and has no meaning in %s", p.noThat).
				With("give the question a name and write that here"))
		}
		p.advance()
		return &That{At: at}
	case t.str == "not" || t.str == "if":
		p.fail(p.tok.off, say("%s cannot stand after an operator", p.tok.str).
			With("put it in parentheses, from `"+p.tok.str+"` on"))
		return nil
	case classes[t.str] == joiningWord:
		p.noValue()
		return nil
	case p.at(p.off) == '(':
		return p.call()
	case IsReserved(t.str):
		p.reserved(t)
		return nil
	}
	p.advance()
	return &Name{Parts: []Part{{At: at, Text: t.str}}}
}

// inside reads what stands in parentheses, where "=" compares again.
func (p *parser) inside(read func()) {
	outer := p.equals
	p.equals = compares
	p.openings++
	read()
	p.openings--
	p.equals = outer
}

func (p *parser) group() Expr {
	defer func() { p.depth-- }()
	if !p.deeper() {
		return nil
	}
	start := p.tok.off
	g := &Group{At: p.here()}
	p.advance()
	p.inside(func() { g.X = p.expr() })
	if !p.take(")") {
		p.notClosed(start)
	}
	return g
}

func (p *parser) call() Expr {
	defer func() { p.depth-- }()
	if !p.deeper() {
		return nil
	}
	c := &Call{At: p.here(), Name: p.tok.str}
	p.advance()
	start := p.tok.off
	p.advance()
	if p.take(")") {
		return c
	}
	p.inside(func() {
		for p.err == nil {
			c.Args = append(c.Args, p.expr())
			if !p.take(",") {
				break
			}
		}
	})
	if !p.take(")") {
		p.notClosed(start)
	}
	return c
}
