package syntax

// Suppose is "suppose X = V, Y = W show P, Q": what would be if some inputs had
// other values.
type Suppose struct {
	Sets []Supposed
	Show []Shown
}

// Supposed is an input with another value for the time of a question.
type Supposed struct {
	X    *Name
	Expr Expr
}

func (*Suppose) Word() string           { return "suppose" }
func (*Suppose) example() string        { return "suppose load = 3 A show lost" }
func (s *Suppose) Visit(v StudyVisitor) { v.Suppose(s) }

func (s *Suppose) exprs(do func(...Expr)) {
	setExprs(s.Sets, do)
	shownExprs(s.Show, do)
}

func (s *Suppose) parse(p *parser) {
	s.Sets = p.sets(s)
	s.Show = p.showing(s)
}

func (s *Suppose) print(p *printer) {
	p.put("suppose ")
	p.sets(s.Sets)
	p.put(" show ")
	p.shown(s.Show)
}

func (*Suppose) Help() Help {
	return Help{
		Meaning: "what would be if some inputs had other values",
		Forms:   []string{"suppose X = VALUE, Y = VALUE show P, Q"},
		Says: []string{
			"What is stands beside what would be, with the change in units and per cent, and the rules that would turn.",
			"Nothing is changed.",
		},
		Examples: []string{"suppose north.load = 3 A, north.wire = 2.5 mm2 show north.lost, north.share"},
	}
}
