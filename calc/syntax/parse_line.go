package syntax

import (
	"math"
	"path"
	"slices"
	"strings"
)

// statement reads a row that is no table. What remains of the row behind it is
// for the caller to refuse.
func (p *parser) statement() Node {
	t := p.tok
	if t.kind != word {
		return p.question()
	}
	next := p.peek()
	if next.is("=") {
		return p.define(false)
	}
	if t.parts != nil || p.hyphenName() {
		return p.question()
	}
	if empty := studyWords[t.str]; empty != nil {
		return p.study(empty())
	}
	if opens(t.str, next) {
		switch t.str {
		case "take":
			return p.ask()
		case "tell":
			return p.tell()
		case "source", "hazard":
			return p.saying()
		}
		l := keptWords[t.str]()
		p.advance()
		l.parse(p)
		return l
	}
	switch t.str {
	case "ask":
		return p.ask()
	case "table":
		return p.tableFrom()
	case "must", "should":
		return p.rule()
	case "use":
		return p.use()
	case "prefer":
		return p.prefer()
	case "assume":
		p.advance()
		return p.define(true)
	case "end":
		p.fail(p.tok.off, say("there is no table for this end to close").
			With("take it out, or write the table's head above"))
		return nil
	case header:
		return p.header()
	}
	if p.at(p.off) == '(' {
		return p.question() // functions have names of their own
	}
	switch classes[t.str] {
	case laterWord:
		p.fail(t.off, say("%s takes a whole notebook and is no line of one", t.str).
			With("call it outside the desk: railsum "+t.str+" with the name of the file"))
	case orderWord:
		p.fail(t.off, say("%s is for the desk and is not kept", t.str).
			With("take it out of the file and type it at the prompt"))
	case spareWord:
		p.spareInFront(t)
	}
	return p.question()
}

// hyphenName refuses a definition of a name with a hyphen in it, which would
// be a question whether a difference equals something.
func (p *parser) hyphenName() bool {
	end := p.tok.off
	for end < p.end && (isNameByte(p.text[end]) || p.text[end] == '-' || p.text[end] == '.') {
		end++
	}
	name := p.text[p.tok.off:end]
	behind := p.blanks(end)
	if !strings.Contains(name, "-") || p.at(behind) != '=' || p.at(behind+1) == '=' {
		return false
	}
	p.fail(p.tok.off, say("a name holds no hyphen").With("write `"+strings.ReplaceAll(name, "-", "_")+"`"))
	return true
}

func (p *parser) question() Node {
	q := &Question{Expr: p.expr()}
	q.Tail = p.tail(q.Expr, bareTail)
	return q
}

// define reads "name = expr".
func (p *parser) define(assumed bool) Node {
	d := &Define{Target: p.target(), Assumed: assumed}
	p.definition()
	p.equals = notFirst
	d.Expr = p.expr()
	d.Tail = p.tail(d.Expr, namedTail)
	return d
}

// target reads the name that a line gives a meaning.
func (p *parser) target() *Name {
	t := p.tok
	if t.kind != word {
		p.nameWanted()
		return nil
	}
	n := &Name{Parts: t.parts}
	if t.parts == nil {
		n.Parts = []Part{{At: p.here(), Text: t.str}}
	}
	if IsReserved(n.Parts[0].Text) {
		p.reserved(t)
		return nil
	}
	p.targets = append(p.targets, n)
	p.advance()
	return n
}

// plainName reads a name without a point.
func (p *parser) plainName() Part {
	t := p.tok
	n := p.target()
	if n == nil {
		return Part{}
	}
	if len(n.Parts) > 1 {
		p.dottedName(t)
	}
	return n.Parts[0]
}

// definition takes the "=" of a definition.
func (p *parser) definition() {
	if !p.take("=") {
		p.equalsWanted()
	}
}

// ask reads "ask NAME (word, word) = expr", and the same with "take".
func (p *parser) ask() Node {
	a := &Ask{Taken: p.tok.str == "take"}
	p.advance()
	a.Name = p.plainName()
	if p.tok.is("(") {
		a.Words = p.otherWords(a.Name)
	}
	if p.done() {
		p.fail(p.prev.end, say("an input needs a default").
			With("write `"+a.word()+" "+a.Name.Text+" = …` with what it is if nobody says"))
	}
	p.definition()
	p.noThat, p.equals = "an input's default", notFirst
	a.Expr = p.expr()
	a.Tail = p.tail(a.Expr, askTail)
	return a
}

// otherWords reads the words in brackets by which an input is known too. Like
// its name behind a point, they may be words of the language.
func (p *parser) otherWords(name Part) []Part {
	p.advance()
	var words []Part
	for p.err == nil {
		if p.tok.kind != word || p.tok.parts != nil {
			p.otherWordWanted(name)
			break
		}
		if w := p.tok.str; w == name.Text || slices.ContainsFunc(words, func(o Part) bool { return o.Text == w }) {
			p.nameTwice(p.tok.off, w)
		}
		words = append(words, Part{At: p.here(), Text: p.tok.str})
		p.advance()
		if p.take(")") {
			break
		}
		if !p.take(",") {
			p.otherWordWanted(name)
		}
	}
	return words
}

func (p *parser) otherWordWanted(name Part) {
	p.fail(p.tok.off, say("other words for an input stand in brackets, with commas between them").
		With("as in `ask "+name.Text+" (supply, volts) = 15 V`"))
}

func (p *parser) tell() Node {
	p.advance()
	t := &Tell{Table: p.takeWord("table")}
	t.Name = p.plainName()
	if t.Table {
		p.targets = nil
		if p.err == nil && !p.done() {
			p.fail(p.tok.off, say("`tell table` names a table that stands on lines of its own").
				With("end this line with the name, and write head and rows on lines of their own, from `table` to `end`"))
		}
		return t
	}
	if p.tok.is("=") {
		p.advance()
		p.noThat, p.equals = "a tell line", notFirst
		t.Expr = p.expr()
	} else if !p.done() && !p.tok.isWord("as") {
		p.equalsWanted()
	} else {
		p.targets = nil
	}
	t.Tail = p.tail(t.Expr, namedTail)
	return t
}

func (p *parser) rule() Node {
	r := &Rule{At: p.here(), Must: p.tok.str == "must"}
	p.advance()
	if p.done() {
		p.conditionWanted(r)
	}
	p.noThat = "a rule"
	r.Cond = p.expr()
	if p.tok.is("+-") || p.tok.isWord("as") || p.tok.isWord("from") || p.tok.isWord("among") {
		p.fail(p.tok.off, say("a condition ends its line").With("take it out; a range is written `2 m <= x <= 5 m`"))
	}
	return r
}

// saying reads "source" or "hazard" and its text.
func (p *parser) saying() Node {
	source := p.tok.str == "source"
	p.advance()
	said := p.tok.str
	if trimBlanks(said) == "" {
		p.fail(p.tok.off, say("this text is empty"))
	}
	p.advance()
	switch {
	case source && !p.done():
		p.textNotLast("source")
	case source:
		return &Source{Text: said}
	case !p.done() && !p.tok.isWord("if"):
		p.textNotLast("hazard")
	}
	h := &Hazard{Text: said}
	if p.takeWord("if") {
		p.noThat = "a hazard"
		h.If = p.expr()
	}
	return h
}

// prefer reads the units that answers take.
func (p *parser) prefer() Node {
	n := &Prefer{}
	for p.err == nil {
		off := p.blanks(p.off)
		if g := p.nameAt(off); (g == "AWG" || g == "SWG") && n.Gauge == "" {
			n.Gauge = g
			p.advance()
			p.advance()
		} else if u := p.unit(); u != nil && u.Unit.Base() != 0 {
			p.fail(off, say("%s is not a unit: it is how one answer is written", u.Unit).
				With("write it after that answer, as in `55 as "+u.Unit.String()+"`"))
		} else if u != nil {
			n.Units = append(n.Units, Preferred{UnitRef: *u, Below: p.below()})
		}
		if !p.tok.is(",") {
			break
		}
	}
	if !p.done() {
		p.fail(p.tok.off, say("%s cannot stand here", p.source(p.tok)).
			With("write commas between the units, as in `prefer in, mph`"))
	}
	return n
}

// below reads "below 1 m" behind a preferred unit, if it follows.
func (p *parser) below() *Literal {
	if !p.takeWord("below") {
		return nil
	}
	t := p.tok
	if t.kind != number || t.lit.Unit.IsZero() || t.lit.Unit.Point() || t.lit.Value <= 0 {
		p.fail(t.off, say("the size below which the unit is meant must follow, with its unit").
			With("as in `prefer mm below 1 m, m`"))
		return nil
	}
	p.advance()
	return t.lit
}

// unit reads a unit that stands behind the next token, "as" or a comma, and
// takes both.
func (p *parser) unit() *UnitRef {
	p.prev = p.tok
	exact := p.blanks(p.off)
	if p.prev.isWord("as") && p.nameAt(exact) == exactly {
		p.off = exact + len(exactly)
	} else {
		exact = -1
	}
	u := p.unitRef()
	p.tok = p.next()
	if u != nil {
		u.Exactly = exact >= 0
	}
	return u
}

// header reads "railsum 1".
func (p *parser) header() Node {
	if p.begun {
		p.fail(p.tok.off, say("the header stands on the first line only").With("take it out here"))
		return nil
	}
	p.advance()
	t := p.tok
	if t.kind != number || t.lit.Form != Plain || !t.num.whole || t.lit.Value < 1 || t.lit.Value > math.MaxInt32 {
		p.fail(p.tok.off, say("the edition is a whole number").With("write `railsum 1`"))
		return nil
	}
	p.advance()
	h := &Header{Version: int(t.lit.Value)}
	if h.Version > Edition && p.err == nil {
		p.notices = append(p.notices, p.newerHeader(t, h.Version))
	}
	return h
}

// use reads "use SHEET for NAME, NAME like NAME from NAME with input = expr, …
// show ANSWER, …".
func (p *parser) use() Node {
	p.advance()
	u := &Use{At: p.here(), Sheet: p.tok.str}
	switch {
	case p.tok.kind == text:
		u.Own = true
		p.ownPath(u.Sheet)
	case p.tok.kind != word:
		p.sheetWanted()
	case p.tok.parts != nil:
		p.dottedSheet()
	}
	p.advance()
	if p.takeWord("for") {
		p.places(u)
	}
	if p.takeWord("like") {
		p.like(u)
	}
	if p.takeWord("from") {
		p.from(u)
	}
	if p.takeWord("with") {
		p.settings(u)
	}
	if p.takeWord("show") {
		u.Show = p.wanted(u)
	}
	switch {
	case p.tok.isWord("like"), p.tok.isWord("from"):
		p.useOrder(u)
	case !p.done() && len(u.Names) == 0 && u.From == nil && len(u.With) == 0 && len(u.Show) == 0:
		p.forWanted()
	}
	return u
}

// from reads what tells the sheet some of its inputs.
func (p *parser) from(u *Use) {
	t := p.tok
	parts := t.parts
	if t.kind == word && parts == nil {
		parts = []Part{{At: p.here(), Text: t.str}}
	}
	switch {
	case parts == nil || IsReserved(parts[0].Text):
		p.fail(t.off, say("a placed sheet or a table must follow `from`").
			With("as in `use "+u.Sheet+" for runs from house`"))
		return
	case len(parts) > 2:
		p.fail(t.off, say("%s is a part of a table, and `from` takes the whole", p.source(t)).
			With("write `from "+(&Name{Parts: parts[:2]}).String()+"`"))
		return
	case parts[len(parts)-1].Quoted:
		p.fail(t.off, say("%s is a row, and `from` takes a whole table", p.source(t)).
			With("write `from "+parts[0].Text+"`"))
		return
	}
	u.From = &Name{Parts: parts}
	p.advance()
	if p.tok.is(",") {
		p.fail(p.tok.off, say("a sheet takes its inputs from one place").
			With("set the others, as in `with length = club.length`"))
	}
}

func (p *parser) places(u *Use) {
	for p.err == nil {
		t := p.tok
		n := p.plainName()
		for _, m := range u.Names {
			if m.Text == n.Text {
				p.nameTwice(t.off, n.Text)
			}
		}
		u.Names = append(u.Names, n)
		if !p.take(",") {
			return
		}
	}
}

// wanted reads the answers that a use line asks for alone.
func (p *parser) wanted(u *Use) []Part {
	var all []Part
	for p.err == nil {
		t := p.tok
		if t.kind != word || t.parts != nil {
			p.fail(t.off, say("the name of an answer must follow, without a point").With("as in `use "+u.Sheet+" show lost`"))
			break
		}
		if slices.ContainsFunc(all, func(n Part) bool { return n.Text == t.str }) {
			p.nameTwice(t.off, t.str)
		}
		all = append(all, Part{At: p.here(), Text: t.str})
		p.advance()
		if !p.take(",") {
			break
		}
	}
	return all
}

// like reads the name of the placed sheet whose settings are taken over.
func (p *parser) like(u *Use) {
	t := p.tok
	if t.kind != word || t.parts != nil || IsReserved(t.str) {
		p.fail(p.tok.off, say("the name of a placed sheet must follow `like`").
			With("as in `use drop for south like north`"))
		return
	}
	u.Like = &Part{At: p.here(), Text: t.str}
	p.advance()
	if len(u.Names) == 0 {
		p.fail(u.Like.At.Col-1, say("a name must stand before `like`").
			With("as in `use "+u.Sheet+" for south like "+u.Like.Text+"`"))
	}
}

func (p *parser) settings(u *Use) {
	p.equals = onlyInside
	for p.err == nil {
		t := p.tok
		s := Setting{Name: Part{At: p.here(), Text: t.str}}
		switch {
		case t.kind != word:
			p.settingWanted()
		case t.parts != nil:
			p.dottedSetting(u, t)
		}
		p.advance()
		p.definition()
		for _, r := range u.With {
			if r.Name.Text == s.Name.Text {
				p.nameTwice(t.off, s.Name.Text)
			}
		}
		s.Expr = p.expr()
		if p.tok.isWord("from") && p.peek().kind == word { // a place, and no range
			u.With = append(u.With, s)
			return
		}
		if p.tok.is("+-") || p.tok.isWord("as") || p.tok.isWord("from") || p.tok.isWord("among") {
			p.tailOfSetting(u, s)
		}
		u.With = append(u.With, s)
		if !p.take(",") {
			return
		}
	}
}

// sheetEnding is how the name of a sheet's file ends.
const sheetEnding = ".sums"

// ownPath checks the path of a sheet of the user's: it stays in the folders
// where sheets are looked for.
func (p *parser) ownPath(file string) {
	switch {
	case strings.Contains(file, `\`):
		p.wrongPath("holds a \\", "write `/` between folders")
	case path.IsAbs(file) || len(file) > 1 && file[1] == ':':
		p.wrongPath("does not begin beside this file", "write it as seen from this file's folder, as in `use \"coil.sums\" for c`")
	case strings.HasPrefix(file, "../") || strings.Contains(file, "/../"):
		p.wrongPath("leads out of its folder", "put the sheet beside this file or in a folder below")
	case !strings.HasSuffix(file, sheetEnding) || path.Base(file) == sheetEnding:
		p.wrongPath("does not end in .sums", "for a shipped sheet leave out the quotes, as in `use drop for north`")
	case path.Clean(file) != file:
		p.wrongPath("takes a way round", "write `use \""+path.Clean(file)+"\"`")
	}
}
