package picture

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// A canvas is a drawing of characters. What lies outside of it is not drawn.
type canvas struct {
	wide  int
	cells [][]string
}

func newCanvas(wide, high int) *canvas {
	c := &canvas{wide: wide, cells: make([][]string, high)}
	for i := range c.cells {
		c.cells[i] = make([]string, wide)
	}
	return c
}

// put writes text from column x of a row on. A letter wider than a column takes two.
func (c *canvas) put(x, y int, text string) {
	if y < 0 || y >= len(c.cells) {
		return
	}
	for _, r := range text {
		w := displaywidth.Rune(r)
		if w == 0 {
			if x > 0 && x <= c.wide {
				c.cells[y][x-1] += string(r)
			}
			continue
		}
		if x < 0 || x+w > c.wide {
			x += w
			continue
		}
		c.cells[y][x] = string(r)
		for i := 1; i < w; i++ {
			c.cells[y][x+i] = "\x00"
		}
		x += w
	}
}

// fill repeats one character over columns x0 to x1, without x1.
func (c *canvas) fill(x0, x1, y int, r string) {
	for x := x0; x < x1; x++ {
		c.put(x, y, r)
	}
}

// free tells whether columns x0 to x1, without x1, of a row are empty and inside.
func (c *canvas) free(x0, x1, y int) bool {
	if x0 < 0 || x1 > c.wide || y < 0 || y >= len(c.cells) {
		return false
	}
	for x := x0; x < x1; x++ {
		if c.cells[y][x] != "" {
			return false
		}
	}
	return true
}

// lines are the rows without the blanks at their ends, and without empty rows at the end.
func (c *canvas) lines() []string {
	var out []string
	for _, row := range c.cells {
		var b strings.Builder
		for _, cell := range row {
			switch cell {
			case "":
				b.WriteByte(' ')
			case "\x00":
			default:
				b.WriteString(cell)
			}
		}
		out = append(out, strings.TrimRight(b.String(), " "))
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

// columns is how many columns of a terminal a text takes.
func columns(text string) int { return displaywidth.String(text) }

// clip shortens a text to n columns, with ".." for what is gone.
func clip(text string, n int) string {
	if columns(text) <= n {
		return text
	}
	var b strings.Builder
	used := 0
	for _, r := range text {
		w := displaywidth.Rune(r)
		if used+w > n-2 {
			break
		}
		used += w
		b.WriteRune(r)
	}
	return strings.TrimRight(b.String(), " ") + ".."
}

// fold lays items side by side, three blanks between them, in lines of at most wide columns; an item that is wider
// alone goes on below, two blanks in.
func fold(items []string, wide int) []string {
	var lines []string
	line := ""
	for _, item := range items {
		if line != "" && columns(line)+3+columns(item) <= wide {
			line += "   " + item
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
		for _, word := range strings.Fields(item) {
			switch {
			case line == "":
				line = clip(word, wide)
			case columns(line)+1+columns(word) <= wide:
				line += " " + word
			default:
				lines = append(lines, line)
				line = clip("  "+word, wide)
			}
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// wrapColumns breaks a text between words into lines of at most wide columns.
func wrapColumns(text string, wide int) []string {
	if text == "" {
		return nil
	}
	return fold([]string{text}, wide)
}
