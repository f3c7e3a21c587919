package syntax

// Measured is "measured X = VALUE +- TOLERANCE": the meter beside the sum.
type Measured struct {
	X    *Name
	Expr Expr
	Tail Tail
}

func (*Measured) Word() string           { return "measured" }
func (*Measured) example() string        { return "measured lost = 0.31 V +- 0.01 V" }
func (m *Measured) Visit(v StudyVisitor) { v.Measured(m) }

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
		m.Tail = p.tail(m.Expr, bareTail)
	}
}

func (m *Measured) print(p *printer) {
	p.put("measured ")
	p.name(m.X.Parts)
	p.put(" = ")
	p.expr(m.Expr)
	p.tail(m.Tail)
}

func (*Measured) Help() Help {
	return Help{
		Meaning: "the meter beside the sum",
		Forms:   []string{"measured P = VALUE", "measured P = VALUE +- TOLERANCE"},
		Says: []string{
			"It tells the difference, whether the meter lies within the tolerances of the sum and its own,",
			"and which single input, changed to what, would explain what the meter says, the least change first.",
		},
		Examples: []string{"measured north.lost = 0.8 V +- 0.02 V"},
	}
}
