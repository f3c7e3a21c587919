package syntax

import "strings"

// What the parser has to say about expressions, a method each.

func (p *parser) tooDeep(off int) {
	p.fail(off, "name the inner parts on lines of their own", "this line nests more than 200 deep")
}

func (p *parser) ifWithout(start int, word string) {
	if !p.done() && p.err == nil {
		p.stray()
		return
	}
	p.fail(start, "write `if … then … else …`", "this if has no %s", word)
}

func (p *parser) looseOperand() {
	p.fail(p.tok.off, "put it in parentheses, from `"+p.tok.str+"` on", "%s cannot stand behind an operator", p.tok.str)
}

func (p *parser) secondEquals(x Expr) {
	cure := "write the comparison in parentheses: `(" + PrintExpr(x) + " = …)`"
	if p.equals == onlyInside {
		cure = "put a comma between two settings, and a comparison in parentheses"
	}
	p.fail(p.tok.off, cure, "a second `=` can be read in two ways")
}

func (p *parser) twoWayChain() {
	p.fail(p.tok.off, "join two comparisons with `and`", "a chain of comparisons goes one way, as in `2 m <= x <= 5 m`")
}

func (p *parser) ofBeforeSum(off int, of, b *Binary) {
	term, share, rest := PrintExpr(lastTerm(b.X)), PrintExpr(of.X)+" of ", PrintExpr(b.Y)
	i := strings.Index(term, share) + len(share)
	p.fail(off, "write `("+term+") "+b.Op+" "+rest+"` or `"+term[:i]+"("+term[i:]+" "+b.Op+" "+rest+")`", "this can be read in two ways")
}

func (p *parser) atBehindSum(off int, at *Scaled, b *Binary) {
	x, y, by := PrintExpr(b.X), PrintExpr(at.X), PrintExpr(at.By)
	p.fail(off, "write `"+x+" "+b.Op+" ("+y+" at "+by+")` or `("+x+" "+b.Op+" "+y+") at "+by+"`", "this can be read in two ways")
}

func (p *parser) quotientAt(off int, x Expr, q *Binary) {
	whole, above, below := PrintExpr(x), PrintExpr(q.X), PrintExpr(q.Y)
	scale := "…"
	if words := strings.FieldsFunc(p.text[p.off:p.end], func(r rune) bool { return isBlank(r) || r == ')' || r == ',' }); len(words) > 0 {
		scale = words[0]
	}
	p.fail(off, "write `("+whole+") at "+scale+"` or `"+above+" / ("+below+" at "+scale+")`", "this can be read in two ways")
}

func (p *parser) hyphenFraction(off int, whole, f *Literal) {
	p.fail(off, "write `"+whole.Text+" "+f.Text+"`", "a number and a length cannot be subtracted")
}

func (p *parser) spacedFraction(a, sign token, y *Literal) {
	p.fail(sign.off, "write `"+a.num.text+"/"+y.Text+"` for the fraction, or `"+a.num.text+" / ("+y.Text+")`", "this can be read in two ways")
}

func (p *parser) unequalTolerance(off int) {
	p.fail(off, "write the middle and `+-` half of the width", "unequal tolerances are not yet in this edition")
}

func (p *parser) raisedQuantity(l *Literal) {
	cure := "write `(" + l.Text + ")^…`"
	next := p.peek()
	if u := l.Unit; next.kind == number && l.Form == Quantity {
		if together := u.String() + "^" + next.lit.Text; p.units.lookup(together) != nil {
			cure = "write `" + strings.TrimSuffix(l.Text, u.String()) + together + "` or `(" + l.Text + ")^" + next.lit.Text + "`"
		}
	}
	p.fail(p.tok.off, cure, "this can be read in two ways")
}

func (p *parser) towerOfPowers(b *Binary) {
	x, y := PrintExpr(b.X), PrintExpr(b.Y)
	p.fail(p.tok.off, "write `("+x+"^"+y+")^…` or `"+x+"^("+y+"^…)`", "a power of a power can be read in two ways")
}

func (p *parser) noScale() {
	t := p.tok
	switch {
	case t.kind == number && t.lit.Form == Plain && t.lit.Value < 1:
		p.fail(t.off, "write a ratio, as in `at 1:87`, or `at ("+t.lit.Text+")`", "%s is no scale", t.lit.Text)
	case t.kind == number && t.lit.Form == Plain:
		p.fail(t.off, "write a ratio, `at 1:"+t.lit.Text+"`, or a scale such as `at H0`", "%s is no scale", t.lit.Text)
	default:
		p.fail(t.off, "as in `25 m at H0` or `25 m at 1:87`", "a scale or a ratio must follow at")
	}
}

func (p *parser) thatOutOfPlace() {
	p.fail(p.tok.off, "give the question a name and write that here", "that is for questions and named values and has no meaning in %s", p.noThat)
}

func (p *parser) notClosed(start int) {
	switch {
	case p.err != nil:
	case p.tok.is("+-"), p.tok.isWord("as"):
		p.tailInside()
	case p.done():
		p.fail(start, "write `)` where it ends", "this parenthesis is not closed")
	default:
		p.stray()
	}
}

func (p *parser) tailInside() {
	if p.tok.is("+-") {
		p.tolerancePlace()
		return
	}
	p.fail(p.tok.off, "write `as` behind the whole expression", "units are chosen at the end of the line")
}

// noValue says what is wrong where a value must stand.
func (p *parser) noValue() {
	t := p.tok
	switch {
	case t.kind == atEnd:
		p.fail(p.prev.end, "", "a value is missing at the end of the line")
	case t.is("+"):
		p.fail(t.off, "leave it out", "a number takes no +")
	case t.is("+-"):
		p.fail(t.off, "as in `15 V +- 5 %`", "a tolerance needs a value before it")
	case t.is(")") && p.prev.is("("):
		p.fail(t.off, "", "these parentheses are empty")
	case t.is(")") && p.openings == 0:
		p.fail(t.off, "take it out", "this parenthesis closes nothing")
	case t.is("."):
		p.fail(t.off, "write names without blanks round the point, and numbers with a digit", "a point cannot stand here")
	case t.is(";"):
		p.fail(t.off, "write each sum on a line of its own", "a semicolon is not part of the language")
	case t.is("=") && p.prev.kind == atEnd:
		p.fail(t.off, "as in `track = 15 V`", "a name is missing before `=`")
	case t.kind == word:
		p.fail(t.off, "", "a value is missing before %s", t.str)
	default:
		p.fail(t.off, "", "a value is missing before `%s`", t.str)
	}
}

func (p *parser) reserved(t token) {
	name := t.str
	if t.parts != nil {
		name = t.parts[0].Text
	}
	if classes[name] == laterWord {
		p.fail(t.off, "choose another name", "%s is a word of railsum, not yet in this edition, and cannot be a name", name)
		return
	}
	p.fail(t.off, "choose another name", "%s is a word of railsum and cannot be a name", name)
}

// stray says what is wrong with a token that stands behind something complete.
func (p *parser) stray() {
	if p.err != nil {
		return
	}
	t, before := p.tok, p.prev
	switch {
	case t.is(")"):
		p.fail(t.off, "take it out", "this parenthesis closes nothing")
	case t.is("+-"):
		p.tolerancePlace()
	case t.is("="), t.is(":"):
		p.strayEquals(t)
	case t.is("|"):
		p.fail(t.off, "a table begins with `table NAME | head`", "a `|` stands only in tables")
	case t.is(";"):
		p.fail(t.off, "write each sum on a line of its own", "a semicolon is not part of the language")
	case t.is("%"):
		p.fail(t.off, "for a value in per cent write `as %`", "%% stands only after a number")
	case t.is("."):
		p.fail(t.off, "write no blanks round the point", "a point cannot stand here")
	case t.is(","):
		p.fail(t.off, "write each sum on a line of its own; the decimal mark is a point", "a comma cannot stand here")
	case before.kind == number:
		p.strayBehindNumber(before, t)
	case t.kind == word && (t.str == "in" || t.str == "to") && t.parts == nil && !p.peekIs("="):
		p.strayIn(t)
	case t.is("(") && before.kind == word:
		p.fail(t.off, "to multiply write `"+p.source(before)+" * (…)`, or for a function leave out the blank", "an operator is missing before the parenthesis")
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
		p.fail(t.off, "put the comparison in parentheses", "a comparison cannot stand here")
		return
	case t.kind == op && !t.is("("):
		p.fail(t.off, "", "`%s` cannot stand here", t.str)
		return
	}
	if t.kind == word && t.parts == nil && (IsReserved(t.str) || t.str == "with") {
		p.fail(t.off, "", "%s cannot stand here", t.str)
		return
	}
	if p.equals == onlyInside && p.peekIs("=") {
		p.fail(t.off, "put a comma between two settings", "an operator or a comma is missing before %s", p.source(t))
		return
	}
	p.fail(t.off, "to multiply write `*`", "an operator is missing before %s", p.source(t))
}

func (p *parser) strayEquals(t token) {
	if t.is(":") {
		cure := "a value gets its name with `=`, and a ratio is written without blanks: `1:87`"
		if next := p.peek(); p.prev.kind == word && next.kind == word {
			cure = "to divide write `" + p.source(p.prev) + " / " + p.source(next) + "`"
		}
		p.fail(t.off, cure, "a colon cannot stand here")
		return
	}
	p.fail(t.off, "a name stands alone before it, as in `track = 15 V`", "a `=` cannot stand here")
}

func (p *parser) strayIn(t token) {
	p.fail(t.off, "for the answer in another unit write `as`", "%s does not choose a unit", t.str)
}

// strayBehindNumber is a number and something that is not an operator.
func (p *parser) strayBehindNumber(before, t token) {
	l := before.lit
	name := t.kind == word && t.parts == nil
	switch {
	case l.Unit.Percent() && (t.kind == number || t.is("(")):
		p.fail(t.off, "write `mod("+strings.TrimSuffix(l.Text, " %")+", "+p.source(t)+")` for what remains of a division, or `"+l.Text+" of …`", "an operator is missing before %s", p.source(t))
	case name && (t.str == "in" || t.str == "to"):
		p.strayIn(t)
	case name && l.Form == Code && p.units.lookup(t.str) != nil:
		p.fail(t.off, "write `"+l.Text+"` alone", "%s has its unit in its letter already", l.Text)
	case name && l.Form == Quantity && !IsReserved(t.str) && p.unitOfTwoWords(l, t):
	case t.kind == number:
		p.fail(t.off, "write an operator between them, or a comma between arguments", "an operator is missing between %s and %s", l.Text, p.source(t))
	case t.is("("):
		p.fail(t.off, "to multiply write `"+l.Text+" * (…)`", "an operator is missing before the parenthesis")
	default:
		p.missingOperator(before, t)
	}
}

func (p *parser) unitOfTwoWords(l *Literal, t token) bool {
	u := l.Unit.String()
	for _, join := range []string{"", "*"} {
		if k := p.units.lookup(u + join + t.str); k != nil {
			p.fail(t.off, "write `"+strings.TrimSuffix(l.Text, u)+k.file+"`", "a unit is one word")
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
	_, isLine := map[string]bool{"source": true, "hazard": true, header: true}[small]
	switch {
	case first && small != name && (isLine || classes[small] == lineWord || classes[small] == laterWord || classes[small] == orderWord):
		p.fail(before.off, "write `"+small+"`", "%s is no word of the language", name)
	case first && (name == "source" || name == "hazard"):
		p.fail(t.off, "put the text in quotes, as in `"+name+" \"…\"`", "a text must follow %s", name)
	case first && (small == "caution" || small == "danger" || small == "warning") && t.kind == text:
		p.fail(before.off, "write `hazard` before the text", "%s is no word of the language", name)
	case first && t.kind == number:
		p.fail(t.off, "write `"+name+" = …` to name it", "a `=` is missing between a name and its value")
	default:
		p.missingOperator(before, t)
	}
}
