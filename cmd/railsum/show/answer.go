package show

import (
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
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
	p.AnswerAs(a, func(*answer.Card) CardForm { return CardForm{} })
}

// AnswerAs writes an answer with its cards in a form.
func (p *Printer) AnswerAs(a *calc.Answer, form func(*answer.Card) CardForm) {
	items := outline.Line(a)
	for i := range items {
		items[i].Write(&text{p, form})
	}
}

// because is what follows a rule's verdict: what decided it, and whether the
// tolerances were left aside.
func (p *Printer) because(j *answer.Judged) string {
	text := p.decided(j)
	if !j.Nominal || j.Verdict == answer.NotJudged || j.Why != "" {
		return text
	}
	if text == "" {
		return ": judged without the tolerances"
	}
	return text + "; judged without the tolerances"
}

// decided is what decided a rule's verdict: the values compared, the rows where
// it does not hold, or why there is no verdict.
func (p *Printer) decided(j *answer.Judged) string {
	text := ""
	switch {
	case j.Why != "":
		text = Safe(j.Why)
	case len(j.Fails) > 0:
		text = p.failing(j)
	case j.Rows > 0 && j.Verdict == answer.Clear:
		text = "it holds in every row (" + count(j.Rows, "row", "rows") + ")"
		if c := j.Compared; c != nil {
			text += ", nearest " + Safe(c.Row) + ", " + p.compared(c)
		}
	case j.Compared != nil && j.Verdict > answer.Clear:
		text = "not " + p.compared(j.Compared)
	case j.Compared != nil:
		text = p.compared(j.Compared)
	}
	if text == "" {
		return ""
	}
	return ": " + text
}

// failing names the rows where a rule does not hold, five and then a count, and
// the figures of the worst of them.
func (p *Printer) failing(j *answer.Judged) string {
	const most = 5
	names := strings.Join(j.Fails[:min(most, len(j.Fails))], ", ")
	if more := len(j.Fails) - most; more > 0 {
		names += " and " + count(more, "more row", "more rows")
	}
	text := "it does not hold for " + Safe(names)
	switch c := j.Compared; {
	case c == nil:
	case len(j.Fails) > 1:
		text += "; worst " + Safe(c.Row) + ", not " + p.compared(c)
	default:
		text += ", not " + p.compared(c)
	}
	return text
}

// compared are two values compared.
func (p *Printer) compared(c *answer.Compared) string {
	return Safe(p.bare(c.Left, 0) + " " + c.Sign + " " + p.bare(c.Right, 0))
}
