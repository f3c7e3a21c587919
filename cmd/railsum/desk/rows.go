package desk

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// rowNamed reads the name of a row, fleet.railcar or fleet."dock shunter", of a
// table of the notebook.
func (d *desk) rowNamed(text string) (table, label string, ok bool) {
	n := dotted(text)
	if n == nil || !d.s.Book().C.Tables(n.Parts[0].Text) {
		return "", "", false
	}
	return n.Parts[0].Text, n.Parts[1].Text, true
}

// columnNamed reports whether a name without quotes is that of a column.
func (d *desk) columnNamed(text string) bool {
	n := dotted(text)
	return n != nil && !n.Parts[1].Quoted && slices.Contains(d.s.Book().Names(), n.String())
}

// dotted reads a name of two parts, nil if a text is none.
func dotted(text string) *syntax.Name {
	l, _ := syntax.ParseLine(strings.TrimSpace(text))
	q, is := l.Node.(*syntax.Question)
	if !is || mistaken(l) {
		return nil
	}
	n, is := q.Expr.(*syntax.Name)
	if !is || len(n.Parts) != 2 {
		return nil
	}
	return n
}

// add puts a row at the end of a table.
func (d *desk) add(args string) error {
	table, row, ok := strings.Cut(args, "|")
	if table = strings.TrimSpace(table); !ok || table == "" || strings.TrimSpace(row) == "" {
		return misuse("add")
	}
	if !strings.Contains(row, "|") {
		return refusal("a row has a label and a cell for each head").With("as in `add " + table + " | " + strings.TrimSpace(row) + " | 1`")
	}
	edit, err := d.s.AddRow(table, row)
	return d.done(edit, err)
}

// moveRow puts a row of a table before another.
func (d *desk) moveRow(table, label, before string) error {
	other, at, ok := d.rowNamed(before)
	switch {
	case !ok:
		return refusal("%s is no row of a table", strings.TrimSpace(before)).
			With(fmt.Sprintf("name a row of %s, as in `move %s.railcar before %s.shunter`", table, table, table))
	case other != table:
		return refusal("a row stays in its table").With(fmt.Sprintf("name a row of %s", table))
	}
	edit, err := d.s.MoveRow(table, label, at)
	return d.done(edit, err)
}

// renameRow gives a row another label: a word, a text in quotes, or the row's name
// as it is to be.
func (d *desk) renameRow(table, label, to string) error {
	to = strings.TrimSpace(to)
	if other, as, ok := d.rowNamed(to); ok && other == table {
		to = as
	} else if text, ok := strings.CutPrefix(to, `"`); ok && strings.HasSuffix(text, `"`) {
		to = strings.ReplaceAll(strings.TrimSuffix(text, `"`), `""`, `"`)
	}
	if to = strings.TrimSpace(to); to == "" {
		return misuse("rename")
	}
	edit, err := d.s.RenameRow(table, label, to)
	return d.done(renamed(edit), err)
}
