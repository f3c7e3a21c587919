package syntax

// Spread is "spread P, Q": how sure an answer is.
type Spread struct{ Show []Shown }

func (*Spread) Word() string             { return "spread" }
func (*Spread) example() string          { return "spread lost" }
func (s *Spread) Visit(v StudyVisitor)   { v.Spread(s) }
func (s *Spread) exprs(do func(...Expr)) { shownExprs(s.Show, do) }
func (s *Spread) parse(p *parser)        { s.Show = p.shown("spread") }

func (s *Spread) print(p *printer) {
	p.put("spread ")
	p.shown(s.Show)
}

func (*Spread) Help() Help {
	return Help{
		Meaning: "how sure an answer is, given the tolerances of what it depends on",
		Forms:   []string{"spread P, Q"},
		Says: []string{
			"Tolerances are given where a value is: track = 15 V +- 5 %, in a line or in a cell.",
			"The worst case is searched, not only at the ends of the tolerances. Root sum square is to first order.",
			"The range of 95 % of cases comes from 100000 samples, drawn evenly within each tolerance, the same every time.",
			"Each tolerance's share is told, worst first, and in what share of cases the rules hold.",
		},
		Examples: []string{"spread north.lost"},
	}
}
