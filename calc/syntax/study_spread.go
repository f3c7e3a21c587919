package syntax

// Spread is "spread P, Q": how sure an answer is.
type Spread struct{ Show []Shown }

func (*Spread) Word() string             { return "spread" }
func (*Spread) example() string          { return "spread lost" }
func (s *Spread) exprs(do func(...Expr)) { shownExprs(s.Show, do) }
func (s *Spread) parse(p *parser)        { s.Show = p.shown("spread") }

func (s *Spread) print(p *printer) {
	p.put("spread ")
	p.shown(s.Show)
}
