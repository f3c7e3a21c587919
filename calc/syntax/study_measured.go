package syntax

// Measured is "measured X = VALUE +- TOLERANCE on DATE": the meter beside the sum.
type Measured struct {
	X    *Name
	Expr Expr
	Tail Tail
	On   Expr // nil if no date is said
}

func (*Measured) Word() string           { return "measured" }
func (*Measured) example() string        { return "measured lost = 0.31 V +- 0.01 V" }
func (m *Measured) Visit(v StudyVisitor) { v.Measured(m) }

func (m *Measured) exprs(do func(...Expr)) {
	do(m.X, m.Expr, m.On)
	m.Tail.exprs(do)
}

func (m *Measured) parse(p *parser) {
	m.X = p.subject(m)
	if p.err == nil {
		p.definition()
		p.equals = notFirst
		m.Expr = p.sum()
		m.Tail = p.tail(m.Expr, bareTail)
		if p.tok.isWord("on") {
			p.withDates(func() { m.On = p.onDate() })
		}
	}
}

func (m *Measured) print(p *printer) {
	p.put("measured ")
	p.name(m.X.Parts)
	p.put(" = ")
	p.expr(m.Expr)
	p.tail(m.Tail)
	if m.On != nil {
		p.put(" on ")
		p.expr(m.On)
	}
}

func (*Measured) Help() Help {
	return Help{
		Meaning: "the meter beside the sum",
		Forms:   []string{"measured P = VALUE", "measured P = VALUE +- TOLERANCE", "measured P = VALUE +- TOLERANCE on DATE"},
		Says: []string{
			"It tells the difference, whether the meter lies within the tolerances of the sum and its own,",
			"and which single input, changed to what, would explain what the meter says, the least change first.",
			"A date is written as 2026-11-25 here; `list measured` has the oldest first.",
		},
		Examples: []string{"measured north.lost = 0.8 V +- 0.02 V", "measured north.lost = 0.8 V on 2026-11-25"},
	}
}
