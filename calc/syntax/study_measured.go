package syntax

// Measured is "measured X = VALUE +- TOLERANCE": the meter beside the sum.
type Measured struct {
	X    *Name
	Expr Expr
	Tail Tail
}

func (*Measured) Word() string    { return "measured" }
func (*Measured) example() string { return "measured lost = 0.31 V +- 0.01 V" }

func (m *Measured) exprs(do func(...Expr)) {
	do(m.X, m.Expr)
	m.Tail.exprs(do)
}

func (m *Measured) parse(p *parser) {
	m.X = p.subject(m)
	if p.err == nil {
		p.definition()
		p.equals = notFirst
		m.Expr = p.sum()
		m.Tail = p.tail(m.Expr, false)
	}
}

func (m *Measured) print(p *printer) {
	p.put("measured ")
	p.name(m.X.Parts)
	p.put(" = ")
	p.expr(m.Expr)
	p.tail(m.Tail)
}
