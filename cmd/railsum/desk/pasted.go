package desk

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/separated"
	"railsum/calc/syntax"
	"railsum/sessions"
	"railsum/units/words"
)

// Rows of separated values, as a spreadsheet has them, typed or pasted under the
// head of a table. They go on record as they came, and are made cells at its end.

// parsed reads the rows of a line. With separated values among them a table stays
// open until its end, and is then read with their cells.
func (d *desk) parsed(rows []string, row int) (line *syntax.Line, open bool, err error) {
	if values := valueRows(rows); len(values) > 0 {
		if tableOf(rows[0], rows[len(rows)-1]) == nil {
			return nil, true, nil // this is not its end
		}
		if rows, err = d.asCells(rows, values, row); err != nil {
			d.refuse(d.s.DropDraft())
			return nil, false, err
		}
	}
	line, open = syntax.ParseLineUntil(d.signals.stopped, strings.Join(rows, "\n"), row)
	if d.signals.stopped() {
		return nil, false, sessions.ErrStopped
	}
	return line, open, nil
}

// asCells makes cells of the values of a table and shows it before it is kept. It
// says what cannot be read.
func (d *desk) asCells(rows []string, values []int, row int) ([]string, error) {
	cells, wrong := inCells(rows, values)
	for _, w := range wrong {
		d.say(syntax.Diag{Wrong: w})
	}
	if len(wrong) > 0 {
		return nil, refusal("the table was not taken").With("paste it again when that is mended")
	}
	for i, r := range cells {
		d.note("%s%s", d.number(row+i), r)
	}
	if d.ed.Interactive() && !d.ed.More() {
		if answer, _ := d.question("Is it read as it is meant? yes or no: ", "yes", "no"); answer != "yes" {
			return nil, refusal("the table was not taken")
		}
	}
	return cells, nil
}

// tableOf is the table that rows are, nil if they are none or its rows are in a file.
func tableOf(rows ...string) *syntax.Table {
	line, _ := syntax.ParseLine(strings.Join(rows, "\n"))
	t, ok := line.Node.(*syntax.Table)
	if !ok || t.From != nil {
		return nil
	}
	return t
}

// valueRows are the rows of a table that hold separated values.
func valueRows(rows []string) (at []int) {
	if len(rows) < 2 || tableOf(rows[0], "end") == nil {
		return nil
	}
	for i, r := range rows[1:] {
		if holdsValues(r) {
			at = append(at, i+1)
		}
	}
	return at
}

// holdsValues reports whether a row under the head of a table has separated values:
// it has no bar, and is no line of the language.
func holdsValues(row string) bool {
	t := strings.TrimSpace(row)
	if t == "" || t[0] == '#' || strings.Contains(t, "|") || separated.Separator(row) == 0 {
		return false
	}
	l, open := syntax.ParseLine(t)
	return !open && mistaken(l)
}

// inCells writes the rows at these places as rows of the table. Where the first of
// them has the table's heads, with units or without, they are its heads.
func inCells(rows []string, at []int) ([]string, []words.Wrong) {
	table := tableOf(rows[0], "end")
	text := make([]string, len(at))
	for i, k := range at {
		text[i] = rows[k]
	}
	all := strings.Join(text, "\n") + "\n"
	own := headNames(table)
	first, _ := separated.Table([]byte(text[0] + "\n"))
	said := headNames(first)
	headed := slices.Equal(slices.Sorted(slices.Values(said)), slices.Sorted(slices.Values(own)))
	if headed && !slices.Equal(said, own) {
		wrong := words.Say("the heads stand in another order here than in the table")
		return nil, []words.Wrong{wrong.With(fmt.Sprintf("write them as `%s`", strings.Join(said, " | ")))}
	}
	var read *syntax.Table
	var wrong []words.Wrong
	if rows = slices.Clone(rows); headed {
		read, wrong = separated.Table([]byte(all))
		rows, at = slices.Delete(rows, at[0], at[0]+1), at[1:]
	} else {
		read, wrong = separated.Under(own, all)
	}
	switch {
	case len(wrong) > 0:
		return nil, wrong
	case len(read.Rows) != len(at):
		return nil, []words.Wrong{words.Say("a row has nothing but separators").With("take it out")}
	}
	if headed {
		for i, h := range table.Heads {
			if h.As == nil && !h.Whole && !h.Date && h.Default.Expr == nil { // else what is typed goes before
				table.Heads[i] = read.Heads[i]
			}
		}
		rows[0] = printed(table)[0]
	}
	table.Rows = read.Rows
	for i, cells := range printed(table)[1 : len(at)+1] {
		k := at[i]
		if headed {
			k-- // a row above it is gone
		}
		rows[k] = cells
	}
	return rows, nil
}

// printed are the rows of a table as it is printed.
func printed(t *syntax.Table) []string {
	return strings.Split(syntax.Print(&syntax.Line{Node: t}), "\n")
}

// headNames are the names of a table's heads, none where there is no table.
func headNames(t *syntax.Table) (names []string) {
	if t != nil {
		for _, h := range t.Heads {
			names = append(names, h.Name.Text)
		}
	}
	return names
}
