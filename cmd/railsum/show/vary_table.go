package show

import (
	"strings"

	"railsum/calc/answer"
)

// sweepTable writes the rows of a sweep under their heads, with sentences
// before some of them. What does not fit side by side follows below, the axis
// repeated.
func (p *Printer) sweepTable(heads []string, rows [][]string, before [][]string, indent string) {
	if p.spoken() {
		p.spokenRows(heads, rows, before, indent)
		return
	}
	right := make([]bool, len(heads))
	for i := range right {
		right[i] = true
	}
	p.sideBySide(heads, rows, before, right, indent)
}

// sideBySide writes as many columns beside one another as fit, and the others
// below them, the first repeated.
func (p *Printer) sideBySide(heads []string, rows, before [][]string, right []bool, indent string) {
	widths := columnWidths(heads, rows)
	for first := 1; first < len(widths); {
		total, last := len(indent)+widths[0], first
		for last < len(widths) && (last == first || total+len(gap)+widths[last] <= p.Width) {
			total += len(gap) + widths[last]
			last++
		}
		p.someColumns(part(heads, first, last), rows, before, part(right, first, last), first, last, indent)
		first, before = last, nil
	}
}

// someColumns writes some columns beside the first.
func (p *Printer) someColumns(heads []string, rows, before [][]string, right []bool, first, last int, indent string) {
	cut := make([][]string, len(rows))
	for i, row := range rows {
		cut[i] = part(row, first, last)
	}
	widths := columnWidths(heads, cut)
	p.row(indent + p.paint(p.faint, aligned(heads, widths, right)))
	for i, row := range cut {
		if i < len(before) {
			for _, sentence := range before[i] {
				p.wrapped(indent, sentence)
			}
		}
		p.row(indent + aligned(row, widths, right))
	}
}

// part is the first of a row and its columns from first to before last.
func part[T any](row []T, first, last int) []T {
	return append([]T{row[0]}, row[first:last]...)
}

// spokenRows writes a value to a row, each with its name.
func (p *Printer) spokenRows(heads []string, rows, before [][]string, indent string) {
	for i, row := range rows {
		if i < len(before) {
			for _, sentence := range before[i] {
				p.wrapped(indent, sentence)
			}
		}
		p.wrapped(indent, heads[0]+": "+row[0])
		for k, s := range row[1:] {
			p.wrapped(indent+"  ", heads[k+1]+": "+s)
		}
	}
}

// passed stands in a two-way table between two values on either side of a
// limit.
const passed = " | "

// twoWays writes a table with one axis down and the other across.
func (p *Printer) twoWays(g grid, s *answer.Series) {
	down := chosen(g.main.n, mostRows, nil)
	across := p.fitting(g, s, down)
	p.say(Safe(s.Name()) + ", " + Safe(g.main.Name()) + " down, " + Safe(g.other.Name()) + " across")
	head := []string{Safe(g.main.Name())}
	for _, o := range across {
		head = append(head, p.Cell(g.other.Value, g.row(0, o)))
	}
	rows := make([][]string, len(down))
	for k, m := range down {
		rows[k] = []string{p.Cell(g.main.Value, g.row(m, 0))}
		for _, o := range across {
			rows[k] = append(rows[k], p.point(s, g.row(m, o)))
		}
	}
	limits := p.limitsOf(g.v, s)
	if p.spoken() {
		for i := range head[1:] {
			head[i+1] = Safe(g.other.Name()) + " " + head[i+1]
		}
		p.spokenRows(head, rows, nil, p.indent)
	} else {
		p.stairs(g, s, limits, head, rows, down, across)
	}
	p.thinned(len(down), g.main.n, "values of "+Safe(g.main.Name()))
	p.thinned(len(across), g.other.n, "values of "+Safe(g.other.Name()))
}

// stairs writes a two-way table with a mark where a limit is passed from one
// value to the next across.
func (p *Printer) stairs(g grid, s *answer.Series, limits []level, head []string, rows [][]string, down, across []int) {
	widths := columnWidths(head, rows)
	in := p.indent
	row := padLeft(head[0], widths[0])
	for i, h := range head[1:] {
		row += gap + padLeft(h, widths[i+1])
	}
	p.row(in + p.paint(p.faint, row))
	crossed := make([]bool, len(limits))
	for k, m := range down {
		row := padLeft(rows[k][0], widths[0])
		for i, o := range across {
			between := gap
			for n := 0; i > 0 && n < len(limits); n++ {
				if crosses(s, &limits[n], g.row(m, across[i-1]), g.row(m, o)) {
					between, crossed[n] = passed, true
				}
			}
			row += between + padLeft(rows[k][i+1], widths[i+1])
		}
		p.row(in + strings.TrimRight(row, " "))
	}
	for i := range limits {
		text := p.limitText(&limits[i], s.Value.Unit)
		if crossed[i] {
			text = "passed at |: " + text
		}
		p.say(text)
	}
}

// fitting picks the values of the axis across that fit side by side.
func (p *Printer) fitting(g grid, s *answer.Series, down []int) []int {
	if p.spoken() {
		return chosen(g.other.n, mostCurves, nil)
	}
	first := width(Safe(g.main.Name()))
	widest := 0
	for _, m := range down {
		first = max(first, width(p.Cell(g.main.Value, g.row(m, 0))))
		for o := range min(g.other.n, 100) {
			widest = max(widest, width(p.point(s, g.row(m, o))), width(p.Cell(g.other.Value, g.row(0, o))))
		}
	}
	room := (p.Width - len(p.indent) - first) / (widest + len(gap))
	return chosen(g.other.n, max(2, room), nil)
}

// crosses reports whether a limit lies between two points of a series.
func crosses(s *answer.Series, l *level, a, b int) bool {
	if s.Value.Fault(a) != "" || s.Value.Fault(b) != "" {
		return false
	}
	return (s.Value.Numbers[a] > l.si) != (s.Value.Numbers[b] > l.si)
}
