package answer

import (
	"fmt"
	"iter"
	"strings"
)

// Table is the answer of a show line: columns of one table side by side. The
// rows of each are those that are shown, in that order.
type Table struct {
	Name    string     `json:"table" doc:"whose rows they are"`
	Rows    int        `json:"rows" doc:"that the table has"`
	Columns []CardLine `json:"columns" doc:"of the table by their heads, others by their names; with the rows that are shown, in their order"`
	Sort    Expr       `json:"sorted_by,omitzero"`
	Where   Expr       `json:"where,omitzero" doc:"the condition for a row to be shown"`
	Unknown []string   `json:"unknown,omitempty" doc:"rows for which the condition has no answer; they are left out"`
	Last    []string   `json:"last,omitempty" doc:"rows that stand last, for what they are sorted by has no answer"`
}

// Shown is how many rows are shown.
func (t *Table) Shown() int {
	if len(t.Columns) == 0 {
		return 0
	}
	return t.Columns[0].Value.Rows()
}

// Says is what there is to say of the rows besides their values: that there are
// none, and which have no answer to what they were chosen or sorted by.
func (t *Table) Says() []string {
	var says []string
	switch {
	case t.Rows == 0:
		says = append(says, t.Name+" has no rows")
	case t.Shown() == 0 && len(t.Unknown) == t.Rows:
	case t.Shown() == 0:
		says = append(says, "no row of "+t.Name+" has "+t.Where.String())
	}
	if len(t.Unknown) > 0 {
		says = append(says, "left out, for "+t.Where.String()+" has no answer there: "+some(t.Unknown))
	}
	if len(t.Last) > 0 {
		says = append(says, "last, for "+t.Sort.String()+" has no answer there: "+some(t.Last))
	}
	return says
}

// Word is show.
func (*Table) Word() string { return "show" }

// Visit is the visitor's Show.
func (t *Table) Visit(v Visitor) { v.Show(t) }

// Facts are the values, row by row, and what there is to say of the rows.
func (t *Table) Facts() iter.Seq[Fact] {
	return func(yield func(Fact) bool) {
		for r := range t.Shown() {
			for i := range t.Columns {
				v := t.Columns[i].Value
				if !yield(Fact{Name: t.full(t.Columns[i].Name), Label: v.Label(r), Value: v.Row(r)}) {
					return
				}
			}
		}
		for _, text := range t.Says() {
			if !yield(Fact{Name: t.Name, Remark: text}) {
				return
			}
		}
	}
}

// full is a column as the notebook knows it.
func (t *Table) full(head string) string {
	if strings.ContainsAny(head, ". (") {
		return head
	}
	return t.Name + "." + head
}

// some lists the first of many labels.
func some(labels []string) string {
	if n := len(labels) - mostLabels; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(labels[:mostLabels], ", "), n)
	}
	return strings.Join(labels, ", ")
}

const mostLabels = 5
