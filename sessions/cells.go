package sessions

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/syntax"
	"railsum/units/words"
)

// Single cells and rows of a table, changed where they stand: every other
// character of the table stays, but for the blanks that keep a tidy one tidy.

// tableRow is a row of a table of the notebook.
type tableRow struct {
	line int // of the table
	node *syntax.Table
	row  int // of the table, -1 for none
}

// tableOf finds a table of the notebook, and says why there is none whose rows
// could be changed here.
func (s *Session) tableOf(name string) (tableRow, error) {
	for i, l := range s.text.Lines {
		switch n := l.Node.(type) {
		case *syntax.Table:
			if n.Name.Text != name {
				continue
			}
			if n.From != nil {
				return tableRow{}, refuse(fmt.Sprintf("the rows of %s stand in %s", name, n.From.Value), "change them there; `reload` reads it again")
			}
			return tableRow{i, n, -1}, nil
		case *syntax.Define:
			if of, is := n.Expr.(*syntax.Name); is && len(n.Target.Parts) == 1 && n.Target.Parts[0].Text == name &&
				s.book.C.Tabs[i] != nil {
				return tableRow{}, refuse(fmt.Sprintf("%s is %s, a table of another notebook", name, of), "change it there")
			}
		}
	}
	return tableRow{}, refuse("there is no table "+name+" here", "")
}

// rowOf finds a row by its label.
func (s *Session) rowOf(table, label string) (tableRow, error) {
	p, err := s.tableOf(table)
	if err != nil {
		return p, err
	}
	var labels []string
	for i, r := range p.node.Rows {
		labels = append(labels, r.Label)
		switch {
		case r.Label != label:
		case p.row >= 0:
			return p, refuse(fmt.Sprintf("several rows of %s are called %q", table, label), "give them different labels")
		default:
			p.row = i
		}
	}
	if p.row < 0 {
		return p, refuse(fmt.Sprintf("%s has no row %q", table, label), words.Meant(label, labels))
	}
	return p, nil
}

// rows are the rows of text of a table, and which of them its row stands on.
func (s *Session) rows(p tableRow) (rows []string, at int) {
	l := s.text.Lines[p.line]
	if p.row >= 0 {
		at = p.node.Rows[p.row].At.Row - l.Row
	}
	return strings.Split(l.Raw, "\n"), at
}

// setCell puts a value into the cell that a line names, "fleet.railcar.draw = 0.5 A".
func (s *Session) setCell(l *syntax.Line, d *syntax.Define) (Edit, error) {
	parts := d.Target.Parts
	p, err := s.rowOf(parts[0].Text, parts[1].Text)
	if err != nil {
		return Edit{}, err
	}
	column := slices.IndexFunc(p.node.Heads, func(h syntax.Head) bool { return h.Name.Text == parts[2].Text })
	switch {
	case column < 0 && s.definition(syntax.Defined{Parts: []syntax.Part{parts[0], parts[2]}}) >= 0:
		return Edit{}, refuse(fmt.Sprintf("%s.%s is worked out and has no cells", parts[0].Text, parts[2].Text),
			"change a column that it is worked out from")
	case column < 0:
		return Edit{}, refuse(fmt.Sprintf("%s has no column %s", parts[0].Text, parts[2].Text), "")
	case d.Assumed || d.Tail.As != nil || d.Tail.Whole || l.Note != "":
		return Edit{}, refuse("a cell holds a value with its tolerance and no more", fmt.Sprintf("write `%s = %s`", d.Target, syntax.PrintExpr(d.Expr)))
	}
	value := d.Expr
	if p.node.Heads[column].Date {
		value = syntax.BareDate(value)
	}
	text := syntax.PrintExpr(value)
	if d.Tail.Tol != nil {
		text += " +- " + d.Tail.Tol.By.Text
	}
	rows, at := s.rows(p)
	rows[at] = withCell(rows[at], column, text)
	done, err := s.do("enter", s.inPlaceOf(p.line, s.tidied(p, rows)))
	done.Replaced = err == nil
	return done, err
}

// withCell puts a text into a cell of a row; the cells behind it stay where they
// are if it has room.
func withCell(row string, column int, text string) string {
	bars, note := bars(row)
	from, to := bars[column]+1, note
	last := column == len(bars)-1
	if !last {
		to = bars[column+1]
	}
	field := row[from:to]
	blank := field[:len(field)-len(strings.TrimLeft(field, " \t"))]
	if strings.TrimSpace(field) == "" {
		blank = " "
	}
	cell := blank + text
	if last {
		return row[:from] + cell + strings.Repeat(" ", len(field)-len(strings.TrimRight(field, " \t\r"))) +
			strings.TrimLeft(row[to:], "\r")
	}
	for len([]rune(cell)) < len([]rune(field)) {
		cell += " "
	}
	if !strings.HasSuffix(cell, " ") {
		cell += " "
	}
	return row[:from] + cell + row[to:]
}

// bars finds the bars of a row of a table, those within texts left out, and where
// its note begins.
func bars(row string) (at []int, note int) {
	quoted := false
	for i := range len(row) {
		switch {
		case row[i] == '"':
			quoted = !quoted
		case quoted:
		case row[i] == '|':
			at = append(at, i)
		case row[i] == '#':
			return at, i
		}
	}
	return at, len(row)
}

// AddRow puts a row, as it stands in a file, at the end of a table.
func (s *Session) AddRow(table, row string) (Edit, error) {
	p, err := s.tableOf(table)
	if err != nil {
		return Edit{}, err
	}
	rows, _ := s.rows(p)
	row = "  " + strings.TrimSpace(row)
	if n := len(p.node.Rows); n > 0 {
		last := rows[p.node.Rows[n-1].At.Row-s.text.Lines[p.line].Row]
		row = alignedLike(last[:len(last)-len(strings.TrimLeft(last, " \t"))]+strings.TrimSpace(row), last)
	}
	return s.change(p, slices.Insert(rows, len(rows)-1, row))
}

// alignedLike puts the bars of a row below those of another, as far as what stands
// between them has room.
func alignedLike(row, like string) string {
	at, _ := bars(row)
	as, _ := bars(like)
	if len(at) != len(as) {
		return row
	}
	var b strings.Builder
	from, above := 0, 0
	for i := range at {
		field := strings.TrimRight(row[from:at[i]], " ")
		pad := len([]rune(like[above:as[i]])) - len([]rune(field))
		b.WriteString(field + strings.Repeat(" ", max(1, pad)))
		from, above = at[i], as[i]
	}
	return b.String() + row[from:]
}

// StrikeRow takes a row out of a table.
func (s *Session) StrikeRow(table, label string) (Edit, error) {
	p, err := s.rowOf(table, label)
	if err != nil {
		return Edit{}, err
	}
	rows, at := s.rows(p)
	return s.change(p, slices.Delete(rows, at, at+1))
}

// MoveRow puts a row of a table before another of it.
func (s *Session) MoveRow(table, label, before string) (Edit, error) {
	p, err := s.rowOf(table, label)
	if err != nil {
		return Edit{}, err
	}
	q, err := s.rowOf(table, before)
	if err != nil {
		return Edit{}, err
	}
	rows, from := s.rows(p)
	_, to := s.rows(q)
	row := rows[from]
	rows = slices.Delete(rows, from, from+1)
	if from < to {
		to--
	}
	return s.change(p, slices.Insert(rows, to, row))
}

func (s *Session) change(p tableRow, rows []string) (Edit, error) {
	return s.do("change", s.inPlaceOf(p.line, s.tidied(p, rows)))
}

// tidied is the text of a table whose rows have changed: one that stood tidy stays so.
func (s *Session) tidied(p tableRow, rows []string) string {
	text := strings.Join(rows, "\n")
	if old := s.text.Lines[p.line]; syntax.Print(old) != old.Raw {
		return text
	}
	l, _ := syntax.ParseLineUntil(s.stop, text, 1)
	if s.stop() {
		return text // and nothing will come of it
	}
	return syntax.Print(l)
}

// RenameRow gives a row of a table another label, in the table and wherever the
// row is named: in fleet."railcar".draw, and of sheets placed over the table.
func (s *Session) RenameRow(table, label, to string) (Edit, error) {
	p, err := s.rowOf(table, label)
	if err != nil {
		return Edit{}, err
	}
	if slices.ContainsFunc(p.node.Rows, func(r syntax.Row) bool { return r.Label == to }) {
		return Edit{}, refuse(fmt.Sprintf("%s has a row %q already", table, to), "choose another label")
	}
	over := s.book.C.OverRows(s.book.C.Tabs[p.line])
	over[table] = true
	var ss splices
	for i, l := range s.text.Lines {
		var at []syntax.Pos
		see := func(n *syntax.Name) {
			if len(n.Parts) == 3 && over[n.Parts[0].Text] && n.Parts[1].Text == label {
				at = append(at, n.Parts[1].At)
			}
		}
		names(l, see)
		if d, is := l.Node.(*syntax.Define); is {
			see(d.Target)
		}
		rows := respelt(l, at, (&syntax.Name{Parts: []syntax.Part{{Text: to, Quoted: true}}}).String())
		if i == p.line {
			k := p.node.Rows[p.row].At.Row - l.Row
			first, _ := bars(rows[k])
			old := rows[k][:first[0]]
			text := old[:len(old)-len(strings.TrimLeft(old, " \t"))] + syntax.PrintLabel(to)
			for len([]rune(text)) < len([]rune(old)) {
				text += " "
			}
			if !strings.HasSuffix(text, " ") {
				text += " "
			}
			rows[k] = text + rows[k][first[0]:]
			rows = strings.Split(s.tidied(p, rows), "\n")
		} else if len(at) == 0 {
			continue
		}
		ss = append(ss, splice{At: l.Row - 1, Out: len(rows), In: rows})
	}
	return s.do("rename", ss)
}
