package syntax

import "strings"

// A parser makes lines of rows. It looks one token ahead, takes no way back,
// and stops a row at its first error.
type parser struct {
	scanner
	tok   token // to be taken next
	prev  token // taken last
	begun bool  // a line that is not blank has been read: no header can follow

	depth    int
	noThat   string // where we are, if "that" has no meaning there
	lineNote string // the text behind the "#" of this row
	equals   equals
	notices  []Diag
	targets  []*Name // what the line would define
	openings int     // parentheses open

	stop   func() bool // nil for one that reads to the end
	halted bool
}

// halts asks now and then whether to read on.
func (p *parser) halts(row int) bool {
	if p.stop != nil && row%1024 == 0 {
		p.halted = p.halted || p.stop()
	}
	return p.halted
}

// equals says what "=" means in an expression.
type equals uint8

const (
	compares   equals = iota // a comparison
	notFirst                 // not directly behind the first operand: x = a = b
	onlyInside               // only in parentheses: with x = a, y = b
)

// begin sets the parser on a row.
func (p *parser) begin(text string, row int) {
	if p.units == nil {
		p.units = make(unitCache)
	}
	p.start(text, row)
	p.depth, p.noThat, p.equals, p.openings, p.dates = 0, "", compares, 0, false
	p.notices, p.targets = nil, nil
	p.tok, p.prev = token{}, token{}
}

// narrow leaves a stretch of the row to be scanned, and takes its first token.
func (p *parser) narrow(off, end int) {
	p.off, p.end = off, end
	p.prev = token{}
	p.tok = p.next()
}

// advance takes a token.
func (p *parser) advance() {
	p.prev = p.tok
	p.tok = p.next()
}

// take takes an operator if it is the next token.
func (p *parser) take(o string) bool {
	if !p.tok.is(o) {
		return false
	}
	p.advance()
	return true
}

// takeWord takes a word of the language if it is the next token.
func (p *parser) takeWord(w string) bool {
	if !p.tok.isWord(w) {
		return false
	}
	p.advance()
	return true
}

func (p *parser) done() bool { return p.tok.kind == atEnd }

// peek gives the token behind the next one.
func (p *parser) peek() token {
	s := p.scanner
	return s.next()
}

// broken makes a line of what could not be read.
func (p *parser) broken(row int, raw string, errors ...Diag) *Line {
	return &Line{Row: row, Raw: raw, Node: &Broken{Targets: p.targets}, Errors: errors}
}

// ParseFile reads a whole text. It never fails: rows that cannot be read are
// Broken lines with their errors. Bytes gives back src.
func ParseFile(src []byte) *File { return ParseFileUntil(nil, src) }

// ParseFileUntil is ParseFile with a question to ask meanwhile. Once it says yes the
// rest is not read, and the file is not the text.
func ParseFileUntil(stop func() bool, src []byte) *File {
	f := &File{}
	text := string(src)
	text, f.BOM = strings.CutPrefix(text, "\ufeff")
	rows, whole := splitRows(text)
	f.NoFinal = !whole && len(rows) > 0
	p := &parser{stop: stop}
	f.Lines = make([]*Line, 0, min(len(rows), MaxLines+1))
	for i := 0; i < len(rows) && !p.halts(len(f.Lines)); {
		if len(f.Lines) == MaxLines {
			f.Lines = append(f.Lines, tooMany(rows[i:], i+1))
			break
		}
		line, n, _ := p.line(rows[i:], i+1)
		f.Lines = append(f.Lines, line)
		i += n
	}
	return f
}

// tooMany is one line in error for all rows that are not read, since there are too
// many lines above them.
func tooMany(rows []string, row int) *Line {
	p := &parser{}
	return p.broken(row, strings.Join(rows, "\n"), Diag{At: Pos{Row: row, Col: 1},
		Wrong: say("a text has at most %d lines; this one and those below it are not read", MaxLines).
			With("split it in two")})
}

// ParseLine reads one line, as typed at a prompt: a row, or all rows of a
// table. It reports incomplete for a table without its "end", while that may
// still follow.
func ParseLine(src string) (line *Line, incomplete bool) { return ParseLineAt(src, 1) }

// ParseLineAt is ParseLine for a line whose first row is not the first of its
// text.
func ParseLineAt(src string, row int) (line *Line, incomplete bool) {
	return ParseLineUntil(nil, src, row)
}

// ParseLineUntil is ParseLineAt with a question to ask meanwhile. Once it says yes the
// rest is not read, and the line is not the text.
func ParseLineUntil(stop func() bool, src string, row int) (line *Line, incomplete bool) {
	rows, _ := splitRows(src)
	if len(rows) == 0 {
		rows = []string{""}
	}
	p := &parser{stop: stop}
	line, n, open := p.line(rows, row)
	for i, r := range rows[n:] {
		if trimBlanks(content(r)) != "" && len(line.Errors) == 0 {
			p.begin(r, row+n+i)
			p.fail(p.blanks(0), say("only one line can be read at a time").With("type the rows one after the other"))
			return p.broken(row, strings.Join(rows, "\n"), *p.err), false
		}
	}
	return line, open
}

// splitRows cuts a text at its newlines and reports whether the last row has
// one.
func splitRows(text string) (rows []string, whole bool) {
	if text == "" {
		return nil, true
	}
	text, whole = strings.CutSuffix(text, "\n")
	return strings.Split(text, "\n"), whole
}

// content is a row without the carriage returns of its line ending.
func content(row string) string { return strings.TrimRight(row, "\r") }

// Bytes gives the bytes that the file was read from, or, with other lines put
// in, the bytes that it is to be written as.
func (f *File) Bytes() []byte {
	size := 3
	for _, l := range f.Lines {
		size += len(l.Raw) + 1
	}
	out := make([]byte, 0, size)
	if f.BOM {
		out = append(out, "\ufeff"...)
	}
	for i, l := range f.Lines {
		out = append(out, l.Raw...)
		if i < len(f.Lines)-1 || !f.NoFinal {
			out = append(out, '\n')
		}
	}
	return out
}

// line reads the line at the start of rows and gives the number of its rows.
func (p *parser) line(rows []string, row int) (l *Line, n int, open bool) {
	if opensBlock(content(rows[0])) {
		l, n, open = p.table(rows, row)
	} else {
		l, n = p.single(rows[0], row), 1
	}
	if _, blank := l.Node.(*Blank); !blank {
		p.begun = true
	}
	return l, n, open
}

// single reads a line of one row.
func (p *parser) single(raw string, row int) *Line {
	text := content(raw)
	p.begin(text, row)
	if p.err != nil {
		return p.broken(row, raw, *p.err)
	}
	l := &Line{Row: row, Raw: raw}
	first := p.blanks(0)
	switch {
	case first == len(text):
		l.Node = &Blank{}
		return l
	case text[first] == '#':
		l.Node = &Remark{Text: noteText(text, first)}
		return l
	}
	note := noteStart(text, first)
	l.Note = noteText(text, note)
	p.lineNote = l.Note
	p.narrow(first, note)
	l.Node = p.statement()
	if p.err == nil && !p.done() {
		p.stray()
	}
	if p.err != nil {
		return p.broken(row, raw, *p.err)
	}
	l.Errors = p.notices
	return l
}
