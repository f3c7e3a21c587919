package syntax

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// A table is printed as it would stand on paper: a bar below a bar, numbers to
// the right of their columns and words to the left, notes below notes. A column
// is as wide as the widest of its cells, so that a changed cell that does not
// widen it changes no other row.

// A field is what stands between two bars.
type field struct {
	text  string
	wide  int // in columns of a terminal
	right bool
}

// written is a row of a table with its texts: first the label or the name of the
// table, then the cells.
type written struct {
	fields []field
	note   string
}

// widest is how wide a column becomes for a cell: a wider one sticks out, lest a
// single sentence push the columns apart in every row.
const widest = 40

// indent stands before each row below the head.
const indent = "  "

func (p *printer) table(word string, t *Table, note string, aligned bool) {
	head := headOf(word, t, note)
	rows := make([]written, len(t.Rows))
	for i, r := range t.Rows {
		rows[i] = rowOf(r)
	}
	var widths []int
	if aligned {
		widths = make([]int, len(t.Heads)+1)
		head.widen(widths)
		for _, r := range rows {
			r.widen(widths)
		}
	}
	p.written(head, widths)
	remarks := t.Remarks
	for i, r := range rows {
		remarks = p.remarks(remarks, i)
		p.put("\n")
		p.written(r, widths)
	}
	p.remarks(remarks, len(t.Rows))
	p.put("\nend")
}

func (p *printer) remarks(rs []Between, before int) []Between {
	for len(rs) > 0 && rs[0].Before <= before {
		p.put("\n", indent)
		p.remark(rs[0].Text)
		rs = rs[1:]
	}
	return rs
}

func headOf(word string, t *Table, note string) written {
	switch {
	case t.Taken:
		word = "take " + word
	case t.Ask:
		word = "ask " + word
	}
	w := written{note: note}
	w.add(word+t.Name.Text, false)
	for _, h := range t.Heads {
		var p printer
		p.put(h.Name.Text)
		if h.Default.Expr != nil {
			p.put(" = ")
			p.cell(h.Default)
		}
		p.as(h.As)
		if h.Date {
			p.put(" as ", date)
		}
		p.whole(h.Whole)
		w.add(p.String(), false)
	}
	return w
}

// rowOf gives the texts of a row. Its label stands in quotes only if it would be
// read as something else without.
func rowOf(r Row) written {
	w := written{note: r.Note, fields: make([]field, 1, len(r.Cells)+1)}
	for _, c := range r.Cells {
		var p printer
		if c.Expr != nil {
			p.cell(c)
		}
		w.add(p.String(), !ofWords(c.Expr))
	}
	var rest printer
	rest.written(w, nil)
	var label printer
	label.put(indent)
	label.label(r.Label, strings.TrimLeft(rest.String(), " "))
	w.fields[0] = field{text: label.String(), wide: displaywidth.String(label.String())}
	return w
}

// ofWords reports whether a cell holds a text, yes or no.
func ofWords(e Expr) bool {
	switch e.(type) {
	case *Text, *Truth:
		return true
	}
	return false
}

func (w *written) add(text string, right bool) {
	w.fields = append(w.fields, field{text, displaywidth.String(text), right})
}

// widen makes columns as wide as a row needs them.
func (w *written) widen(widths []int) {
	for i, f := range w.fields {
		if f.wide <= widest {
			widths[i] = max(widths[i], f.wide)
		}
	}
}

// written prints a row, its fields in columns of the widths given, if any are.
func (p *printer) written(w written, widths []int) {
	var b strings.Builder
	for i, f := range w.fields {
		pad := ""
		if i < len(widths) {
			pad = strings.Repeat(" ", max(0, widths[i]-f.wide))
		}
		if i > 0 {
			b.WriteString(" | ")
		}
		if f.right {
			b.WriteString(pad + f.text)
		} else {
			b.WriteString(f.text + pad)
		}
	}
	row := b.String()
	if w.note == "" {
		row = strings.TrimRight(row, " ")
	}
	p.put(row)
	p.note(w.note)
}

// PrintLabel spells a label as it stands at the beginning of a row.
func PrintLabel(label string) string {
	var p printer
	p.label(label, " |")
	return p.String()
}

func (p *printer) label(l, rest string) {
	if strings.ContainsAny(l, "|") || l != trimBlanks(l) || l == "end" ||
		strings.HasPrefix(l, `"`) || strings.HasPrefix(l, "#") || stopsTable(l+rest) {
		p.quote(l)
	} else {
		p.put(l)
	}
}
