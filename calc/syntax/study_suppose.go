package syntax

// Suppose is "suppose X = V, CASE show P, Q": what would be if some inputs had
// other values. Without Show it is about all that would be another.
type Suppose struct {
	Sets []Supposed
	Show []Shown
}

// Supposed is an input with another value for the time of a question, or, without
// Expr, a case with all that it puts in.
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
	if p.err == nil && p.done() && s.Sets[len(s.Sets)-1].Expr == nil {
		return
	}
	s.Show = p.showing(s)
}

func (s *Suppose) print(p *printer) {
	p.put("suppose ")
	p.sets(s.Sets)
	if s.Show != nil {
		p.put(" show ")
		p.shown(s.Show)
	}
}

func (*Suppose) Help() Help {
	return Help{
		Meaning: "what would be if some inputs had other values",
		Forms:   []string{"suppose X = VALUE, Y = VALUE show P, Q", "suppose CASE"},
		Says: []string{
			"What is stands beside what would be, with the change in units and per cent, and the rules that would turn.",
			"X may be a column, `runs.wire = 1.5 mm2` for every row of it, a text, or yes or no. Nothing is changed.",
			"Of a case, without show, every answer is told that would be another.",
		},
		Examples: []string{"suppose north.load = 3 A, north.wire = 2.5 mm2 show north.lost, north.share"},
	}
}
