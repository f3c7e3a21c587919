package syntax

import (
	"slices"
	"strings"
)

// What the parser has to say about expressions, a method each.

func (p *parser) ifWithout(start int, word string) {
	if !p.done() && p.err == nil {
		p.stray()
		return
	}
	p.fail(start, say("this if has no %s", word).With("write `if … then … else …`"))
}

func (p *parser) secondEquals(x Expr) {
	cure := "write the comparison in parentheses: `(" + PrintExpr(x) + " = …)`"
	if p.equals == onlyInside {
		cure = "put a comma between two settings, and a comparison in parentheses"
	}
	p.fail(p.tok.off, say("a second `=` can be read in two ways").With(cure))
}

func (p *parser) ofBeforeSum(off int, of, b *Binary) {
	term, share, rest := PrintExpr(lastTerm(b.X)), PrintExpr(of.X)+" of ", PrintExpr(b.Y)
	i := strings.Index(term, share) + len(share)
	p.fail(off, say("this can be read in two ways").
		With("write `("+term+") "+b.Op+" "+rest+"` or `"+term[:i]+"("+term[i:]+" "+b.Op+" "+rest+")`"))
}

func (p *parser) atBehindSum(off int, at *Scaled, b *Binary) {
	x, y, by := PrintExpr(b.X), PrintExpr(at.X), PrintExpr(at.By)
	p.fail(off, say("this can be read in two ways").
		With("write `"+x+" "+b.Op+" ("+y+" at "+by+")` or `("+x+" "+b.Op+" "+y+") at "+by+"`"))
}

func (p *parser) quotientAt(off int, x Expr, q *Binary) {
	whole, above, below := PrintExpr(x), PrintExpr(q.X), PrintExpr(q.Y)
	scale := "…"
	if words := strings.FieldsFunc(p.text[p.off:p.end],
		func(r rune) bool { return isBlank(r) || r == ')' || r == ',' }); len(words) > 0 {
		scale = words[0]
	}
	p.fail(off, say("this can be read in two ways").
		With("write `("+whole+") at "+scale+"` or `"+above+" / ("+below+" at "+scale+")`"))
}

func (p *parser) twoScales(off int, x Expr) {
	s, ok := x.(*Scaled)
	if !ok {
		p.fail(off, say("a term has one scale").With("put each part with its scale in parentheses"))
		return
	}
	length, first, by := PrintExpr(s.X), PrintExpr(s.By), ""
	if t, ok := p.scale(); ok {
		by = t.str
	} else {
		by = p.source(p.peek())
	}
	cure := "write `" + length + " at " + by + "`"
	if _, named := s.By.(*ScaleName); named {
		cure += ", or for a length of the model `full_size(" + length + ", scale_" + first + ") at " + by + "`"
	}
	p.fail(off, say("a length has one scale").With(cure))
}

func (p *parser) unequalTolerance(off int) {
	p.fail(off, say("unequal tolerances are not yet in this edition").
		With("write the middle and `+-` half of the width"))
}

func (p *parser) raisedQuantity(l *Literal) {
	cure := "write `(" + l.Text + ")^…`"
	next := p.peek()
	if u := l.Unit; next.kind == number && l.Form == Quantity {
		if k := p.units.lookup(u.String() + "^" + next.lit.Text); k != nil {
			cure = "write `" + strings.TrimSuffix(l.Text, u.String()) + k.file + "` or `(" + l.Text + ")^" + next.lit.Text + "`"
		}
	}
	p.fail(p.tok.off, say("this can be read in two ways").With(cure))
}

func (p *parser) towerOfPowers(b *Binary) {
	x, y := PrintExpr(b.X), PrintExpr(b.Y)
	p.fail(p.tok.off, say("a power of a power can be read in two ways").
		With("write `("+x+"^"+y+")^…` or `"+x+"^("+y+"^…)`"))
}

func (p *parser) noScale() {
	t := p.tok
	switch {
	case t.kind == number && t.lit.Form == Plain && t.lit.Value < 1:
		p.fail(t.off, say("%s is no scale", t.lit.Text).
			With("write a ratio, as in `at 1:87`, or `at ("+t.lit.Text+")`"))
	case t.kind == number && t.lit.Form == Plain:
		p.fail(t.off, say("%s is no scale", t.lit.Text).
			With("write a ratio, `at 1:"+t.lit.Text+"`, or a scale such as `at H0`"))
	default:
		p.fail(t.off, say("a scale or a ratio must follow at").With("as in `25 m at H0` or `25 m at 1:87`"))
	}
}

func (p *parser) notClosed(start int) {
	switch {
	case p.err != nil:
	case p.tok.is("+-"), p.tok.isWord("as"):
		p.tailInside()
	case p.done():
		p.fail(start, say("this parenthesis is not closed").With("write `)` where it ends"))
	default:
		p.stray()
	}
}

func (p *parser) tailInside() {
	if p.tok.is("+-") {
		p.tolerancePlace()
		return
	}
	p.fail(p.tok.off, say("units are chosen at the end of the line").With("write `as` after the whole expression"))
}

// noValue says what is wrong where a value must stand.
func (p *parser) noValue() {
	t := p.tok
	switch {
	case t.kind == atEnd:
		p.fail(p.prev.end, say("a value is missing at the end of the line"))
	case t.is("+"):
		p.fail(t.off, say("a number takes no +").With("leave it out"))
	case t.is("+-"):
		p.fail(t.off, say("a tolerance needs a value before it").With("as in `15 V +- 5 %`"))
	case t.is(")") && p.prev.is("("):
		p.fail(t.off, say("these parentheses are empty"))
	case t.is(")") && p.openings == 0:
		p.fail(t.off, say("this parenthesis closes nothing").With("take it out"))
	case t.is("."):
		p.fail(t.off, say("a point cannot stand here").
			With("write names without blanks round the point, and numbers with a digit"))
	case t.is(";"):
		p.fail(t.off, say("a semicolon is not part of the language").With("write each sum on a line of its own"))
	case t.is("=") && p.prev.kind == atEnd:
		p.fail(t.off, say("a name is missing before `=`").With("as in `track = 15 V`"))
	case t.kind == word:
		p.fail(t.off, say("a value is missing before %s", t.str))
	default:
		p.fail(t.off, say("a value is missing before `%s`", t.str))
	}
}

func (p *parser) reserved(t token) {
	name := t.str
	if t.parts != nil {
		name = t.parts[0].Text
	}
	cure := "choose another name, such as `" + name + "_value`"
	p.fail(t.off, say("%s is a word of railsum and cannot be a name", name).With(cure))
}

// stray says what is wrong with a token that stands behind something complete.
func (p *parser) stray() {
	if p.err != nil {
		return
	}
	t, before := p.tok, p.prev
	switch {
	case t.is(")"):
		p.fail(t.off, say("this parenthesis closes nothing").With("take it out"))
	case t.is("+-"):
		p.tolerancePlace()
	case t.is("="), t.is(":"):
		p.strayEquals(t)
	case t.is("|"):
		p.fail(t.off, say("a `|` is used only in tables").With("a table begins with `table NAME | head`"))
	case t.is(";"):
		p.fail(t.off, say("a semicolon is not part of the language").With("write each sum on a line of its own"))
	case t.is("%"):
		p.fail(t.off, say("%% is used only after a number").With("for a value in per cent write `as %`"))
	case t.is("."):
		p.fail(t.off, say("a point cannot stand here").With("write no blanks round the point"))
	case t.is(","):
		p.fail(t.off, say("a comma cannot stand here").
			With("write each sum on a line of its own; the decimal mark is a point"))
	case before.kind == number:
		p.strayBehindNumber(before, t)
	case t.kind == word && (t.str == "in" || t.str == "to") && t.parts == nil && !p.peekIs("="):
		p.strayIn(t)
	case t.is("(") && before.kind == word:
		p.fail(t.off, say("an operator is missing before the parenthesis").
			With("to multiply write `"+p.source(before)+" * (…)`, or for a function leave out the blank"))
	case before.kind == word:
		p.strayBehindName(before, t)
	default:
		p.missingOperator(before, t)
	}
}

// source is a token as typed.
func (p *parser) source(t token) string { return p.text[t.off:t.end] }

func (p *parser) missingOperator(before, t token) {
	switch {
	case t.kind == op && comparisons[t.str] != 0:
		p.fail(t.off, say("a comparison cannot stand here").With("put the comparison in parentheses"))
		return
	case t.kind == op && !t.is("("):
		p.fail(t.off, say("`%s` cannot stand here", t.str))
		return
	}
	if t.kind == word && t.parts == nil && (IsReserved(t.str) || t.str == "with") {
		p.fail(t.off, say("%s cannot stand here", t.str))
		return
	}
	if p.equals == onlyInside && p.peekIs("=") {
		p.fail(t.off, say("an operator or a comma is missing before %s", p.source(t)).
			With("put a comma between two settings"))
		return
	}
	p.fail(t.off, say("an operator is missing before %s", p.source(t)).With("to multiply write `*`"))
}

func (p *parser) strayEquals(t token) {
	if t.is(":") {
		cure := "a value gets its name with `=`, and a ratio is written without blanks: `1:87`"
		if next := p.peek(); p.prev.kind == word && next.kind == word {
			cure = "to divide write `" + p.source(p.prev) + " / " + p.source(next) + "`"
		}
		p.fail(t.off, say("a colon cannot stand here").With(cure))
		return
	}
	p.fail(t.off, say("a `=` cannot stand here").With("a name stands alone before it, as in `track = 15 V`"))
}

func (p *parser) strayIn(t token) {
	p.fail(t.off, say("%s does not choose a unit", t.str).With("for the answer in another unit write `as`"))
}

// strayBehindNumber is a number and something that is not an operator.
func (p *parser) strayBehindNumber(before, t token) {
	l := before.lit
	name := t.kind == word && t.parts == nil
	switch {
	case l.Unit.Percent() && (t.kind == number || t.is("(")):
		p.fail(t.off, say("an operator is missing before %s", p.source(t)).
			With("write `mod("+strings.TrimSuffix(l.Text, " %")+", "+p.source(t)+")` for what remains of a division, or `"+l.Text+" of …`"))
	case name && (t.str == "in" || t.str == "to"):
		p.strayIn(t)
	case name && l.Form == Code && p.units.lookup(t.str) != nil:
		p.fail(t.off, say("%s has its unit in its letter already", l.Text).With("write `"+l.Text+"` alone"))
	case name && l.Form == Quantity && !IsReserved(t.str) && p.unitOfTwoWords(l, t):
	case t.kind == number:
		p.fail(t.off, say("an operator is missing between %s and %s", l.Text, p.source(t)).
			With("write an operator between them, or a comma between arguments"))
	case t.is("("):
		p.fail(t.off, say("an operator is missing before the parenthesis").With("to multiply write `"+l.Text+" * (…)`"))
	default:
		p.missingOperator(before, t)
	}
}

func (p *parser) unitOfTwoWords(l *Literal, t token) bool {
	u := l.Unit.String()
	for _, join := range []string{"", "*"} {
		if k := p.units.lookup(u + join + t.str); k != nil {
			p.fail(t.off, say("a unit is one word").With("write `"+strings.TrimSuffix(l.Text, u)+k.file+"`"))
			return true
		}
	}
	return false
}

// strayBehindName is a name and something that is not an operator: a slip in a
// line's first word, a forgotten "=", or a forgotten operator.
func (p *parser) strayBehindName(before, t token) {
	first := before.off == p.blanks(0)
	name := p.source(before)
	small := strings.ToLower(name)
	isLine := small == header || slices.Contains(LineWords(), small)
	switch {
	case first && small != name && (isLine || classes[small] == laterWord || classes[small] == orderWord):
		p.fail(before.off, say("%s is no word of the language", name).With("write `"+small+"`"))
	case first && (name == "source" || name == "hazard"):
		p.fail(t.off, say("a text must follow %s", name).With("put the text in quotes, as in `"+name+" \"…\"`"))
	case first && (small == "caution" || small == "danger" || small == "warning") && t.kind == text:
		p.fail(before.off, say("%s is no word of the language", name).With("write `hazard` before the text"))
	case first && t.kind == number:
		p.fail(t.off, say("a `=` is missing between a name and its value").With("write `"+name+" = …` to name it"))
	default:
		p.missingOperator(before, t)
	}
}
