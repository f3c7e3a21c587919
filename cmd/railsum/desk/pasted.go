package desk

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/separated"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Rows of separated values, as a spreadsheet has them, typed or pasted under the
// head of a table. They go on record as they came, and are made cells at its end.

// parsed reads the rows of a line. With separated values among them a table stays
// open until its end, and is then read with their cells.
func (d *desk) parsed(rows []string, row int) (line *syntax.Line, open bool, err error) {
	values := valueRows(rows)
	switch {
	case len(values) == 0:
		line, open = syntax.ParseLineAt(strings.Join(rows, "\n"), row)
		return line, open, nil
	case strings.TrimSpace(rows[len(rows)-1]) != "end":
		return nil, true, nil
	}
	rows, wrong := inCells(rows, values)
	for _, w := range wrong {
		d.say(syntax.Diag{Wrong: w})
	}
	if len(wrong) > 0 {
		d.refuse(d.s.DropDraft())
		return nil, false, refusal("the table was not taken").With("paste it again when that is mended")
	}
	for i, r := range rows {
		d.note("%s%s", d.number(row+i), r)
	}
	if d.ed.Interactive() && !d.ed.More() {
		if answer, _ := d.question("Is it read as it is meant? yes or no: ", "yes", "no"); answer != "yes" {
			d.refuse(d.s.DropDraft())
			return nil, false, refusal("the table was not taken")
		}
	}
	line, open = syntax.ParseLineAt(strings.Join(rows, "\n"), row)
	return line, open, nil
}

// tableUnder is the empty table that a row is the head of, nil if it is none.
func tableUnder(head string) *syntax.Table {
	line, _ := syntax.ParseLine(head + "\nend")
	t, ok := line.Node.(*syntax.Table)
	if !ok || t.From != nil {
		return nil
	}
	return t
}

// valueRows are the rows of a table that hold separated values: without a bar, and
// no line of the language.
func valueRows(rows []string) (at []int) {
	if len(rows) < 2 || tableUnder(rows[0]) == nil {
		return nil
	}
	for i, r := range rows[1:] {
		t := strings.TrimSpace(r)
		if t == "" || t[0] == '#' || strings.Contains(t, "|") || separated.Separator(r) == 0 {
			continue
		}
		if l, open := syntax.ParseLine(t); !open && mistaken(l) {
			at = append(at, i+1)
		}
	}
	return at
}

// inCells writes the rows at these places as rows of the table. Where the first of
// them has the table's heads, with units or without, they are its heads.
func inCells(rows []string, at []int) ([]string, []words.Wrong) {
	table := tableUnder(rows[0])
	text := make([]string, len(at))
	for i, k := range at {
		text[i] = rows[k]
	}
	own := slices.Clone(table.Heads)
	said := headsOf(text[0])
	named := len(said) == len(own) && !slices.ContainsFunc(own, func(h syntax.Head) bool {
		return !slices.ContainsFunc(said, func(s string) bool { return s == h.Name.Text })
	})
	all := strings.Join(text, "\n") + "\n"
	read, wrong := separated.Table([]byte(all))
	if !named {
		var heads []string
		for _, h := range own {
			heads = append(heads, h.Name.Text)
		}
		read, wrong = separated.Under(heads, all)
	}
	if len(wrong) > 0 {
		return rows, wrong
	}
	below := len(text)
	if named {
		below--
	}
	if len(read.Heads) != len(own) || len(read.Rows) != below {
		wrong := words.Say("these are %d rows of %d values, and the table has %d heads", len(read.Rows), len(read.Heads), len(own))
		return rows, []words.Wrong{wrong.With("each row has a label and a value for each head")}
	}
	made := &syntax.Table{Name: table.Name, Heads: read.Heads, Rows: read.Rows}
	if named {
		for i, h := range own { // what is typed goes before
			if made.Heads[i].Name.Text != h.Name.Text {
				wrong := words.Say("the heads stand in another order here than in the table")
				return rows, []words.Wrong{wrong.With(fmt.Sprintf("write them as `%s`", strings.Join(said, " | ")))}
			}
			if h.As != nil || h.Whole || h.Default.Expr != nil {
				made.Heads[i] = h
			}
		}
	}
	cells := strings.Split(syntax.Print(&syntax.Line{Node: made}), "\n")
	out := slices.Clone(rows)
	if named {
		made.Ask, made.Taken, made.Rows = table.Ask, table.Taken, nil
		out[0] = strings.Split(syntax.Print(&syntax.Line{Node: made}), "\n")[0]
		out = slices.Delete(out, at[0], at[0]+1)
		at = at[1:]
		for i := range at {
			at[i]--
		}
	}
	for i, k := range at {
		out[k] = cells[i+1]
	}
	return out, nil
}

// headsOf are the names of the heads that a row of separated values has, units left
// off, but for the first, which stands over the labels.
func headsOf(row string) (names []string) {
	read, wrong := separated.Table([]byte(row + "\n"))
	if len(wrong) > 0 {
		return nil
	}
	for _, h := range read.Heads {
		names = append(names, h.Name.Text)
	}
	return names
}
