package guide

import (
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// scalesTable is the shipped table that every scale is a row of.
const scalesTable = "scales"

// scalePages are the scales, each by its symbol and by its constant, and the
// other constants.
func scalePages(lib calc.Library) []page {
	all := []page{{
		name: "pi", kind: "constant", meaning: "the circle's circumference over its diameter, 3.142",
		write: func(w *writer) {
			w.line("pi, a constant: the circle's circumference over its diameter, 3.142")
			w.block("for example", []string{"pi * (0.5 mm)^2 as mm2"})
		},
	}}
	t := lib.Table(scalesTable)
	if t == nil {
		return all
	}
	for i, row := range t.Node.Rows {
		write := func(w *writer) { writeScale(w, t, i) }
		meaning := "a scale, 1:" + cellText(row.Cells[0])
		all = append(all,
			page{name: row.Label, kind: "scale", meaning: meaning, write: write},
			page{name: "scale_" + row.Label, kind: "constant", meaning: meaning, write: write})
	}
	return all
}

// writeScale writes a scale's ratio, how it is used, what else its row holds
// and where that comes from.
func writeScale(w *writer, t *calc.Table, i int) {
	row := t.Node.Rows[i]
	w.line(row.Label + ", a scale: 1:" + cellText(row.Cells[0]))
	var facts []string
	for k, h := range t.Node.Heads[1:] {
		text := h.Name.Text + " = " + cellText(row.Cells[k+1])
		if _, bare := row.Cells[k+1].Expr.(*syntax.Literal); bare && h.As != nil {
			text += " " + h.As.Unit.String()
		}
		if k+1 < len(t.Meant) {
			text = meant(t.Meant[k+1], text)
		}
		facts = append(facts, text)
	}
	w.block("facts", facts)
	w.block("for example", []string{
		"25 m at " + row.Label + " as mm",
		"full_size(287 mm, scale_" + row.Label + ") as m",
	})
	if source := sourceOf(t, i); source != "" {
		w.block("sources", []string{source})
	}
}

// cellText is a cell as it is typed.
func cellText(c syntax.Cell) string {
	if c.Expr == nil {
		return ""
	}
	return strings.TrimSpace(syntax.PrintExpr(c.Expr))
}
