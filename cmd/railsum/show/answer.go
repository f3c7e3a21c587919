package show

import (
	"io"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// Line writes a line of a notebook as it stands, each of its rows.
func (p *Printer) Line(l *syntax.Line) {
	for _, row := range rowsOf(l) {
		p.row(excerpt(row))
	}
}

// rowsOf gives the rows of text of a line.
func rowsOf(l *syntax.Line) []string {
	rows := strings.Split(l.Raw, "\n")
	for i := range rows {
		rows[i] = strings.TrimSuffix(rows[i], "\r")
	}
	return rows
}

// Answer writes what a line has to say, below the line and indented: its value,
// verdict or card, and what it waits for. Of errors it says only that there are
// some; Diags shows them.
func (p *Printer) Answer(a *calc.Answer) {
	p.AnswerAs(a, func(*calc.Card) CardForm { return CardForm{} })
}

// AnswerAs writes an answer with its cards in a form.
func (p *Printer) AnswerAs(a *calc.Answer, form func(*calc.Card) CardForm) {
	switch {
	case len(a.Waiting) > 0:
		p.wrapped(p.indent, p.paint(p.none, "waiting")+" for "+Safe(strings.Join(a.Waiting, ", ")))
	case len(a.Errors) > 0:
		p.row(p.indent + p.paint(p.bad, "in error"))
	}
	if a.Value != nil {
		p.value(a)
	}
	if a.Rule != nil {
		p.wrapped(p.indent, p.Verdict(a.Rule.Verdict)+p.because(a.Rule))
	}
	for _, c := range a.Cards {
		p.CardAs(c, form(c))
	}
	if len(a.Columns) > 0 {
		p.columns(a.Columns, p.indent, nil)
	}
	if a.Study != nil {
		p.Study(a.Study)
	}
}

// Value of an answer, a row for each of its rows if it is a column.
func (p *Printer) value(a *calc.Answer) {
	if a.Value.Type.Of != nil {
		p.Column(a.Value, p.indent)
		return
	}
	mark := ""
	if a.Assumed {
		mark = " (" + p.paint(p.warn, "assumed") + ")"
	}
	p.row(p.indent + p.Cell(a.Value, 0) + mark)
}

// Repeats reports whether a line's answer says no more than the line does, as
// for "track = 15 V".
func Repeats(a *calc.Answer) bool {
	switch n := a.Line.Node.(type) {
	case *syntax.Define:
		return a.Value != nil && a.Value.Type.Of == nil && !a.Assumed && asTyped(n) == fileForm.Cell(a.Value, 0)
	case *syntax.Table:
		return literal(n) && len(a.Errors)+len(a.Waiting) == 0
	}
	return false
}

// fileForm spells values as they stand in a file.
var fileForm = New(io.Discard, Options{ASCII: true})

// asTyped is the right side of a definition as it stands in a file.
func asTyped(n *syntax.Define) string {
	text := syntax.PrintExpr(n.Expr)
	if n.Tail.Tol != nil {
		text += " +- " + n.Tail.Tol.By.Text
	}
	return text
}

// literal reports whether a table's cells are all values, not formulas.
func literal(t *syntax.Table) bool {
	for _, row := range t.Rows {
		for _, cell := range row.Cells {
			switch cell.Expr.(type) {
			case *syntax.Literal, *syntax.Text, *syntax.Truth:
			default:
				return false
			}
		}
	}
	return true
}

// because is what follows a rule's verdict: what decided it, and whether the
// tolerances were left aside.
func (p *Printer) because(j *calc.Judged) string {
	text := p.decided(j)
	if !j.Tolerance || j.Verdict == calc.NotJudged || j.Why != "" {
		return text
	}
	if text == "" {
		return ": judged without the tolerances"
	}
	return text + "; judged without the tolerances"
}

// decided is what decided a rule's verdict: the values compared, the rows where
// it does not hold, or why there is no verdict.
func (p *Printer) decided(j *calc.Judged) string {
	text := ""
	switch {
	case j.Why != "":
		text = Safe(j.Why)
	case len(j.Fails) > 0:
		text = Safe(failing(j))
	case j.Sides != "":
		text = Safe(p.sides(j))
	case j.Rows > 0 && j.Verdict == calc.Clear:
		text = "it holds in every row (" + count(j.Rows, "row", "rows") + ")"
	}
	if text == "" {
		return ""
	}
	return ": " + text
}

// failing names the rows where a rule does not hold, five and then a count.
func failing(j *calc.Judged) string {
	const most = 5
	names := strings.Join(j.Fails[:min(most, len(j.Fails))], ", ")
	if more := len(j.Fails) - most; more > 0 {
		names += " and " + count(more, "more row", "more rows")
	}
	return "it does not hold for " + names
}

// signs are the signs of units beyond ASCII and how they are typed instead.
var signs = strings.NewReplacer("²", "2", "³", "3", "µ", "u", "Ω", "ohm", "°", "deg", "·", "*")

// sides are the two values compared, which come spelled with signs.
func (p *Printer) sides(j *calc.Judged) string {
	s := j.Sides
	if j.Verdict > calc.Clear {
		s = "not " + s
	}
	if p.ASCII {
		s = signs.Replace(s)
	}
	return s
}
