package present

import (
	"fmt"
	"io"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"railsum/cmd/railsum/show"
)

// The least screen, and how wide text gets on a large one.
const (
	leastWide, leastHigh = 40, 12
	mostWide             = 100
	frame                = 4 // title, heading, an empty row and the keys
)

// rows are what a block draws in a width.
func rows(draw func(*show.Printer), o show.Options) []string {
	var b strings.Builder
	draw(show.New(&b, o).AtMargin())
	var all []string
	for _, row := range strings.Split(strings.TrimRight(b.String(), "\n"), "\n") {
		if ansi.StringWidth(row) > o.Width { // a word that is wider than the screen
			all = append(all, strings.Split(ansi.Hardwrap(row, o.Width, true), "\n")...)
			continue
		}
		all = append(all, row)
	}
	return all
}

// layOut divides blocks into parts of so many rows at most.
func layOut(blocks []block, o show.Options, high int) [][]string {
	o.High = high
	var parts [][]string
	var part []string
	flush := func() {
		if len(part) > 0 {
			parts, part = append(parts, part), nil
		}
	}
	for _, b := range blocks {
		all := rows(b.draw, o)
		if len(all) > high && b.instead != nil {
			all = rows(b.instead, o)
		}
		for _, piece := range pieces(all, high) {
			switch {
			case len(part) == 0:
			case len(part)+1+len(piece) <= high:
				part = append(part, "")
			default:
				flush()
			}
			part = append(part, piece...)
		}
	}
	flush()
	if len(parts) == 0 {
		parts = [][]string{nil}
	}
	return parts
}

// pieces divides rows at empty rows, and what is longer than a screen where it
// stands in least.
func pieces(all []string, high int) [][]string {
	var out [][]string
	begin := 0
	for i := 0; i <= len(all); i++ {
		if i == len(all) || strings.TrimSpace(all[i]) == "" {
			for piece := all[begin:i]; len(piece) > 0; {
				n := min(len(piece), high)
				if n < len(piece) {
					n = breakAt(piece, high)
				}
				out, piece = append(out, piece[:n]), piece[n:]
			}
			begin = i + 1
		}
	}
	return out
}

// breakAt is the last row of the second half of a screen that stands in least.
func breakAt(piece []string, high int) int {
	best, least := high, 1000
	for i := high; i > high/2; i-- {
		if in := len(piece[i]) - len(strings.TrimLeft(piece[i], " ")); in < least {
			best, least = i, in
		}
	}
	return best
}

// print writes all steps in turn, for a pipe and a screen reader.
func (d *deck) print(w io.Writer, o show.Options) error {
	p := show.New(w, o).AtMargin()
	p.Heading("%s", d.title)
	for n, s := range d.steps {
		if n+1 < d.From {
			continue
		}
		p.Blank()
		p.Say("%s", d.stepOf(n))
		if s.heading != "" {
			p.Heading("%s", s.heading)
		}
		for _, b := range d.contents(n) {
			b.draw(p)
		}
	}
	return p.Err()
}

func (d *deck) stepOf(n int) string { return fmt.Sprintf("step %d of %d", n+1, len(d.steps)) }

// contents are the blocks of a step, or what the speaker has to know of it.
func (d *deck) contents(n int) []block {
	s := d.steps[n]
	if !d.Notes {
		return s.blocks
	}
	var all []block
	for _, text := range s.asides {
		all = append(all, block{draw: func(p *show.Printer) { p.Say("%s", text) }})
	}
	if n+1 < len(d.steps) {
		next := d.steps[n+1]
		all = append(all, block{draw: func(p *show.Printer) {
			p.Say("next: %s",
				strings.TrimPrefix(next.heading+". ", ". "))
		}})
		all = append(all, next.blocks...)
	}
	return all
}
