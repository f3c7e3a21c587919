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

func (*Suppose) Word() string    { return "suppose" }
func (*Suppose) example() string { return "suppose load = 3 A show lost" }

func (s *Suppose) exprs(do func(...Expr)) {
	for _, x := range s.Sets {
		do(x.X, x.Expr)
	}
	shownExprs(s.Show, do)
}

func (s *Suppose) parse(p *parser) {
	for p.err == nil {
		x := Supposed{X: p.subject(s)}
		if p.err == nil {
			p.definition()
			x.Expr = p.sum()
		}
		s.Sets = append(s.Sets, x)
		if !p.take(",") {
			break
		}
	}
	s.Show = p.showing(s)
}

func (s *Suppose) print(p *printer) {
	for i, x := range s.Sets {
		p.put([]string{"suppose ", ", "}[min(i, 1)])
		p.name(x.X.Parts)
		p.put(" = ")
		p.expr(x.Expr)
	}
	p.put(" show ")
	p.shown(s.Show)
}
