package show

import (
	"strings"

	"railsum/calc"
	"railsum/calc/types"
)

// narrow is the width below which a table is written as "label: value" rows,
// which a narrow window and a screen reader both take well.
const narrow = 50

// gap is what stands between the columns of a table.
const gap = "   "

// Column writes a column, a row of text for each of its rows, with its label.
func (p *Printer) Column(v *calc.Value, indent string) {
	rows := make([][]string, 0, Rows(v))
	for i := range Rows(v) {
		rows = append(rows, []string{Label(v, i), p.Cell(v, i)})
	}
	if len(rows) == 0 {
		p.row(indent + "no rows")
		return
	}
	p.table(nil, rows, []bool{false, v.Type.Kind != types.Text && v.Sound()}, indent)
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
