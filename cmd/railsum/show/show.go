package show

import (
	"fmt"

	"railsum/calc/answer"
)

// Show writes columns of a table side by side; what does not fit follows below,
// the labels repeated.
func (p *Printer) Show(t *answer.Table) {
	n := t.Shown()
	if n > 0 {
		p.listed(t, min(n, mostListed))
	}
	if n > mostListed {
		p.say(fmt.Sprintf("%d of %d rows left out; railsum read --csv writes all", n-mostListed, n))
	}
	for _, text := range t.Says() {
		p.say(Safe(text))
	}
}

// mostListed is how many rows of a table are written that was asked for.
const mostListed = 200

// listed writes the first n rows.
func (p *Printer) listed(t *answer.Table, n int) {
	heads := []string{""}
	right := []bool{false}
	for i := range t.Columns {
		heads = append(heads, Safe(t.Columns[i].Name))
		right = append(right, t.Columns[i].Value.Quantity())
	}
	rows := make([][]string, n)
	for r := range rows {
		rows[r] = []string{t.Columns[0].Value.Label(r)}
		for i := range t.Columns {
			rows[r] = append(rows[r], p.Cell(t.Columns[i].Value, r))
		}
	}
	if p.spoken() {
		p.table(heads, rows, right, p.indent)
		return
	}
	for _, row := range rows {
		row[0] = Safe(row[0])
	}
	p.sideBySide(heads, rows, nil, right, p.indent)
}
