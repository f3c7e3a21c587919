package syntax

import (
	"fmt"
	"strings"
)

// What the parser has to say about lines and tables, a method each.

func (p *parser) oneLineOnly() {
	p.fail(p.blanks(0), "type the rows one after the other", "only one line can be read at a time")
}

func (p *parser) notYet(t token) {
	p.fail(t.off, "", "%s is a word of railsum but not yet in this edition", t.str)
}

func (p *parser) orderInFile(t token) {
	p.fail(t.off, "take it out of the file and type it at the prompt", "%s is for the desk and is not kept", t.str)
}

func (p *parser) spareInFront(t token) {
	if next := p.peek(); t.str == "let" && next.kind == word {
		p.fail(t.off, "write `"+next.str+" = …` alone", "a value is named without let")
	}
}

func (p *parser) endWithoutTable() {
	p.fail(p.tok.off, "take it out, or write the table's head above", "there is no table for this end to close")
}

func (p *parser) headerNotFirst() {
	p.fail(p.tok.off, "take it out here", "the header stands on the first line only")
}

func (p *parser) wrongHeader() {
	p.fail(p.tok.off, "write `railsum 1`", "the edition is a whole number")
}

func (p *parser) newerHeader(t token, version int) Diag {
	return Diag{At: p.pos(t.off), Message: fmt.Sprintf("this was written for edition %d of the language, and this railsum reads edition %d", version, Edition), Cure: "read it with a newer railsum"}
}

// Names and definitions.

func (p *parser) nameWanted() {
	cure := "a name begins with a letter"
	if p.done() {
		p.fail(p.prev.end, "", "a name is missing at the end of the line")
		return
	}
	p.fail(p.tok.off, cure, "a name must stand here, got `%s`", p.source(p.tok))
}

func (p *parser) dottedName(t token) {
	p.fail(t.off, "write a name without a point", "%s cannot stand here: it is a part of something", p.source(t))
}

func (p *parser) hyphenInName(off int, name string) {
	p.fail(off, "write `"+strings.ReplaceAll(name, "-", "_")+"`", "a name holds no hyphen")
}

func (p *parser) equalsWanted() {
	switch {
	case p.tok.is("-") && !p.tok.spaced && p.prev.kind == word:
		next := p.peek()
		p.fail(p.tok.off, "write `"+p.source(p.prev)+"_"+p.source(next)+"`", "a name holds no hyphen")
	case p.done():
		p.fail(p.prev.end, "write `"+p.source(p.prev)+" = …`", "a `=` and a value are missing")
	default:
		p.fail(p.tok.off, "write `=` behind the name", "a `=` must stand here")
	}
}

func (p *parser) defaultWanted(name string) {
	p.fail(p.prev.end, "write `ask "+name+" = …` with what it is if nobody says", "an input needs a default")
}

func (p *parser) conditionWanted(r *Rule) {
	word := "should"
	if r.Must {
		word = "must"
	}
	p.fail(p.prev.end, "as in `"+word+" lost <= 5 % of track`", "a condition must follow %s", word)
}

func (p *parser) emptyText() {
	p.fail(p.tok.off, "", "this text is empty")
}

func (p *parser) textNotLast(word string) {
	cure := "put it into the text, or behind a `#`"
	if word == "hazard" {
		cure = "write `if` before a condition"
	}
	p.fail(p.tok.off, cure, "%s cannot stand behind the text of %s", p.source(p.tok), word)
}

func (p *parser) commaWanted() {
	p.fail(p.tok.off, "write commas between the units, as in `prefer in, mph`", "%s cannot stand here", p.source(p.tok))
}

// Tails.

func (p *parser) tailOfRule() {
	p.fail(p.tok.off, "take it out; a range is written `2 m <= x <= 5 m`", "a condition ends its line")
}

func (p *parser) tailTwice() {
	p.fail(p.tok.off, "take one of them out", "`%s` stands twice", p.tok.str)
}

func (p *parser) tailOrder() {
	p.fail(p.tok.off, "write the tolerance first, then `as` with a unit, then the range", "the ends of this line are in another order")
}

func (p *parser) rangeOutOfPlace() {
	p.fail(p.tok.off, "write the range as a rule, as in `must 2 m <= x <= 5 m`", "only an ask line has a range")
}

// Tolerances.

func (p *parser) tolerancePlace() {
	p.fail(p.tok.off, "write it last, behind the whole value", "a tolerance stands at the end of a line or cell")
}

func (p *parser) toleranceWanted(sign token, x Expr) {
	switch {
	case p.done():
		p.fail(sign.off, "as in `+- 5 %`", "a tolerance is missing behind +-")
	case p.tok.kind == word || p.tok.is("("):
		v := PrintExpr(x)
		p.fail(sign.off, "write `"+v+" +- 5 %` for a tolerance or `"+v+" + -"+p.source(p.tok)+"` for a sum", "+- takes a number")
	default:
		p.fail(p.tok.off, "as in `+- 5 %` or `+- 0.5 mm`", "+- takes a number without a sign")
	}
}

func (p *parser) toleranceNotLast(x Expr, tol *Tol) {
	rest := trimBlanks(p.text[p.tok.off:p.end])
	p.fail(p.tok.off, "write the tolerance last: `"+PrintExpr(x)+" "+rest+" +- "+tol.By.Text+"`", "a tolerance ends the value it belongs to")
}

func (p *parser) toleranceIsPoint(t token) {
	unit := strings.TrimPrefix(t.lit.Text, t.num.text+" ")
	cure := "write `+- " + t.num.text + " K`"
	if unit != "degC" {
		cure = "write the difference in K"
	}
	p.fail(t.off, cure, "a tolerance is a difference, and %s is a temperature", unit)
}

func (p *parser) toleranceWithoutUnit(t token, l *Literal) {
	p.fail(t.off, "write `"+l.Text+" +- "+t.lit.Text+" "+l.Unit.String()+"` or `"+l.Text+" +- "+t.lit.Text+" %`", "%s what?", t.lit.Text)
}

func (p *parser) valueWithoutUnit(t token, l, by *Literal) {
	p.fail(t.off, "write `"+l.Text+" "+by.Unit.String()+" +- "+by.Text+"`", "the value %s has no unit and its tolerance has one", l.Text)
}

func (p *parser) shareOfNothing(t token, by *Literal) Diag {
	return Diag{At: p.pos(t.off), Message: by.Text + " of nothing is nothing", Cure: "write the tolerance as a quantity", Notice: true}
}

// Sheets.

func (p *parser) sheetWanted() {
	if p.done() {
		p.fail(p.prev.end, "as in `use drop for north`", "the name of a sheet must follow use")
		return
	}
	p.fail(p.tok.off, "as in `use drop for north`", "the name of a sheet must stand here")
}

func (p *parser) dottedSheet() {
	cure := "as in `use drop for north`"
	if n := len(p.tok.parts); p.tok.parts[n-1].Text == sheetEnding[1:] {
		cure = "a sheet of your own stands in quotes: `use \"" + p.source(p.tok) + "\"`"
	}
	p.fail(p.tok.off, cure, "the name of a sheet has no point")
}

func (p *parser) forWanted() {
	t := p.tok
	switch {
	case t.isWord("as"):
		p.fail(t.off, "write `for`", "a sheet is placed under a name with for")
	case t.is("-") && !t.spaced:
		p.fail(t.off, "write `_`", "a name holds no hyphen")
	case t.kind == word:
		p.fail(t.off, "write `use "+p.source(p.prev)+" for "+p.source(t)+"`", "a for is missing before the name")
	default:
		p.stray()
	}
}

func (p *parser) likeWanted() {
	p.fail(p.tok.off, "as in `use drop for south like north`", "the name of a placed sheet must follow `like`")
}

func (p *parser) likeBeforeWith() {
	p.fail(p.tok.off, "as in `use drop for south like north with length = 3 m`", "`like` stands before `with`")
}

func (p *parser) forBeforeLike(u *Use) {
	p.fail(u.Like.At.Col-1, "as in `use "+u.Sheet+" for south like "+u.Like.Text+"`", "a name must stand before `like`")
}

func (p *parser) nameTwice(off int, name string) {
	p.fail(off, "take one of them out", "%s stands twice", name)
}

func (p *parser) settingWanted() {
	if p.done() {
		p.fail(p.prev.end, "as in `with length = 9.5 m`", "a setting is missing at the end of the line")
		return
	}
	p.fail(p.tok.off, "as in `with length = 9.5 m`", "a setting must stand here")
}

func (p *parser) dottedSetting(u *Use, t token) {
	name := "NAME"
	if len(u.Names) > 0 {
		name = u.Names[0].Text
	}
	p.fail(t.off, "write it on a line of its own: `"+name+"."+p.source(t)+" = …`", "a setting behind with has no point")
}

func (p *parser) tailOfSetting(u *Use, s Setting) {
	name := "NAME"
	if len(u.Names) > 0 {
		name = u.Names[0].Text
	}
	what := p.tok.str
	p.fail(p.tok.off, "write it on a line of its own: `"+name+"."+s.Name.Text+" = "+PrintExpr(s.Expr)+" "+what+" …`", "a setting behind with is an expression alone")
}

func (p *parser) wrongPath(why, cure string) {
	p.fail(p.tok.off, cure, "this path %s", why)
}

// Tables.

func (p *parser) headsWanted(t *Table) {
	p.fail(p.prev.end, "as in `table "+t.Name.Text+" | count | draw as mA`", "a table needs at least one head")
}

func (p *parser) headWanted() {
	if p.done() || p.tok.is("|") {
		p.fail(p.tok.off, "take the `|` out or write a name behind it", "this head is empty")
		return
	}
	p.fail(p.tok.off, "as in `table fleet | count | draw as mA`", "the head of a column is a name")
}

func (p *parser) labelAsHead() {
	p.fail(p.tok.off, "leave it out: the first column needs no head", "label is the column of the rows' labels and cannot be a head")
}

func (p *parser) strayInHead(table *Table) {
	t := p.tok
	switch {
	case t.is("-") && !t.spaced:
		p.fail(t.off, "write `_`", "a name holds no hyphen")
	case t.is("="):
		p.fail(t.off, "a computed column is written below the table", "a head has no formula")
	case len(table.Heads) == 0:
		p.fail(t.off, "as in `table fleet | count | draw as mA`", "a `|` must follow the table's name")
	case p.prev.kind == word && !p.prev.isWord("as") && t.kind == word:
		p.fail(t.off, "write `"+p.source(p.prev)+"_"+p.source(t)+"`, or `as` before a unit", "a head is one word")
	default:
		p.fail(t.off, "put a `|` between two heads, and `as` before a unit", "%s cannot stand here", p.source(t))
	}
}

func (p *parser) endMissing(t *Table, stop Pos) {
	cure := "write `end` below its last row"
	if stop.Row > 0 {
		cure = fmt.Sprintf("write `end` above row %d, or put its label in quotes if it is a row of the table", stop.Row)
	}
	p.fail(p.blanks(0), cure, "this table has no end")
	p.err.Other = stop
}

func (p *parser) tooManyRows(t *Table) {
	p.fail(p.blanks(0), "split it into several", "a table has at most 100000 rows")
}

func (p *parser) labelWanted(off int) {
	p.fail(off, "write a label before the first `|`", "a row needs a label")
}

func (p *parser) barWanted(off int) {
	p.fail(off, "a label with quotes in it stands in quotes, each inner one written twice", "a `|` must follow the label")
}

func (p *parser) emptyCell(t *Table, i int) {
	cure := "write 0, or take the `|` out"
	if i < len(t.Heads) {
		cure = "write a value for " + t.Heads[i].Name.Text
	}
	p.fail(p.tok.off, cure, "this cell is empty")
}

func (p *parser) unitInCell(t *Table, i int) {
	cure := "write the unit in the head"
	if i < len(t.Heads) {
		cure = "write it in the head, as in `" + t.Heads[i].Name.Text + " as mA`"
	}
	p.fail(p.tok.off, cure, "a cell does not choose its unit")
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
	p.fail(off, fmt.Sprintf("the table has %d: %s", len(t.Heads), strings.Join(names, ", ")), "this row has %s cells, got %d", what, got)
}
