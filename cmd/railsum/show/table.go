package show

import (
	"fmt"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/types"
)

// narrow is the width below which a table is written as "label: value" rows,
// which a narrow window and a screen reader both take well.
const narrow = 50

// gap is what stands between the columns of a table.
const gap = "   "

// Column writes a column, a row of text for each of its rows, with its label.
func (p *Printer) Column(v *answer.Value, indent string) { p.column(v, indent, nil) }

func (p *Printer) column(v *answer.Value, indent string, failing map[string]bool) {
	n := v.Rows()
	if n == 0 {
		p.row(indent + "no rows")
		return
	}
	var rows [][]string
	for _, i := range p.rowsShown(n, func(i int) bool { return failing[v.Label(i)] || v.Fault(i) != "" }) {
		rows = append(rows, []string{v.Label(i), p.Cell(v, i)})
	}
	p.table(nil, rows, []bool{false, v.Type.Kind != types.Text && v.Sound()}, indent)
	p.leftOut(indent, n-len(rows), n)
}

// Columns writes the columns of a table side by side.
func (p *Printer) Columns(columns []answer.CardLine) { p.columns(columns, p.indent, nil) }

// columns writes the columns of one table side by side.
func (p *Printer) columns(columns []answer.CardLine, indent string, failing map[string]bool) {
	var v *answer.Value
	n := 0
	for i := range columns {
		if c := columns[i].Value; c != nil {
			n, v = max(n, c.Rows()), c
		}
	}
	if n == 0 {
		p.row(indent + "no rows")
		return
	}
	rows := p.rowsShown(n, func(r int) bool { return failing[v.Label(r)] })
	p.columnRows(columns, indent, rows)
	p.leftOut(indent, n-len(rows), n)
}

// columnRows writes some rows of the columns of one table.
func (p *Printer) columnRows(columns []answer.CardLine, indent string, shown []int) {
	heads := []string{""}
	for i := range columns {
		heads = append(heads, Safe(columns[i].Name))
	}
	var rows [][]string
	for _, r := range shown {
		row := []string{""}
		for i := range columns {
			text := "no answer"
			if v := columns[i].Value; v != nil {
				text = p.Cell(v, r)
				row[0] = v.Label(r)
			}
			row = append(row, text)
		}
		rows = append(rows, row)
	}
	p.table(heads, rows, nil, indent)
}

// What is shown of a long column: its beginning, its end, and of what lies
// between as many of the rows that fail as there is room for.
const (
	columnRows  = 20
	columnFirst = 12
	columnLast  = 3
)

// rowsShown picks the rows of a column that are shown.
func (p *Printer) rowsShown(n int, fails func(i int) bool) []int {
	var rows []int
	for i := range n {
		switch {
		case n <= columnRows || i < columnFirst || i >= n-columnLast:
			rows = append(rows, i)
		case len(rows) < columnRows-columnLast && fails(i):
			rows = append(rows, i)
		}
	}
	return rows
}

// leftOut says that not all rows of a column are shown.
func (p *Printer) leftOut(indent string, left, of int) {
	if left > 0 {
		p.wrapped(indent, fmt.Sprintf("%d of %d rows left out; railsum read --json has all", left, of))
	}
}

// Table writes rows under their heads; the first column holds the labels. The
// heads may be nil.
func (p *Printer) Table(heads []string, rows [][]string, indent string) {
	safe := make([][]string, len(rows))
	for i, row := range rows {
		safe[i] = safely(row)
	}
	p.table(safely(heads), safe, nil, indent)
}

func safely(texts []string) []string {
	if texts == nil {
		return nil
	}
	safe := make([]string, len(texts))
	for i, s := range texts {
		safe[i] = Safe(s)
	}
	return safe
}

// table lays out texts; cells but the labels are made safe already.
func (p *Printer) table(heads []string, rows [][]string, right []bool, indent string) {
	for _, row := range rows {
		row[0] = Safe(row[0])
	}
	widths := columnWidths(heads, rows)
	total := len(indent) - len(gap)
	for _, w := range widths {
		total += w + len(gap)
	}
	if p.Stacked || p.Width < narrow || total > p.Width {
		p.stacked(heads, rows, indent)
		return
	}
	if heads != nil {
		p.row(indent + p.paint(p.faint, aligned(heads, widths, right)))
	}
	for _, row := range rows {
		p.row(indent + aligned(row, widths, right))
	}
}

func columnWidths(heads []string, rows [][]string) []int {
	var widths []int
	for _, row := range append([][]string{heads}, rows...) {
		for i, s := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], width(s))
		}
	}
	return widths
}

func aligned(row []string, widths []int, right []bool) string {
	parts := make([]string, len(row))
	for i, s := range row {
		if i < len(right) && right[i] {
			parts[i] = padLeft(s, widths[i])
		} else {
			parts[i] = pad(s, widths[i])
		}
	}
	return strings.TrimRight(strings.Join(parts, gap), " ")
}

// stacked writes a table a value to a row.
func (p *Printer) stacked(heads []string, rows [][]string, indent string) {
	for _, row := range rows {
		if len(row) == 2 {
			p.wrapped(indent, row[0]+": "+row[1])
			continue
		}
		p.row(indent + row[0])
		for i, s := range row[1:] {
			if i+1 < len(heads) {
				s = heads[i+1] + ": " + s
			}
			p.wrapped(indent+"  ", s)
		}
	}
}
