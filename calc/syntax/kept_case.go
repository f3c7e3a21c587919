package syntax

// Case is "case NAME with X = V, …": other values for some inputs, kept under a
// name, to be supposed together.
type Case struct {
	Name Part
	Sets []Supposed
}

func (*Case) Word() string           { return "case" }
func (*Case) example() string        { return "case open_day with guests = 3, lights = yes" }
func (c *Case) Visit(v StudyVisitor) { v.Case(c) }

func (c *Case) exprs(do func(...Expr)) { setExprs(c.Sets, do) }

func (c *Case) parse(p *parser) {
	p.noThat = "a case"
	c.Name = p.plainName()
	if p.err == nil && !p.takeWord("with") {
		p.fail(p.tok.off, say("`with` must follow, and what the case puts in").With("as in `"+c.example()+"`"))
		return
	}
	c.Sets = p.sets(c)
	for _, s := range c.Sets {
		if p.err == nil && s.Expr == nil {
			p.fail(p.prev.off, say("a case holds values and no other case").With("as in `"+c.example()+"`"))
		}
	}
}

func (c *Case) print(p *printer) {
	p.put("case ", c.Name.Text, " with ")
	p.sets(c.Sets)
}

func (*Case) Help() Help {
	return Help{
		Meaning: "other values for some inputs, kept under a name",
		Forms:   []string{"case NAME with X = VALUE, Y = VALUE"},
		Says: []string{
			"`suppose NAME` says what would be then; `find … with NAME` and `vary … with NAME` ask within it.",
			"X may be a column of a table, a text, or yes or no. Nothing is changed, and a case holds no other case.",
		},
		Examples: []string{"case open_day with north.load = 4 A, north.wire = 2.5 mm2"},
	}
}
