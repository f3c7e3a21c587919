package page

import (
	"html/template"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/types"
	"railsum/cmd/railsum/outline"
)

// columns are a table: a row for each label. On a narrow screen each row is a list of its cells.
type columns struct {
	Caption string
	Of      string // what it is of, for a screen reader, where there is no caption
	Folded  string // what it is called that is closed on the screen, empty if it is open
	Corner  string // what the heads are values of
	Heads   []columnHead
	Rows    []columnRow
	More    int
	Notes   []rest       // what the columns mean, where somebody said so
	of      *types.Table // that all are columns of, nil for another table
}

type columnHead struct{ Name, Unit string }

type columnRow struct {
	Label string
	Fails bool // a rule does not hold for it
	Cells []string
}

// Spoken names the table to a screen reader where no caption does.
func (x columns) Spoken() string {
	switch {
	case x.Of != "":
		return x.Of
	case x.of != nil:
		return x.of.Name
	}
	return "the values of each row"
}

// row adds a row, or counts one more where there are enough.
func (x *columns) row(label string, cells ...string) {
	if len(x.Rows) == mostRows {
		x.More++
		return
	}
	x.Rows = append(x.Rows, columnRow{Label: label, Cells: cells})
}

// mostColumns is how many columns of numbers a page has room for side by side.
const mostColumns = 7

// with adds a column, and reports whether there was room for one of its table.
func (x *columns) with(l *answer.CardLine, fails map[string]bool) bool {
	v := l.Value
	if x.of != v.Type.Of || len(x.Heads) == mostColumns {
		return false
	}
	head := columnHead{Name: strings.TrimPrefix(l.Name, x.of.Name+".")}
	if v.Quantity() && !v.Unit.IsZero() {
		head.Unit = v.Unit.Shown()
	}
	x.Heads = append(x.Heads, head)
	if len(x.Rows) == 0 {
		n := min(v.Rows(), mostRows)
		x.Rows, x.More = make([]columnRow, n), v.Rows()-n
		for r := range x.Rows {
			x.Rows[r].Label, x.Rows[r].Fails = v.Label(r), fails[v.Label(r)]
		}
	}
	for r := range x.Rows {
		x.Rows[r].Cells = append(x.Rows[r].Cells, bare(v, r))
	}
	if l.Meaning != "" {
		x.Notes = append(x.Notes, rest{Name: head.Name, Meaning: l.Meaning})
	}
	return true
}

// abreast takes the columns out of the lines of a card and sets those of one table side by side; rest are the others.
func abreast(lines []answer.CardLine, fails map[string]bool) (all []*columns, rest []answer.CardLine) {
	for _, l := range lines {
		of := []answer.CardLine{l}
		if len(l.Columns) > 0 {
			of = l.Columns
		}
		for i := range of {
			c := &of[i]
			switch {
			case c.Value == nil:
			case !c.Value.Column():
				rest = append(rest, *c)
			case len(all) == 0 || !all[len(all)-1].with(c, fails):
				x := &columns{of: c.Value.Type.Of}
				x.with(c, fails)
				all = append(all, x)
			}
		}
	}
	return all, rest
}

// tabled writes a table of the notebook, or a column: beside the columns of its table if they stand just above.
func (m *maker) tabled(i *outline.Item, a *outline.Answer, name string) {
	lines := a.Columns
	if a.Value != nil {
		lines = []answer.CardLine{{Name: name, Meaning: a.Meaning, Value: a.Value}}
		if x := m.above; x != nil && x.with(&lines[0], nil) {
			m.again("columns", x)
			return
		}
	}
	all, _ := abreast(lines, nil)
	for _, x := range all {
		if x.Caption = x.of.Name; a.Value == nil && i.Line.Note != "" {
			x.Caption += ": " + i.Line.Note
		}
		m.block("", "columns", x)
		m.above = x
	}
}

// broken is a text that may break behind each sign that joins the words of a name.
func broken(s string) template.HTML {
	return template.HTML(atDots.Replace(string(text(s))))
}

var atDots = strings.NewReplacer("_", "_<wbr>", ".", ".<wbr>")
