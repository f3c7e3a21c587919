package syntax

// Slip is "slip NAME = EXPR  # SENTENCE": what people get for an answer of a
// sheet by a usual mistake, and why it is one.
type Slip struct {
	X    *Name
	Expr Expr
}

func (*Slip) Word() string    { return "slip" }
func (*Slip) example() string { return "slip lost = load * length  # that is no voltage" }

func (s *Slip) exprs(do func(...Expr)) { do(s.X, s.Expr) }

func (s *Slip) parse(p *parser) {
	p.noThat = "a slip"
	s.X = p.subject(s)
	if p.err == nil {
		p.definition()
		p.equals = notFirst
		s.Expr = p.expr()
	}
	p.noteWanted("the explanation")
}

func (s *Slip) print(p *printer) {
	p.put("slip ")
	p.name(s.X.Parts)
	p.put(" = ")
	p.expr(s.Expr)
}
