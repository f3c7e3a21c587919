package syntax

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

type kind uint8

const (
	atEnd  kind = iota
	number      // lit
	day         // lit.Value is its seconds
	text        // str is its value
	word        // a name or a word of the language: str, and parts if dotted
	op          // str, in its canonical spelling
)

// A token is a stretch of a row: an operator, a word, a text, or a number with
// all that belongs to it.
type token struct {
	kind
	spaced   bool // a blank stands before it
	off, end int  // in bytes
	str      string
	parts    []Part
	lit      *Literal
	num      decimal // of a number with a unit, to give it a sign
}

func (t *token) is(s string) bool { return t.kind == op && t.str == s }

// isWord reports whether the token is a certain word of the language.
func (t *token) isWord(s string) bool { return t.kind == word && t.str == s && t.parts == nil }

// A scanner takes one row apart. The first error ends the row: from then on
// every token is the end.
type scanner struct {
	text     string // the row without its line ending
	off, end int    // what is left to scan
	row      int
	units    unitCache
	err      *Diag
	dates    bool // a date may stand bare

	ascii     bool
	seen, col int // the column of the byte at seen, counted last
}

// start sets the scanner on a row and looks at all of its characters.
func (s *scanner) start(text string, row int) {
	s.text, s.row = text, row
	s.off, s.end = 0, len(text)
	s.err = nil
	s.seen, s.col = 0, 1
	s.vet()
}

// pos is the place of a byte.
func (s *scanner) pos(off int) Pos {
	if s.ascii {
		return Pos{s.row, off + 1}
	}
	if off < s.seen {
		s.seen, s.col = 0, 1
	}
	s.col += utf8.RuneCountInString(s.text[s.seen:off])
	s.seen = off
	return Pos{s.row, s.col}
}

// vet looks for characters that no row may hold, and for a row too long to
// read.
func (s *scanner) vet() {
	t := s.text
	s.ascii = true
	for i := 0; i < len(t); i++ {
		if t[i] >= utf8.RuneSelf {
			s.ascii = false
			break
		}
		if t[i] < ' ' && t[i] != '\t' || t[i] == 0x7f {
			s.controlCharacter(i, rune(t[i]))
			return
		}
	}
	if len(t) > MaxRunes && utf8.RuneCountInString(t) > MaxRunes {
		s.fail(0, say("this line has too many characters").
			With(fmt.Sprintf("a line has at most %d; name parts of it on lines of their own", MaxRunes)))
		return
	}
	if s.ascii {
		return
	}
	for i, r := range t {
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(t[i:], string(utf8.RuneError)):
			s.fail(i, say("this is no text in UTF-8").With("save the file as UTF-8"))
			return
		case r == '\t':
		case unicode.IsControl(r):
			s.controlCharacter(i, r)
			return
		case hidden(r):
			s.fail(i, say("an invisible character (U+%04X) cannot stand in a line", r).
				With("take it out; it may have come with a paste"))
			return
		}
	}
}

// Unwritable says what a character is that cannot stand in a line, such as "an
// invisible character"; it is empty for one that can. A tab can.
func Unwritable(r rune) string {
	switch {
	case r != '\t' && unicode.IsControl(r):
		return "a control character"
	case hidden(r):
		return "an invisible character"
	}
	return ""
}

// hidden reports whether a character cannot be seen, or changes the order in
// which others are seen.
func hidden(r rune) bool {
	switch r {
	case 0x034f, 0x115f, 0x1160, 0x3164, 0xffa0: // joiners and fillers outside the classes below
		return true
	}
	return unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)
}

// isBlank reports whether a character separates words: a blank of any width,
// or a tab.
func isBlank(r rune) bool {
	return r == ' ' || r == '\t' || r >= utf8.RuneSelf && unicode.Is(unicode.Zs, r)
}

func trimBlanks(s string) string     { return strings.TrimFunc(s, isBlank) }
func trimBlanksLeft(s string) string { return strings.TrimLeftFunc(s, isBlank) }

// blanks gives the first byte at or after off that is no blank.
func (s *scanner) blanks(off int) int {
	for off < s.end {
		c := s.text[off]
		if c == ' ' || c == '\t' {
			off++
			continue
		}
		if c < utf8.RuneSelf {
			break
		}
		r, n := utf8.DecodeRuneInString(s.text[off:s.end])
		if !isBlank(r) {
			break
		}
		off += n
	}
	return off
}

// at gives the byte at off, 0 behind the end.
func (s *scanner) at(off int) byte {
	if off < s.end {
		return s.text[off]
	}
	return 0
}

// rune gives the character at off and its length.
func (s *scanner) rune(off int) (rune, int) {
	if off >= s.end {
		return 0, 0
	}
	return utf8.DecodeRuneInString(s.text[off:s.end])
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// next scans one token.
func (s *scanner) next() token {
	off := s.blanks(s.off)
	t := token{off: off, spaced: off > s.off}
	s.off = off
	if s.err == nil && off < s.end {
		s.scan(&t)
	}
	if s.err != nil {
		t.kind = atEnd
	}
	t.end = s.off
	return t
}

func (s *scanner) scan(t *token) {
	c := s.text[t.off]
	r, n := s.rune(t.off)
	switch {
	case isDigit(c), c == '.' && isDigit(s.at(t.off+1)), vulgar(r) != "":
		t.kind = number
		s.number(t)
	case c == '"':
		t.kind = text
		t.str = s.quoted()
	case startsName(r):
		t.kind = word
		s.name(t)
	default:
		t.kind = op
		t.str = s.operator(r, n)
	}
}

// operator scans an operator or a mark, in any of the spellings that are
// pasted, and names what is no part of the language.
func (s *scanner) operator(r rune, n int) string {
	start := s.off
	s.off += n
	then := func(c rune, more string) bool {
		next, n := s.rune(s.off)
		if next == c && more != "" {
			s.off += n
		}
		return next == c
	}
	switch r {
	case '+':
		if then('-', "+-") || then('−', "+-") {
			return "+-"
		}
		return "+"
	case '±':
		return "+-"
	case '-', '−':
		return "-"
	case '*', '×', '·', '⋅':
		if r == '*' && then('*', "**") {
			s.wrongOperator(start, "**", "^")
		}
		return "*"
	case '/', '÷':
		return "/"
	case '=':
		switch {
		case then('=', "=="):
			s.wrongOperator(start, "==", "=")
		case then('<', "=<"):
			s.wrongOperator(start, "=<", "<=")
		case then('>', "=>"):
			s.wrongOperator(start, "=>", ">=")
		}
		return "="
	case '<':
		switch {
		case then('=', "<="):
			return "<="
		case then('>', "<>"):
			s.wrongOperator(start, "<>", "!=")
		}
		return "<"
	case '>':
		if then('=', ">=") {
			return ">="
		}
		return ">"
	case '≤':
		return "<="
	case '≥':
		return ">="
	case '≠':
		return "!="
	case '!':
		if then('=', "!=") {
			return "!="
		}
		s.wrongOperator(start, "!", "not")
	case ':':
		if then('=', ":=") {
			s.wrongOperator(start, ":=", "=")
		}
		return ":"
	case '^', '(', ')', ',', '.', '|', '%', ';':
		if r == '|' && then('|', "||") {
			s.wrongOperator(start, "||", "or")
		}
		return string(r)
	case '&':
		s.wrongOperator(start, "&", "and")
	default:
		s.strangeCharacter(start, r)
	}
	return ""
}

// quoted scans a text in double quotes; a quote within it is written twice.
func (s *scanner) quoted() string {
	start := s.off
	for off := start + 1; ; {
		i := strings.IndexByte(s.text[off:s.end], '"')
		if i < 0 {
			s.fail(start, say("this text is not closed").With("write `\"` where it ends"))
			return ""
		}
		off += i + 1
		if s.at(off) == '"' {
			off++
			continue
		}
		s.off = off
		value := s.text[start+1 : off-1]
		if strings.Contains(value, `""`) {
			value = strings.ReplaceAll(value, `""`, `"`)
		}
		return norm.NFC.String(value)
	}
}

// noteStart gives the byte at which the note of a row begins: the first "#"
// outside quotes from off on, or the row's end.
func noteStart(row string, off int) int {
	in := false
	for i := off; i < len(row); i++ {
		switch row[i] {
		case '"':
			in = !in
		case '#':
			if !in {
				return i
			}
		}
	}
	return len(row)
}

// noteText gives the meaning of a note: what follows "#" and one blank.
func noteText(row string, start int) string {
	if start >= len(row) {
		return ""
	}
	return strings.TrimRightFunc(strings.TrimPrefix(row[start+1:], " "), isBlank)
}
