package show

import (
	"strings"

	"github.com/fatih/color"

	"railsum/units"
)

// wrapped writes a text that is safe already in rows no wider than the window,
// broken at blanks only, so that a colour is never torn. What runs over stands
// in by two more.
func (p *Printer) wrapped(in, text string) { p.hanging(in, in+"  ", text) }

func (p *Printer) hanging(in, further, text string) {
	if text != "" {
		p.hang(in, further, pieces(text))
	}
}

// coloured writes a sentence at the margin, all of it in one colour.
func (p *Printer) coloured(c *color.Color, text string) {
	if text == "" {
		return
	}
	for _, row := range p.wrap("", "", pieces(text)) {
		p.row(p.paint(c, row))
	}
}

// hang writes words in rows no wider than the window.
func (p *Printer) hang(in, further string, words []string) {
	for _, row := range p.wrap(in, further, words) {
		p.row(row)
	}
}

// wrap lays words out in rows.
func (p *Printer) wrap(in, further string, words []string) (rows []string) {
	row := in
	for i, word := range words {
		switch {
		case i == 0:
			row += word
		case width(row)+1+width(word) > p.Width:
			rows = append(rows, strings.TrimRight(row, " "))
			row = further + word
		default:
			row += " " + word
		}
	}
	return append(rows, row)
}

// items writes a list behind its lead; a row never ends within an item unless
// that is wider than the window by itself.
func (p *Printer) items(lead, further string, items []string) {
	var words []string
	for i, item := range items {
		if i < len(items)-1 {
			item += ","
		}
		in := further
		if i == 0 {
			in = lead
		}
		if width(in)+width(item) <= p.Width {
			words = append(words, item)
		} else {
			words = append(words, pieces(item)...)
		}
	}
	p.hang(lead, further, words)
}

// pieces are the words of a text; a number stays with its unit.
func pieces(text string) []string {
	words := strings.Split(text, " ")
	all := words[:1]
	for _, word := range words[1:] {
		before := &all[len(all)-1]
		if endsInNumber(*before) && startsWithUnit(word) {
			*before += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}

func endsInNumber(word string) bool {
	word = strings.TrimLeft(word, "(+-")
	return word != "" && word[0] >= '0' && word[0] <= '9' && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

func startsWithUnit(word string) bool {
	word = strings.TrimRight(word, "),;:.")
	_, err := units.Parse(word)
	return word != "" && err == nil
}
