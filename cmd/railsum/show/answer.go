package show

import (
	"fmt"
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

// Numbered is Line with each row's number before it, set right in so many columns.
func (p *Printer) Numbered(l *syntax.Line, wide int) {
	for k, row := range rowsOf(l) {
		number := fmt.Sprintf("%*s", wide, fmt.Sprintf("%d. ", l.Row+k))
		p.row(strings.TrimRight(number+Safe(strings.ReplaceAll(row, "\t", "    ")), " "))
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
