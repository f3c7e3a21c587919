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
		p.numbered(l.Row+k, row, wide)
	}
}

func (p *Printer) numbered(n int, row string, wide int) {
	number := fmt.Sprintf("%*s", wide, fmt.Sprintf("%d. ", n))
	p.row(strings.TrimRight(number+Safe(strings.ReplaceAll(row, "\t", "    ")), " "))
}

// NumberedRows is Numbered for the first and the last row of a line and some between,
// given by their numbers in order, and says how many are left out.
func (p *Printer) NumberedRows(l *syntax.Line, some []int) {
	rows := rowsOf(l)
	last := -1
	for _, n := range append(append([]int{l.Row}, some...), l.Row+len(rows)-1) {
		k := n - l.Row
		if k <= last || k >= len(rows) {
			continue
		}
		switch left := k - last - 1; {
		case left == 1:
			p.numbered(n-1, rows[k-1], 0)
		case left > 1:
			p.row(fmt.Sprintf("    and %d rows", left))
		}
		p.numbered(n, rows[k], 0)
		last = k
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
