package show

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"github.com/fatih/color"

	"railsum/calc/syntax"
)

// Diags writes what is wrong with a line (or worth saying about it): where, the
// row of text with a caret under the place, the message, and the cure as the
// next sentence. An empty file name leaves the name out.
func (p *Printer) Diags(file string, line *syntax.Line, diags []syntax.Diag) {
	for _, d := range diags {
		p.row(p.paint(p.head, place(file, d.At)+":"))
		p.Complaint(line, d)
	}
}

// Complaint writes one message below its row of text, without saying where.
func (p *Printer) Complaint(line *syntax.Line, d syntax.Diag) {
	colour := p.bad
	if d.Notice {
		colour = p.warn
	}
	text, ok := rowAt(line, d.At.Row)
	if ok && d.At.Col > 0 {
		p.caret(text, d.At.Col, d.Message, colour)
	} else {
		p.coloured(colour, Safe(d.Message))
	}
	if d.Other != (syntax.Pos{}) {
		p.row("See also " + place(d.OtherIn, d.Other) + ".")
	}
	if d.Cure != "" {
		p.hanging("", "", Safe(cured(d.Cure, text)))
	}
}

// place names a place in a text: "gannet.sums, line 14, column 12".
func place(file string, at syntax.Pos) string {
	var parts []string
	if file != "" {
		parts = append(parts, Safe(file))
	}
	if at.Row > 0 {
		parts = append(parts, fmt.Sprintf("line %d", at.Row))
	}
	if at.Col > 0 {
		parts = append(parts, fmt.Sprintf("column %d", at.Col))
	}
	return strings.Join(parts, ", ")
}

// rowAt is the row of text of a line that a position points at.
func rowAt(line *syntax.Line, row int) (string, bool) {
	if line == nil {
		return "", false
	}
	rows := rowsOf(line)
	if i := row - line.Row; i >= 0 && i < len(rows) {
		return rows[i], true
	}
	return "", false
}

// leastRow is how many columns of a long row are shown in any window.
const leastRow = 30

// caret writes a row of text and, below it, the caret and the message.
func (p *Printer) caret(text string, col int, message string, colour *color.Color) {
	text, col = around(text, col, max(leastRow, p.Width)-2*len(cutOff))
	before := []rune(text)[:col-1]
	p.row(excerpt(text))
	lead := blanked(string(before))
	message = Safe(message)
	if width(lead)+2+width(message) <= p.Width {
		p.row(lead + p.paint(colour, "^ "+message))
		return
	}
	p.row(lead + p.paint(colour, "^"))
	p.coloured(colour, message)
}

// around cuts a row too long to show down to what stands near the column, and
// keeps the column within the row or just behind it.
func around(text string, col, most int) (string, int) {
	runes := []rune(text)
	col = min(max(col, 1), len(runes)+1)
	if len(runes) <= most {
		return text, col
	}
	from := max(0, col-1-most/2)
	to := min(len(runes), from+most)
	from = max(0, to-most)
	from, to = atWord(runes, from, col-1), len(runes)-atWord(reversed(runes), len(runes)-to, len(runes)-col)
	cut := string(runes[from:to])
	col -= from
	if from > 0 {
		cut, col = cutOff+cut, col+len(cutOff)
	}
	if to < len(runes) {
		cut += cutOff
	}
	return cut, col
}

// cutOff stands where a row goes on that is too long to show.
const cutOff = "..."

// atWord moves a cut up to the beginning of the next word, if there is one near
// it and before the place that must be shown.
func atWord(runes []rune, from, place int) int {
	const near = 20
	if from <= 0 || from >= len(runes) {
		return from
	}
	for i := from; i < min(from+near, place, len(runes)); i++ {
		if runes[i-1] == ' ' {
			return i
		}
	}
	return from
}

func reversed(runes []rune) []rune {
	back := slices.Clone(runes)
	slices.Reverse(back)
	return back
}

// excerpt is a row of a notebook made safe; its tabs stay, so that the caret
// row, which copies them, lines up.
func excerpt(row string) string {
	if !strings.Contains(row, "\t") {
		return Safe(row)
	}
	parts := strings.Split(row, "\t")
	for i := range parts {
		parts[i] = Safe(parts[i])
	}
	return strings.Join(parts, "\t")
}

// blanked is a blank for every column that a text takes, with its tabs kept.
func blanked(text string) string {
	parts := strings.Split(text, "\t")
	for i := range parts {
		parts[i] = strings.Repeat(" ", width(Safe(parts[i])))
	}
	return strings.Join(parts, "\t")
}

// Sentence is a fragment of a message as a sentence: a capital at its start
// unless it starts with something to type, and a full stop at its end.
func Sentence(s string) string {
	if s == "" {
		return s
	}
	if c := s[0]; c >= 'a' && c <= 'z' && startsWithWord(s) {
		s = string(c-'a'+'A') + s[1:]
	}
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// cured is a cure as a sentence. A word that the writer has typed is left as
// typed: "drop is a sheet" speaks of drop.
func cured(cure, typed string) string {
	word, _, _ := strings.Cut(cure, " ")
	for _, w := range strings.FieldsFunc(typed,
		func(r rune) bool { return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		if w == word {
			return strings.TrimPrefix(Sentence(" "+cure), " ")
		}
	}
	return Sentence(cure)
}

// startsWithWord reports whether a fragment begins with a word of letters only,
// which may have a capital; a name such as north.lost may not.
func startsWithWord(s string) bool {
	word, _, _ := strings.Cut(s, " ")
	word = strings.TrimRight(word, ",:;")
	if word == "railsum" { // the program is called so, whatever it begins
		return false
	}
	for _, r := range word {
		if r < 'a' || r > 'z' {
			return false
		}
	}
	return true
}
