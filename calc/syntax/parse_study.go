package syntax

import "math"

// study reads a line that puts a question to the other lines. The word that
// opens it is the next token.
func (p *parser) study(w string) Node {
	p.advance()
	p.noThat = "a study"
	switch w {
	case "find":
		return p.find()
	case "vary":
		return p.vary()
	case "suppose":
		return p.suppose()
	case "spread":
		return &Spread{Show: p.shown("spread")}
	case "working":
		return p.working()
	}
	return p.measured()
}

// subject reads the name of the input that a study is about.
func (p *parser) subject(cure string) *Name {
	t := p.tok
	if t.kind != word || t.parts == nil && IsReserved(t.str) {
		p.subjectWanted(cure)
		return nil
	}
	n := &Name{Parts: t.parts}
	if t.parts == nil {
		n.Parts = []Part{{At: p.here(), Text: t.str}}
	}
	p.advance()
	return n
}

// find reads "X [from A to B | among LIST] so COND [as unit]".
func (p *parser) find() Node {
	f := &Find{X: p.subject("find length so lost = 1 V")}
	switch {
	case p.takeWord("from"):
		f.From, f.To = p.fromTo()
	case p.tok.isWord("among"):
		f.Among = p.among()
	}
	if !p.takeWord("so") {
		p.soWanted()
		return f
	}
	start := p.tok.off
	cond := p.expr()
	if p.err != nil {
		return f
	}
	cmp, ok := cond.(*Compare)
	if !ok || len(cmp.Ops) != 1 {
		p.oneComparison(start, cond)
		return f
	}
	f.So = cmp
	if p.tok.isWord("as") {
		f.As = p.unit()
	}
	return f
}

// fromTo reads "A to B" behind "from".
func (p *parser) fromTo() (from, to Expr) {
	from = p.sum()
	if !p.takeWord("to") {
		p.toWanted()
		return from, nil
	}
	return from, p.sum()
}

// among reads the values behind "among".
func (p *parser) among() []Expr {
	var list []Expr
	for ok := true; ok && p.err == nil; ok = p.tok.is(",") {
		p.advance()
		list = append(list, p.sum())
	}
	return list
}

// vary reads "X from a to b by c [and Y …] show P, Q".
func (p *parser) vary() Node {
	v := &Vary{}
	for p.err == nil {
		if len(v.Axes) == 2 {
			p.twoAxesOnly()
			break
		}
		v.Axes = append(v.Axes, p.axis())
		if !p.takeWord("and") {
			break
		}
	}
	if p.err == nil && !p.takeWord("show") {
		p.showWanted("vary")
	}
	if p.err == nil {
		v.Show = p.shown("show")
	}
	return v
}

func (p *parser) axis() Axis {
	a := Axis{X: p.subject("vary length from 2 m to 20 m by 2 m show lost")}
	switch {
	case p.err != nil:
	case p.tok.isWord("among"):
		a.Among = p.among()
	case p.takeWord("from"):
		a.From, a.To = p.fromTo()
		switch {
		case p.err != nil:
		case p.takeWord("by"):
			a.By = p.sum()
		case p.takeWord("over"):
			a.Steps, a.StepsAt = p.steps()
		default:
			p.stepWanted()
		}
	default:
		p.axisWanted()
	}
	return a
}

// steps reads "n steps" behind "over".
func (p *parser) steps() (int, Pos) {
	t, at := p.tok, p.here()
	if t.kind != number || t.lit.Form != Plain || t.lit.Value != math.Trunc(t.lit.Value) || t.lit.Value < 1 || t.lit.Value > math.MaxInt32 {
		p.stepsWanted()
		return 0, at
	}
	p.advance()
	if !p.takeWord("steps") && !p.takeWord("step") {
		p.stepsWanted()
	}
	return int(t.lit.Value), at
}

// suppose reads "X = V, Y = W show P, Q".
func (p *parser) suppose() Node {
	s := &Suppose{}
	for p.err == nil {
		x := Supposed{X: p.subject("suppose load = 3 A show lost")}
		if p.err == nil {
			p.definition()
			x.Expr = p.sum()
		}
		s.Sets = append(s.Sets, x)
		if !p.take(",") {
			break
		}
	}
	if p.err == nil && !p.takeWord("show") {
		p.showWanted("suppose")
	}
	if p.err == nil {
		s.Show = p.shown("show")
	}
	return s
}

// shown reads what a study shows: "P [as unit], Q [as unit]".
func (p *parser) shown(after string) []Shown {
	var all []Shown
	for p.err == nil {
		if p.done() {
			p.shownWanted(after)
			break
		}
		s := Shown{Expr: p.expr()}
		if p.tok.isWord("as") {
			s.As = p.unit()
		}
		all = append(all, s)
		if !p.take(",") {
			break
		}
	}
	return all
}

// working reads "P [to N levels]".
func (p *parser) working() Node {
	w := &Working{X: p.subject("working lost")}
	if p.err == nil && p.takeWord("to") {
		t := p.tok
		if t.kind != number || t.lit.Form != Plain || t.lit.Value < 1 || t.lit.Value > MaxDepth || t.lit.Value != math.Trunc(t.lit.Value) {
			p.levelsWanted()
			return w
		}
		w.Levels = int(t.lit.Value)
		p.advance()
		if !p.takeWord("levels") && !p.takeWord("level") {
			p.levelsWanted()
		}
	}
	return w
}

// measured reads "X = VALUE +- TOLERANCE".
func (p *parser) measured() Node {
	m := &Measured{X: p.subject("measured lost = 0.31 V +- 0.01 V")}
	if p.err == nil {
		p.definition()
		p.equals = notFirst
		m.Expr = p.sum()
		m.Tail = p.tail(m.Expr, false)
	}
	return m
}

// What the parser has to say about studies.

func (p *parser) subjectWanted(cure string) {
	p.fail(p.tok.off, "as in `"+cure+"`", "the name of a value must stand here")
}

func (p *parser) soWanted() {
	p.fail(p.tok.off, "as in `find length so lost = 1 V`", "`so` and a comparison must follow")
}

func (p *parser) oneComparison(off int, cond Expr) {
	if b, ok := cond.(*Binary); ok && (b.Op == "and" || b.Op == "or") {
		p.fail(off, "keep one comparison, and add the other as a must", "find looks for one comparison")
		return
	}
	p.fail(off, "as in `find length so lost = 1 V`", "find needs one comparison to make true")
}

func (p *parser) twoAxesOnly() {
	p.fail(p.tok.off, "leave one out, or write a second line", "vary changes one input or two")
}

func (p *parser) showWanted(w string) {
	p.fail(p.tok.off, "as in `"+map[string]string{
		"vary":    "vary length from 2 m to 20 m by 2 m show lost",
		"suppose": "suppose load = 3 A show lost"}[w]+"`", "`show` must follow, and what to show")
}

func (p *parser) shownWanted(after string) {
	p.fail(p.prev.end, "name a value", "what to look at is missing after `%s`", after)
}

func (p *parser) stepWanted() {
	cure := "as in `by 2 m`, or `over 9 steps` for ten rows"
	if p.prev.kind == number && p.tok.isWord("steps") {
		cure = "write `over`, as in `over 9 steps`; `in` is the inch"
	}
	p.fail(p.tok.off, cure, "a step must follow")
}

func (p *parser) axisWanted() {
	p.fail(p.tok.off, "as in `from 2 m to 20 m by 2 m`, or `among 1 m, 5 m`", "the values to take must follow")
}

func (p *parser) stepsWanted() {
	p.fail(p.tok.off, "as in `over 9 steps`, which gives ten rows", "a whole number of steps must stand here")
}

func (p *parser) levelsWanted() {
	p.fail(p.tok.off, "as in `working lost to 2 levels`", "a whole number of levels must stand here")
}
