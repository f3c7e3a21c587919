package picture

// SVG draws the loop: the start at the left, the ends at the right, several of them side by side, and beside each part
// its name and values. Where they find no room, a letter stands for them.
func (c Circuit) SVG(wide int, id string) string {
	b := newBoard(wide, id)
	const top, bottom = 0.0, 104.0
	ends := c.at(End)
	margin := min(150, b.wide*0.22)
	left, right := margin, b.wide-margin
	if len(c.at(Start)) == 0 {
		left = sideMargin
	}
	first := right // where the leftmost of several ends stands
	gap := 0.0
	if n := len(ends); n > 1 {
		gap = min(92, (right-left)*0.62/float64(n-1))
		first = right - gap*float64(n-1)
	}
	b.line("out", left, top, right, top)
	b.line("back", left, bottom, right, bottom)
	b.take(rect{left, top - 2, right, top + 2})
	b.take(rect{left, bottom - 2, right, bottom + 2})

	c.vertical(b, c.at(Start), left, top, bottom, -1, margin)
	for i := range ends {
		at := first + gap*float64(i)
		room := margin
		if i < len(ends)-1 {
			room = gap
		}
		c.vertical(b, ends[i:i+1], at, top, bottom, 1, room)
	}
	c.along(b, c.at(Out), left, first, top, -1)
	c.along(b, c.at(Back), left, right, bottom, 1)
	c.between(b, left+34, first-34, (top+bottom)/2)
	return b.finish("circuit", c.Title, c.Sentence())
}

// vertical draws parts one above another between the two conductors, their words at the side: -1 left, 1 right.
func (c Circuit) vertical(b *board, parts []Part, x, top, bottom, side, room float64) {
	if len(parts) == 0 {
		return
	}
	b.line("lead", x, top, x, bottom)
	b.take(rect{x - 2, top, x + 2, bottom})
	step := (bottom - top) / float64(len(parts))
	for i, p := range parts {
		y := top + step*(float64(i)+0.5)
		half := b.symbol(p.Symbol, x, y, true)
		b.take(rect{x - half, y - half, x + half, y + half})
		lines := p.printed(room - half - 2*edge - 4)
		placed := false
		if float64(len(lines))*lineHeight <= max(step, bottom-top+2*lineHeight)/float64(len(parts)) {
			r := around(lines, false, 0, y)
			at := x + side*(half+4+(r.x1-r.x0)/2)
			placed = b.try("lab", lines, false, [2]float64{at, y})
		}
		if !placed {
			letter := []string{b.letter(p.told())}
			b.try("b", letter, true, [2]float64{x + side*(half+9), y}, [2]float64{x - side*(half+9), y})
		}
	}
}

// along draws parts in a row on a conductor, their words above or below it: side -1 or 1.
func (c Circuit) along(b *board, parts []Part, from, to, y, side float64) {
	step := (to - from) / float64(max(1, len(parts)))
	for i, p := range parts {
		x := from + step*(float64(i)+0.5)
		half := 0.0
		if p.Symbol == Wire || p.Symbol == Words {
			if p.Symbol == Wire {
				b.arrow(x, y, -side)
			}
		} else {
			half = b.symbol(p.Symbol, x, y, false)
			b.take(rect{x - half, y - 14, x + half, y + 14})
		}
		lines := p.printed(step - 2*edge - 4)
		off := 16.0
		if half == 0 {
			off = 9
		}
		h := lineHeight * float64(len(lines)) / 2
		if len(lines) <= 4 && b.try("lab", lines, false, [2]float64{x, y + side*(off+h)}) {
			continue
		}
		letter := []string{b.letter(p.told())}
		b.try("b", letter, true, [2]float64{x, y + side*(off+lineHeight/2)}, [2]float64{x, y - side*(off+lineHeight/2)})
	}
}

// between writes words into the middle of the loop.
func (c Circuit) between(b *board, from, to, y float64) {
	for _, p := range c.at(Between) {
		lines := p.printed(to - from)
		if !b.try("lab", lines, false, [2]float64{(from + to) / 2, y}) {
			b.key = append(b.key, keyed{text: p.told()})
		}
		y += lineHeight * float64(len(lines))
	}
}

// printed is what stands beside a part, in lines no wider than wide.
func (p Part) printed(wide float64) []string {
	if wide < 24 {
		return make([]string, 9) // no room at all: the key has it
	}
	var lines []string
	for _, l := range p.lines() {
		if l != "" {
			lines = append(lines, wrap(l, wide)...)
		}
	}
	return lines
}

// arrow shows which way the current goes along a conductor: 1 to the right, -1 to the left.
func (b *board) arrow(x, y, way float64) {
	b.shape("path", "arrow", `d="M%.2f %.2f l%.2f 5 l0 -10 z"`, x+6*way, y, -11*way)
	b.take(rect{x - 7, y - 6, x + 7, y + 6})
}
