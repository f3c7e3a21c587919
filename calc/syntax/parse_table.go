package syntax

import (
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// firstWord cuts a row into its first word and the rest, blanks trimmed.
func firstWord(row string) (first, rest string) {
	row = trimBlanksLeft(row)
	end := 0
	for end < len(row) && isNameByte(row[end]) {
		end++
	}
	return row[:end], trimBlanksLeft(row[end:])
}

// opensTable reports whether a row begins a table: "table", "ask table" or
// "take table", and not a definition of a name that cannot be one.
func opensTable(row string) bool {
	first, rest := firstWord(row)
	if first == "ask" || first == "take" {
		first, rest = firstWord(rest)
	} else if first == "table" && namesFile(rest) {
		return false
	}
	return first == "table" && !strings.HasPrefix(rest, "=") && !strings.HasPrefix(rest, ".")
}

// namesFile reports whether what stands behind "table" is a name and "from".
func namesFile(rest string) bool {
	second, _ := firstWord(strings.TrimLeftFunc(rest, isNameRune))
	return second == "from"
}

// opensBlock reports whether a row begins a line of several rows.
func opensBlock(row string) bool { return opensTable(row) || opensPicture(row) }

// endsTable reports whether a row is the "end" of a table.
func endsTable(row string) bool {
	first, rest := firstWord(row)
	return first == "end" && (rest == "" || rest[0] == '#')
}

// stopsTable reports whether a row cannot belong to a table, so that its "end"
// must be missing: a row without a "|", or one that reads as another line.
func stopsTable(row string) bool {
	row = trimBlanksLeft(row)
	bar := strings.IndexByte(row, '|')
	if bar < 0 {
		return true
	}
	if row[0] == '"' {
		return false
	}
	first, rest := firstWord(row)
	if opensPicture(row) || opensTable(row) &&
		strings.HasPrefix(trimBlanksLeft(strings.TrimLeftFunc(rest, isNameRune)), "|") {
		return true
	}
	if first == "" {
		return false
	}
	name := strings.IndexFunc(row, func(r rune) bool { return !isNameRune(r) && r != '.' })
	if name > 0 && strings.HasPrefix(trimBlanksLeft(row[name:]), "=") {
		return true
	}
	opens := classes[first] == lineWord || classes[first] == laterWord ||
		slices.Contains(sayers, first) && strings.HasPrefix(rest, `"`) ||
		slices.Contains(openers, first) && strings.IndexFunc(rest, isNameRune) == 0
	return opens && !holdsBar(row)
}

func isNameRune(r rune) bool {
	return r < utf8.RuneSelf && isNameByte(byte(r)) || r >= utf8.RuneSelf && startsName(r)
}

// holdsBar reports whether an ordinary line has a "|" outside texts and note.
func holdsBar(row string) bool {
	in := false
	for i := 0; i < noteStart(row, 0); i++ {
		switch row[i] {
		case '"':
			in = !in
		case '|':
			if !in {
				return true
			}
		}
	}
	return false
}

// extent finds the rows of the table that begins at rows[0]: how many they
// are, whether "end" is the last of them, and whether another line stops it.
func extent(rows []string) (n int, closed, stopped bool) {
	n = 1
	for i := 1; i < len(rows); i++ {
		row := trimBlanks(content(rows[i]))
		switch {
		case endsTable(row):
			return i + 1, true, false
		case row == "" || row[0] == '#': // belongs to the table if more of it follows
		case stopsTable(row):
			return n, false, true
		default:
			n = i + 1
		}
	}
	return n, false, false
}

// table reads a table from its head to its end.
func (p *parser) table(rows []string, row int) (l *Line, n int, open bool) {
	n, closed, stopped := extent(rows)
	raw := rows[0]
	if n > 1 {
		raw = strings.Join(rows[:n], "\n")
	}
	l = &Line{Row: row, Raw: raw}
	t := &Table{}
	p.begin(content(rows[0]), row)
	picture := opensPicture(content(rows[0]))
	if picture {
		p.pictureHead(t, l)
	} else {
		p.tableHead(t, l)
	}
	errors := p.errors(nil)
	targets := p.targets
	if !closed && !stopped && errors == nil {
		open = true
	}
	for i := 1; i < n && !(picture && errors != nil) && !p.halts(i); i++ { // cells mean nothing without their columns
		p.begin(content(rows[i]), row+i)
		p.tableRow(t, i == n-1 && closed)
		if len(l.Errors) < maxErrors {
			l.Errors = append(l.Errors, p.notices...)
		}
		if len(t.Rows) > MaxRows {
			p.fail(p.blanks(0), say("a table has at most 100000 rows").With("split it into several"))
			errors = p.errors(errors)
			break
		}
		if errors = p.errors(errors); len(errors) >= maxErrors {
			break
		}
	}
	if !closed && (len(errors) == 0 || stopped) {
		p.begin(content(rows[0]), row)
		at := Pos{}
		if stopped {
			at = stopAt(rows[n:], row+n)
		}
		what := "table"
		if picture {
			what = "picture"
		}
		p.endMissing(what, at)
		errors = p.errors(errors)
	}
	p.targets = targets
	if len(errors) > 0 {
		return p.broken(row, raw, errors...), n, open
	}
	l.Node = t
	if picture {
		l.Node = &Picture{Kind: t.Name, Rows: t}
	}
	return l, n, false
}

// maxErrors bounds what is said about one table.
const maxErrors = 20

// stopAt gives the place of the row that stops a table.
func stopAt(rows []string, row int) Pos {
	for i, r := range rows {
		if t := trimBlanks(content(r)); t != "" && t[0] != '#' {
			return Pos{row + i, 1}
		}
	}
	return Pos{row, 1}
}

// errors adds the error of the row, if it has one.
func (p *parser) errors(to []Diag) []Diag {
	if p.err != nil {
		to = append(to, *p.err)
	}
	return to
}

// tableHead reads "table NAME | head | head as unit".
func (p *parser) tableHead(t *Table, l *Line) {
	if p.err != nil {
		return
	}
	note := noteStart(p.text, 0)
	l.Note = noteText(p.text, note)
	p.narrow(0, note)
	t.Taken = p.takeWord("take")
	t.Ask = t.Taken || p.takeWord("ask")
	p.advance()
	t.Name = p.plainName()
	if p.done() {
		p.fail(p.prev.end, say("a table needs at least one head").
			With("as in `table "+t.Name.Text+" | count | draw as mA`"))
	}
	for p.err == nil && p.take("|") {
		h := Head{Name: Part{At: p.here(), Text: p.tok.str}}
		switch {
		case p.tok.kind != word:
			p.headWanted()
		case p.tok.parts != nil:
			p.dottedName(p.tok)
		case h.Name.Text == "label":
			p.fail(p.tok.off, say("label is the column of the rows' labels and cannot be a head").
				With("leave it out: the first column needs no head"))
		}
		for _, o := range t.Heads {
			if o.Name.Text == h.Name.Text {
				p.nameTwice(p.tok.off, h.Name.Text)
			}
		}
		p.advance()
		if p.tok.is("=") {
			p.withDates(func() { p.advance(); h.Default = p.inCell() })
		}
		if p.tok.isWord("as") && p.nameAt(p.blanks(p.off)) == date {
			p.advance()
			p.advance()
			h.Date = true
		} else if p.tok.isWord("as") {
			h.As = p.unit()
		}
		if !h.Date {
			h.Whole = p.takeWord(whole)
		}
		t.Heads = append(t.Heads, h)
	}
	if p.err == nil && !p.done() {
		p.strayInHead(t)
	}
}

// tableFrom reads "table NAME from "FILE"".
func (p *parser) tableFrom() Node {
	p.advance()
	t := &Table{Name: p.plainName()}
	if p.err != nil || !p.takeWord("from") {
		return t
	}
	if p.tok.kind != text {
		p.fail(p.tok.off, say("the name of a file must follow, in quotes").With("as in `table "+t.Name.Text+" from \"runs.csv\"`"))
		return t
	}
	t.From = &Text{At: p.here(), Value: p.tok.str}
	p.advance()
	if !p.done() {
		p.fail(p.tok.off, say("a table from a file ends with the file's name: the heads stand in the file").
			With("write `table "+t.Name.Text+" from \""+t.From.Value+"\"`"))
	}
	return t
}

// tableRow reads one of the rows below the head.
func (p *parser) tableRow(t *Table, last bool) {
	if p.err != nil {
		return
	}
	first := p.blanks(0)
	switch {
	case first == len(p.text):
		return
	case last:
		if note := noteText(p.text, noteStart(p.text, first)); note != "" {
			t.Remarks = append(t.Remarks, Between{len(t.Rows), note})
		}
		return
	case p.text[first] == '#':
		t.Remarks = append(t.Remarks, Between{len(t.Rows), noteText(p.text, first)})
		return
	}
	r := Row{At: p.pos(first)}
	off := p.label(&r, first)
	if p.err != nil {
		return
	}
	note := noteStart(p.text, off)
	r.Note = noteText(p.text, note)
	p.off, p.end = off, note
	r.Cells = make([]Cell, 0, len(t.Heads))
	for p.err == nil && p.at(p.off) == '|' {
		n := len(r.Cells)
		p.dates = n < len(t.Heads) && t.Heads[n].Date
		r.Cells = append(r.Cells, p.cell(t, n))
	}
	p.dates = false
	if p.err == nil && len(r.Cells) != len(t.Heads) {
		p.cellCount(first, t, len(r.Cells))
	}
	t.Rows = append(t.Rows, r)
}

// label reads a row's label and gives the byte of the "|" behind it.
func (p *parser) label(r *Row, first int) int {
	if p.text[first] == '"' {
		p.off = first
		r.Label = p.quoted()
		bar := p.blanks(p.off)
		if p.err == nil && p.at(bar) != '|' {
			p.fail(bar, say("a `|` must follow the label").
				With("a label with quotes in it stands in quotes, each inner one written twice"))
		}
		if p.err == nil && trimBlanks(r.Label) == "" {
			p.labelWanted(first)
		}
		return bar
	}
	bar := strings.IndexByte(p.text, '|')
	r.Label = norm.NFC.String(trimBlanks(p.text[first:bar]))
	if r.Label == "" {
		p.labelWanted(first)
	}
	return bar
}

// inCell reads what stands in a cell, or in a head for empty ones.
func (p *parser) inCell() Cell {
	p.depth, p.equals, p.noThat = 0, compares, "a table"
	c := Cell{Expr: p.expr()}
	if p.tok.is("+-") {
		c.Tol = p.tolerance(c.Expr)
	}
	return c
}

// cell reads one cell, from the "|" before it to the one behind it.
func (p *parser) cell(t *Table, i int) Cell {
	if p.dates {
		next, _, _ := strings.Cut(p.text[p.off+1:p.end], "|")
		p.otherDate(p.off+1, p.off+1+len(next))
	}
	p.narrow(p.off+1, p.end)
	if p.done() || p.tok.is("|") {
		if i >= len(t.Heads) || t.Heads[i].Default.Expr == nil {
			p.emptyCell(t, i)
		}
		p.off = p.tok.off
		return Cell{}
	}
	c := p.inCell()
	switch {
	case p.err != nil:
	case p.tok.isWord("as"):
		p.unitInCell(t, i)
	case p.tok.is("|"):
		p.off = p.tok.off
	case !p.done():
		p.stray()
	}
	return c
}
