package syntax

// Guess is "guess EXPR [as unit] [with X = V, …]  # QUESTION": a question whose
// answer is kept back until it has been guessed, now or with some inputs of
// other values.
type Guess struct {
	Show Shown
	Sets []Supposed
}

func (*Guess) Word() string           { return "guess" }
func (*Guess) example() string        { return "guess lost  # How many volts are lost?" }
func (g *Guess) Visit(v StudyVisitor) { v.Guess(g) }

func (g *Guess) exprs(do func(...Expr)) {
	shownExprs([]Shown{g.Show}, do)
	setExprs(g.Sets, do)
}

func (g *Guess) parse(p *parser) {
	p.noThat = "a guess"
	g.Show = Shown{Expr: p.expr()}
	if p.tok.isWord("as") {
		g.Show.As = p.unit()
	}
	if p.takeWord("with") {
		g.Sets = p.sets(g)
	}
	p.noteWanted("the question")
}

func (g *Guess) print(p *printer) {
	p.put("guess ")
	p.shown([]Shown{g.Show})
	p.with(g.Sets)
}

// noteWanted refuses a line that says nothing behind a "#".
func (p *parser) noteWanted(what string) {
	if p.done() && p.lineNote == "" {
		p.fail(p.prev.end, say("%s is missing", what).With("write it after a `#`"))
	}
}

// sets reads "X = V, Y = W"; a name alone is that of a case.
func (p *parser) sets(l opened) []Supposed {
	var all []Supposed
	for p.err == nil {
		x := Supposed{X: p.subject(l)}
		if p.err == nil && (len(x.X.Parts) > 1 || !p.afterCase()) {
			p.definition()
			x.Expr = p.sum()
		}
		all = append(all, x)
		if !p.take(",") {
			break
		}
	}
	return all
}

// afterCase reports whether what follows a name can only follow that of a case.
func (p *parser) afterCase() bool { return p.done() || p.tok.is(",") || p.tok.isWord("show") }

// with spells what is put in, if anything is.
func (p *printer) with(all []Supposed) {
	if len(all) > 0 {
		p.put(" with ")
		p.sets(all)
	}
}

func (p *printer) sets(all []Supposed) {
	for i, x := range all {
		if i > 0 {
			p.put(", ")
		}
		p.name(x.X.Parts)
		if x.Expr != nil {
			p.put(" = ")
			p.expr(x.Expr)
		}
	}
}

func setExprs(all []Supposed, do func(...Expr)) {
	for _, x := range all {
		do(x.X, x.Expr)
	}
}

func (*Guess) Help() Help {
	return Help{
		Meaning: "a question whose answer is kept back until somebody has guessed",
		Forms:   []string{"guess P  # QUESTION", "guess P as UNIT with X = V, Y = W  # QUESTION"},
		Says: []string{
			"The question stands alone; its answer is worked out and shown on the answer page, or once it has been guessed.",
			"with puts other values in, as suppose does.",
		},
		Examples: []string{
			"guess north.lost  # How many volts are lost?",
			"guess north.lost as mV with north.length = 16 m  # And at twice the way?",
		},
	}
}
