package syntax

import (
	"fmt"
	"strings"

	"railsum/units/words"
)

// What the parser has to say about lines and tables, where it is long or is said
// in several places.

func (p *parser) spareInFront(t token) {
	if next := p.peek(); t.str == "let" && next.kind == word {
		p.fail(t.off, say("a value is named without let").With("write `"+next.str+" = …` alone"))
	}
}

func (p *parser) newerHeader(t token, version int) Diag {
	return Diag{At: p.pos(t.off), Wrong: words.Say("this was written for edition %d of the language, and this railsum reads edition %d", version, Edition).
		With("read it with a newer railsum")}
}

// Names and definitions.

func (p *parser) nameWanted() {
	cure := "a name begins with a letter"
	if p.done() {
		p.fail(p.prev.end, say("a name is missing at the end of the line"))
		return
	}
	p.fail(p.tok.off, say("a name must stand here, got `%s`", p.source(p.tok)).With(cure))
}

func (p *parser) dottedName(t token) {
	p.fail(t.off, say("%s cannot stand here: it is a part of something", p.source(t)).
		With("write a name without a point"))
}

func (p *parser) equalsWanted() {
	switch {
	case p.tok.is("-") && !p.tok.spaced && p.prev.kind == word:
		next := p.peek()
		p.fail(p.tok.off, say("a name holds no hyphen").With("write `"+p.source(p.prev)+"_"+p.source(next)+"`"))
	case p.done():
		p.fail(p.prev.end, say("a `=` and a value are missing").With("write `"+p.source(p.prev)+" = …`"))
	default:
		p.fail(p.tok.off, say("a `=` must stand here").With("write `=` after the name"))
	}
}

func (p *parser) conditionWanted(r *Rule) {
	word := "should"
	if r.Must {
		word = "must"
	}
	p.fail(p.prev.end, say("a condition must follow %s", word).With("as in `"+word+" lost <= 5 % of track`"))
}

func (p *parser) textNotLast(word string) {
	cure := "put it into the text, or after a `#`"
	if word == "hazard" {
		cure = "write `if` before a condition"
	}
	p.fail(p.tok.off, say("%s cannot stand after the text of %s", p.source(p.tok), word).With(cure))
}

// Tails.

// Tolerances.

func (p *parser) tolerancePlace() {
	p.fail(p.tok.off, say("a tolerance stands at the end of a line or cell").
		With("write it last, after the whole value"))
}

func (p *parser) toleranceWanted(sign token, x Expr) {
	switch {
	case p.done():
		p.fail(sign.off, say("a tolerance is missing after +-").With("as in `+- 5 %`"))
	case p.tok.kind == word || p.tok.is("("):
		v := PrintExpr(x)
		p.fail(sign.off, say("+- takes a number").
			With("write `"+v+" +- 5 %` for a tolerance or `"+v+" + -"+p.source(p.tok)+"` for a sum"))
	default:
		p.fail(p.tok.off, say("+- takes a number without a sign").With("as in `+- 5 %` or `+- 0.5 mm`"))
	}
}

func (p *parser) toleranceNotLast(x Expr, tol *Tol) {
	rest := trimBlanks(p.text[p.tok.off:p.end])
	p.fail(p.tok.off, say("a tolerance ends the value it belongs to").
		With("write the tolerance last: `"+PrintExpr(x)+" "+rest+" +- "+tol.By.Text+"`"))
}

func (p *parser) toleranceIsPoint(t token) {
	unit := strings.TrimPrefix(t.lit.Text, t.num.text+" ")
	cure := "write `+- " + t.num.text + " K`"
	if unit != "degC" {
		cure = "write the difference in K"
	}
	p.fail(t.off, say("a tolerance is a difference, and %s is a temperature", unit).With(cure))
}

// Sheets.

func (p *parser) sheetWanted() {
	if p.done() {
		p.fail(p.prev.end, say("the name of a sheet must follow use").With("as in `use drop for north`"))
		return
	}
	p.fail(p.tok.off, say("the name of a sheet must stand here").With("as in `use drop for north`"))
}

func (p *parser) dottedSheet() {
	cure := "as in `use drop for north`"
	if n := len(p.tok.parts); p.tok.parts[n-1].Text == sheetEnding[1:] {
		cure = "a sheet of your own stands in quotes: `use \"" + p.source(p.tok) + "\"`"
	}
	p.fail(p.tok.off, say("the name of a sheet has no point").With(cure))
}

func (p *parser) forWanted() {
	t := p.tok
	switch {
	case t.isWord("as"):
		p.fail(t.off, say("a sheet is placed under a name with for").With("write `for`"))
	case t.is("-") && !t.spaced:
		p.fail(t.off, say("a name holds no hyphen").With("write `_`"))
	case t.kind == word:
		p.fail(t.off, say("a for is missing before the name").
			With("write `use "+p.source(p.prev)+" for "+p.source(t)+"`"))
	default:
		p.stray()
	}
}

// useOrder says in which order the ends of a use line stand.
func (p *parser) useOrder(u *Use) {
	what, before := p.tok.str, "`with`"
	name := "other"
	if next := p.peek(); next.kind == word {
		name = p.source(next)
	}
	as := "use " + u.Sheet + " for south "
	switch {
	case what == "like" && u.From != nil && len(u.With)+len(u.Show) == 0:
		before = "`from`"
		as += "like " + name + " from " + u.From.String()
	case what == "from" && u.From != nil, what == "like" && u.Like != nil:
		p.fail(p.tok.off, say("`%s` appears twice", what).With("take one of them out"))
		return
	case len(u.With) == 0:
		before = "`show`"
		as += what + " " + name + " show lost"
	default:
		as += what + " " + name + " with length = 3 m"
	}
	p.fail(p.tok.off, say("`%s` stands before %s", what, before).With("as in `"+as+"`"))
}

func (p *parser) nameTwice(off int, name string) {
	p.fail(off, say("%s appears twice", name).With("take one of them out"))
}

func (p *parser) settingWanted() {
	if p.done() {
		p.fail(p.prev.end, say("a setting is missing at the end of the line").With("as in `with length = 9.5 m`"))
		return
	}
	p.fail(p.tok.off, say("a setting must stand here").With("as in `with length = 9.5 m`"))
}

func (p *parser) dottedSetting(u *Use, t token) {
	name := "NAME"
	if len(u.Names) > 0 {
		name = u.Names[0].Text
	}
	if len(t.parts) == 2 && len(u.Names) < 2 &&
		(t.parts[0].Text == name || len(u.Names) == 0 && t.parts[0].Text == u.Sheet) {
		p.fail(t.off, say("after with the name of an input stands alone").
			With("leave out the name of the card, as in `with "+t.parts[1].Text+" = …`"))
	}
	p.fail(t.off, say("a setting after with has no point").
		With("write it on a line of its own: `"+name+"."+p.source(t)+" = …`"))
}

func (p *parser) tailOfSetting(u *Use, s Setting) {
	name := "NAME"
	if len(u.Names) > 0 {
		name = u.Names[0].Text
	}
	what := p.tok.str
	p.fail(p.tok.off, say("a setting after with is an expression alone").
		With("write it on a line of its own: `"+name+"."+s.Name.Text+" = "+PrintExpr(s.Expr)+" "+what+" …`"))
}

func (p *parser) wrongPath(why, cure string) {
	p.fail(p.tok.off, say("this path %s", why).With(cure))
}

// Tables.

func (p *parser) headWanted() {
	if p.done() || p.tok.is("|") {
		p.fail(p.tok.off, say("this head is empty").With("take the `|` out or write a name after it"))
		return
	}
	p.fail(p.tok.off, say("the head of a column is a name").With("as in `table fleet | count | draw as mA`"))
}

func (p *parser) strayInHead(table *Table) {
	t := p.tok
	switch {
	case t.is("-") && !t.spaced:
		p.fail(t.off, say("a name holds no hyphen").With("write `_`"))
	case t.is("="):
		p.fail(t.off, say("what empty cells hold stands directly after the name").
			With("as in `table runs | joints = 6 whole`; a computed column is written below the table"))
	case len(table.Heads) == 0:
		p.fail(t.off, say("a `|` must follow the table's name").With("as in `table fleet | count | draw as mA`"))
	case p.prev.kind == word && !p.prev.isWord("as") && t.kind == word:
		p.fail(t.off, say("a head is one word").
			With("write `"+p.source(p.prev)+"_"+p.source(t)+"`, or `as` before a unit"))
	default:
		p.fail(t.off, say("%s cannot stand here", p.source(t)).
			With("put a `|` between two heads, and `as` before a unit"))
	}
}

func (p *parser) endMissing(what string, stop Pos) {
	cure := "write `end` below its last row"
	if stop.Row > 0 {
		cure = fmt.Sprintf("write `end` above line %d, or put its label in quotes if it is a row of the %s", stop.Row, what)
	}
	p.fail(p.blanks(0), say("this %s has no end", what).With(cure))
	p.err.Other = stop
}

func (p *parser) labelWanted(off int) {
	p.fail(off, say("a row needs a label").With("write a label before the first `|`"))
}

func (p *parser) emptyCell(t *Table, i int) {
	cure := "write 0, or take the `|` out"
	if i < len(t.Heads) {
		head := t.Heads[i].Name.Text
		cure = "write a value for " + head + ", or one for all empty cells in the head, as in `" + head + " = 0`"
	}
	p.fail(p.tok.off, say("this cell is empty").With(cure))
}

func (p *parser) unitInCell(t *Table, i int) {
	cure := "write the unit in the head"
	if i < len(t.Heads) {
		cure = "write it in the head, as in `" + t.Heads[i].Name.Text + " as mA`"
	}
	p.fail(p.tok.off, say("a cell does not choose its unit").With(cure))
}

func (p *parser) cellCount(off int, t *Table, got int) {
	what := "too few"
	if got > len(t.Heads) {
		what = "too many"
	}
	names := make([]string, len(t.Heads))
	for i, h := range t.Heads {
		names[i] = h.Name.Text
	}
	if len(names) > 6 {
		names = append(names[:6], "…")
	}
	p.fail(off, say("this row has %s cells, got %d", what, got).
		With(fmt.Sprintf("the table has %d: %s", len(t.Heads), strings.Join(names, ", "))))
}
