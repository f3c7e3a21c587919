package syntax

// Slip is "slip NAME = EXPR  # SENTENCE": what people get for an answer of a
// sheet by a usual mistake, and why it is one.
type Slip struct {
	X    *Name
	Expr Expr
}

func (*Slip) Word() string           { return "slip" }
func (*Slip) example() string        { return "slip lost = load * length  # that is no voltage" }
func (s *Slip) Visit(v StudyVisitor) { v.Slip(s) }

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

func (*Slip) Help() Help {
	return Help{
		Meaning: "what people get for an answer of a sheet by a usual mistake",
		Forms:   []string{"slip NAME = EXPR  # EXPLANATION"},
		Says: []string{
			"It belongs to a sheet and has the dimension of its answer; about SHEET shows it.",
			"A wrong guess that comes to the same gets the explanation as its answer.",
		},
		Before:   []string{"ask copper = 0.2 ohm", "tell volts = north.load * 2 * copper"},
		Examples: []string{"slip volts = north.load * copper  # that counts one way only"},
	}
}
