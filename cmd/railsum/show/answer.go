package show

import (
	"strings"

	"railsum/calc"
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
func (p *Printer) Answer(a *calc.Answer, card CardForm) {
	items := outline.Line(a)
	for i := range items {
		items[i].Write(&text{p, func(*outline.Item) CardForm { return card }})
	}
}
