package guide

import (
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// writeTable writes a table's columns, its rows as they could be typed, and
// where they come from.
func writeTable(w *writer, t *calc.Table) {
	w.line(t.Name + ": " + t.Meaning)
	w.block("columns", columns(t))
	w.line("")
	for _, row := range aligned(grid(t)) {
		w.line("  " + row)
	}
	w.block("sources", sources(t))
}

func columns(t *calc.Table) []string {
	var lines []string
	for i, h := range t.Node.Heads {
		name := t.Name + "." + h.Name.Text
		if h.As != nil {
			name += " as " + h.As.Unit.String()
		}
		if i < len(t.Meant) {
			lines = append(lines, meant(t.Meant[i], name))
		} else {
			lines = append(lines, name)
		}
	}
	return lines
}

// grid is the table as texts, its heading first.
func grid(t *calc.Table) [][]string {
	head := []string{t.Name}
	for _, h := range t.Node.Heads {
		head = append(head, h.Name.Text)
	}
	rows := [][]string{head}
	for _, r := range t.Node.Rows {
		row := []string{r.Label}
		for _, c := range r.Cells {
			text := ""
			if c.Expr != nil {
				text = syntax.PrintExpr(c.Expr)
			}
			if c.Tol != nil {
				text += " +- " + c.Tol.By.Text
			}
			row = append(row, text)
		}
		rows = append(rows, row)
	}
	return rows
}

// aligned sets the columns of a grid under one another.
func aligned(rows [][]string) []string {
	var widths []int
	for _, row := range rows {
		for i, text := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], cells(safe(text)))
		}
	}
	lines := make([]string, len(rows))
	for n, row := range rows {
		parts := make([]string, len(row))
		for i, text := range row {
			parts[i] = padded(text, widths[i])
		}
		lines[n] = strings.TrimRight(strings.Join(parts, "  "), " ")
	}
	return lines
}

// sources gives each source once, with the rows that rest on it unless all do.
func sources(t *calc.Table) []string {
	var order []string
	rows := map[string][]string{}
	for i := range t.Node.Rows {
		key := sourceOf(t, i)
		if key == "" {
			continue
		}
		if rows[key] == nil {
			order = append(order, key)
		}
		rows[key] = append(rows[key], t.Node.Rows[i].Label)
	}
	var lines []string
	for _, key := range order {
		of := rows[key]
		switch {
		case len(of) == len(t.Node.Rows):
			lines = append(lines, key)
		case len(of) > 4:
			lines = append(lines, fmt.Sprintf("%s: %s and %d more rows", key, strings.Join(of[:3], ", "), len(of)-3))
		default:
			lines = append(lines, key+": "+strings.Join(of, ", "))
		}
	}
	return lines
}

func sourceOf(t *calc.Table, i int) string {
	var source, basis string
	if i < len(t.Source) {
		source = t.Source[i]
	}
	if i < len(t.Basis) {
		basis = t.Basis[i]
	}
	switch {
	case source == "":
		return basis
	case basis == "":
		return source
	}
	return source + " (" + basis + ")"
}
