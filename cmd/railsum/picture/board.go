package picture

import (
	"fmt"
	"html"
	"strings"

	"railsum/cmd/railsum/typeface"
)

// Sizes of a drawing on a page, in CSS pixels: a text of 14.5 is 9 points where the drawing is printed across A4 paper
// beside a margin of headings.
const (
	letterSize = 14.5
	lineHeight = 18.0
	edge       = 4.0 // around a text, where nothing else may stand
)

// width is how wide a text is on a page.
func width(text string, bold bool) float64 {
	return letterSize * typeface.Width(text, bold)
}

// A rect is a part of a drawing that something stands in.
type rect struct{ x0, y0, x1, y1 float64 }

func (r rect) meets(o rect) bool {
	return r.x0 < o.x1 && o.x0 < r.x1 && r.y0 < o.y1 && o.y0 < r.y1
}

// A board is what is drawn on: shapes and texts, and where there is no more room. Rows may go up beyond zero; the
// drawing's edges are found at the end.
type board struct {
	id       string
	wide     float64
	shapes   strings.Builder
	texts    strings.Builder // above all shapes
	taken    []rect
	strokes  []rect // lines that texts may cross, on paper
	top, low float64
	key      []keyed
}

// A keyed text found no place: the key below names it by its letter.
type keyed struct{ letter, text string }

func newBoard(wide int, id string) *board {
	return &board{id: id, wide: float64(wide)}
}

// take keeps a place for what is drawn there.
func (b *board) take(r rect) {
	b.taken = append(b.taken, r)
	b.top, b.low = min(b.top, r.y0), max(b.low, r.y1)
}

// free tells whether a text could stand there.
func (b *board) free(r rect) bool {
	if r.x0 < 0 || r.x1 > b.wide {
		return false
	}
	for _, o := range b.taken {
		if r.meets(o) {
			return false
		}
	}
	return true
}

// struck tells whether a line that texts may cross goes through a room.
func (b *board) struck(r rect) bool {
	for _, s := range b.strokes {
		if r.meets(s) {
			return true
		}
	}
	return false
}

// shape adds an element: its tag, class and attributes.
func (b *board) shape(tag, class, format string, args ...any) {
	fmt.Fprintf(&b.shapes, "<%s class=%q %s/>", tag, class, fmt.Sprintf(format, args...))
}

// line draws a straight line.
func (b *board) line(class string, x0, y0, x1, y1 float64) {
	b.shape("line", class, `x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"`, x0, y0, x1, y1)
	b.top, b.low = min(b.top, y0, y1), max(b.low, y0, y1)
}

// box draws a rectangle; a class that ends in "bad" is hatched.
func (b *board) box(class string, r rect) {
	b.shape("rect", class, `x="%.2f" y="%.2f" width="%.2f" height="%.2f"`, r.x0, r.y0, r.x1-r.x0, r.y1-r.y0)
	if strings.HasSuffix(class, "bad") {
		b.shape("rect", "hatch", `x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="url(#h%s)"`,
			r.x0, r.y0, r.x1-r.x0, r.y1-r.y0, b.id)
	}
	b.top, b.low = min(b.top, r.y0), max(b.low, r.y1)
}

// around is the room that lines of text need with their middle at x and y.
func around(lines []string, bold bool, x, y float64) rect {
	wide := 0.0
	for _, l := range lines {
		wide = max(wide, width(l, bold))
	}
	h := lineHeight * float64(len(lines)) / 2
	return rect{x - wide/2 - edge, y - h, x + wide/2 + edge, y + h}
}

// into moves a room sideways into the drawing.
func (b *board) into(r rect) rect {
	if over := r.x1 - b.wide; over > 0 {
		r.x0, r.x1 = r.x0-over, r.x1-over
	}
	if r.x0 < 0 {
		r.x0, r.x1 = 0, r.x1-r.x0
	}
	return r
}

// write puts lines of text into a room and keeps it. Where a line of the drawing passes below the text stands on paper.
func (b *board) write(class string, lines []string, r rect, paper bool) {
	b.take(r)
	if paper {
		fmt.Fprintf(&b.texts, `<rect class="paper" x="%.2f" y="%.2f" width="%.2f" height="%.2f"/>`,
			r.x0, r.y0+1, r.x1-r.x0, r.y1-r.y0-2)
	}
	x := (r.x0 + r.x1) / 2
	for i, l := range lines {
		y := r.y0 + lineHeight*(float64(i)+0.5) + letterSize*0.35
		fmt.Fprintf(&b.texts, `<text class=%q x="%.2f" y="%.2f" text-anchor="middle">%s</text>`,
			class, x, y, html.EscapeString(l))
	}
}

// bold tells whether a class of text is in the bold face.
func bold(class string) bool { return class == "b" }

// try writes lines with their middle at the first of the points where nothing stands, and tells whether there was one.
func (b *board) try(class string, lines []string, paper bool, points ...[2]float64) bool {
	for _, p := range points {
		r := around(lines, bold(class), p[0], p[1])
		if b.free(r) {
			b.write(class, lines, r, paper)
			return true
		}
	}
	return false
}

// above writes a text on a shelf above y, as near as there is room, with a leader down to y at x.
func (b *board) above(class, text string, x, y, down float64) bool {
	lines := []string{text}
	for shelf := range 5 {
		at := y - lineHeight*(float64(shelf)+0.5) - 5
		r := b.into(around(lines, bold(class), x, at))
		leader := rect{x - 1.5, r.y1, x + 1.5, y}
		if r.x1 > b.wide || !b.free(r) || leader.y1 > leader.y0 && !b.free(leader) {
			continue
		}
		if down > y && !b.free(rect{x - 1.5, y, x + 1.5, down}) {
			return false
		}
		b.write(class, lines, r, false)
		b.take(leader)
		b.line("leader", x, r.y1, x, max(y, down))
		return true
	}
	return false
}

// letter keeps a text for the key and gives the letter that stands for it.
func (b *board) letter(text string) string {
	l := string(rune('a' + len(b.key)%26))
	b.key = append(b.key, keyed{l, text})
	return l
}

// finish writes the key and gives the whole element. title and desc are what a reader of the page is told of it.
func (b *board) finish(kind, title, desc string) string {
	y := b.low + 6
	for _, k := range b.key {
		for i, line := range wrap(k.text, b.wide-30) {
			y += lineHeight
			if i == 0 && k.letter != "" {
				fmt.Fprintf(&b.texts, `<text class="b" x="6" y="%.2f">%s</text>`, y-5, k.letter)
			}
			fmt.Fprintf(&b.texts, `<text x="24" y="%.2f">%s</text>`, y-5, html.EscapeString(line))
		}
	}
	if len(b.key) > 0 {
		b.low = y
	}
	var s strings.Builder
	fmt.Fprintf(&s, `<svg class="pic %s" viewBox="0 %.0f %.0f %.0f" role="img" aria-labelledby="t%[5]s d%[5]s">`,
		kind, b.top-4, b.wide, b.low-b.top+8, b.id)
	fmt.Fprintf(&s, `<title id="t%s">%s</title><desc id="d%s">%s</desc>`,
		b.id, html.EscapeString(title), b.id, html.EscapeString(desc))
	if strings.Contains(b.shapes.String(), "url(#h") {
		fmt.Fprintf(&s, `<defs><pattern id="h%s" width="7" height="7" patternUnits="userSpaceOnUse" `+
			`patternTransform="rotate(45)"><line class="hatching" x1="0" y1="0" x2="0" y2="7"/></pattern></defs>`, b.id)
	}
	s.WriteString(b.shapes.String())
	s.WriteString(b.texts.String())
	s.WriteString("</svg>")
	return s.String()
}

// wrap breaks a text between words into lines no wider than wide, and within a word only where it alone is wider.
func wrap(text string, wide float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		for width(word, false) > wide && len([]rune(word)) > 1 {
			runes := []rune(word)
			n := len(runes)
			for n > 1 && width(string(runes[:n]), false) > wide {
				n--
			}
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, string(runes[:n])), string(runes[n:])
		}
		switch {
		case line == "":
			line = word
		case width(line+" "+word, false) <= wide:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return append(lines, line)
}
