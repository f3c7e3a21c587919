package library

import (
	"fmt"
	"math/big"
	"path"
	"slices"
	"strings"
	"sync"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/units"
)

// labelColumn is the name under which the labels of a table's rows are asked
// for.
const labelColumn = "label"

// table is a shipped table with its columns taken out for the functions of the
// trade.
type table struct {
	*calc.Table
	numbers map[string][]float64 // in SI
	texts   map[string][]string
}

var tableNames = sync.OnceValue(func() []string {
	entries, err := files.ReadDir("tables")
	if err != nil {
		panic(err) // embedded: cannot fail in a program that was built
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e.Name(), path.Ext(e.Name()))
	}
	slices.Sort(names)
	return names
})

// tables holds a parser for every shipped table, to be called when asked for.
var tables = sync.OnceValue(func() map[string]func() *table {
	m := map[string]func() *table{}
	for _, name := range tableNames() {
		m[name] = sync.OnceValue(func() *table {
			text, err := files.ReadFile("tables/" + name + ".tsv")
			if err != nil {
				panic(err) // embedded: cannot fail in a program that was built
			}
			t, err := parseTable(name, string(text))
			if err != nil {
				panic("library: table " + name + ": " + err.Error()) // the tests parse every table
			}
			return t
		})
	}
	return m
})

// shippedTable gives the shipped table of that name, nil if there is none.
func shippedTable(name string) *table {
	if parse := tables()[name]; parse != nil {
		return parse()
	}
	return nil
}

// splitTSV takes a tab separated text apart: its notes and its rows, the heads
// being the first row.
func splitTSV(text string) (notes []string, rows [][]string) {
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\r\n")
		if note, ok := strings.CutPrefix(line, "# "); ok && rows == nil {
			notes = append(notes, note)
			continue
		}
		rows = append(rows, strings.Split(line, "\t"))
	}
	return notes, rows
}

// parseTable reads a table in the form that the package's documentation gives.
func parseTable(name, text string) (*table, error) {
	notes, rows := splitTSV(text)
	if len(rows) < 2 {
		return nil, fmt.Errorf("no rows")
	}
	heads, rows := rows[0], rows[1:]
	last := len(heads) - 2 // where basis and source stand
	if last < 2 || heads[last] != "basis" || heads[last+1] != "source" {
		return nil, fmt.Errorf("the last two heads are not basis and source")
	}
	t := &table{
		Table:   &calc.Table{Name: name},
		numbers: map[string][]float64{},
		texts:   map[string][]string{},
	}
	for i, row := range rows {
		if len(row) != len(heads) || slices.Contains(row, "") {
			return nil, fmt.Errorf("row %d: a cell is empty, missing or one too many", i+1)
		}
		t.texts[labelColumn] = append(t.texts[labelColumn], row[0])
		t.Basis = append(t.Basis, row[last])
		t.Source = append(t.Source, row[last+1])
	}
	for _, head := range heads[1:last] {
		column, _, _ := strings.Cut(head, " as ")
		var meant string
		meant, notes = takeNote(notes, column)
		t.Meant = append(t.Meant, meant)
	}
	t.Meaning = strings.Join(notes, ". ")

	line, _ := syntax.ParseLine(typed(name, heads[:last], rows))
	for _, d := range line.Errors {
		return nil, d
	}
	node, ok := line.Node.(*syntax.Table)
	if !ok || len(node.Rows) != len(rows) {
		return nil, fmt.Errorf("it does not read as a table")
	}
	t.Node = node
	return t, t.takeColumns()
}

// typed is the text of a table as a user would type it into a notebook.
func typed(name string, heads []string, rows [][]string) string {
	b := &strings.Builder{}
	b.WriteString("table " + name)
	isText := make([]bool, len(heads))
	for i, head := range heads[1:] {
		head, isText[i+1] = strings.CutSuffix(head, " as text")
		b.WriteString(" | " + head)
	}
	for _, row := range rows {
		b.WriteString("\n  " + row[0])
		for i, cell := range row[1:len(heads)] {
			if isText[i+1] {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(" | " + cell)
		}
	}
	b.WriteString("\nend")
	return b.String()
}

// takeNote takes the note that speaks of a column out of the notes.
func takeNote(notes []string, column string) (string, []string) {
	for i, note := range notes {
		if meant, ok := strings.CutPrefix(note, column+": "); ok {
			return meant, slices.Delete(notes, i, i+1)
		}
	}
	return "", notes
}

// takeColumns fills the columns of numbers and texts from the tree.
func (t *table) takeColumns() error {
	for i, head := range t.Node.Heads {
		var unit units.Unit
		if head.As != nil {
			unit = head.As.Unit
		}
		for _, row := range t.Node.Rows {
			switch x := row.Cells[i].Expr.(type) {
			case *syntax.Text:
				t.texts[head.Name.Text] = append(t.texts[head.Name.Text], x.Value)
			default:
				v, err := number(x, unit)
				if err != nil {
					return fmt.Errorf("row %s, column %s: %w", row.Label, head.Name.Text, err)
				}
				t.numbers[head.Name.Text] = append(t.numbers[head.Name.Text], v)
			}
		}
	}
	return nil
}

// number gives a cell's value in SI: a literal, or one with a minus before it.
// A bare number is in the unit of the head.
func number(e syntax.Expr, unit units.Unit) (float64, error) {
	sign := int64(1)
	if u, ok := e.(*syntax.Unary); ok && u.Op == "-" {
		sign, e = -1, u.X
	}
	lit, ok := e.(*syntax.Literal)
	if !ok {
		return 0, fmt.Errorf("not a number")
	}
	if lit.Form != syntax.Plain || unit.IsZero() {
		return float64(sign) * lit.Value, nil
	}
	r, ok := new(big.Rat).SetString(lit.Text)
	if !ok {
		return 0, fmt.Errorf("not a number")
	}
	return unit.SI(r.Mul(r, big.NewRat(sign, 1))), nil
}
