package picture

// Heights of a strip's lanes on a page.
const (
	laneHeight = 30.0
	barHeight  = 22.0
	sideMargin = 18.0
)

// SVG draws the lanes upward from the axis, the marks across them with their names above, and under the axis the figure
// of every end for which there is room.
func (s Strip) SVG(wide int, id string) string {
	a := s.arrange()
	b := newBoard(wide, id)
	if !(a.hi > a.lo) {
		return b.finish("strip", s.Caption(), s.Sentence())
	}
	x := func(v float64) float64 { return sideMargin + (v-a.lo)/(a.hi-a.lo)*(b.wide-2*sideMargin) }
	lanes := float64(max(a.lanes, 1))
	ceiling := -laneHeight*lanes - 6
	b.take(rect{0, -1, b.wide, 1}) // the axis

	for _, row := range a.rows {
		if row.Look != Mark {
			b.take(s.body(b, row, x))
		}
	}
	for _, row := range a.rows {
		if row.Look == Mark {
			at := x(row.From)
			b.line("mark", at, ceiling, at, 0)
			b.strokes = append(b.strokes, rect{at - 1, ceiling, at + 1, 0})
			b.shape("circle", "markhead", `cx="%.2f" cy="%.2f" r="4"`, at, ceiling)
		}
	}
	b.line("axis", sideMargin, 0, b.wide-sideMargin, 0)
	for _, row := range a.rows { // marks name themselves first: nothing else can take their place
		if row.Look == Mark && !b.above("b", s.told(row), x(row.From), ceiling-4, ceiling-4) {
			s.byLetter(b, row, x)
		}
	}
	for _, row := range a.rows {
		if row.Look != Mark {
			s.name(b, row, x, ceiling)
		}
	}
	s.ticks(b, a, x)
	if a.left > 0 {
		b.key = append(b.key, keyed{text: more(a.left)})
	}
	return b.finish("strip", s.Caption(), s.Sentence())
}

// body draws a row and tells which part of the drawing is full with it.
func (s Strip) body(b *board, row placedSpan, x func(float64) float64) rect {
	base := -laneHeight * float64(row.lane)
	r := rect{x(row.From), base - 4 - barHeight, x(row.To), base - 4}
	middle := (r.y0 + r.y1) / 2
	switch row.Look {
	case Measure:
		b.line("span", r.x0, middle, r.x1, middle)
		b.line("span", r.x0, r.y0+4, r.x0, r.y1-4)
		b.line("span", r.x1, r.y0+4, r.x1, r.y1-4)
		return rect{r.x0, middle - 2, r.x1, middle + 2}
	case Vehicle: // a body on two wheels, its first and last axle at the ends
		wheel := min(7, (r.x1-r.x0)/5)
		over := min(wheel*1.6, r.x0, b.wide-r.x1)
		b.box("vehicle", rect{r.x0 - over, r.y0, r.x1 + over, r.y1 - wheel})
		for _, at := range []float64{r.x0, r.x1} {
			b.shape("circle", "wheel", `cx="%.2f" cy="%.2f" r="%.2f"`, at, r.y1-wheel+1, wheel)
		}
		return r
	}
	b.box("bar "+string(row.Look), r)
	return r
}

// name writes the label of a row: within it, beside it in its lane, on a shelf above, or into the key.
func (s Strip) name(b *board, row placedSpan, x func(float64) float64, ceiling float64) {
	x0, x1 := x(row.From), x(row.To)
	y := -laneHeight*float64(row.lane) - 4 - barHeight/2
	class := "lab"
	if row.Look == Vehicle {
		y -= 3
	}
	lines := []string{row.Label}
	room := around(lines, false, (x0+x1)/2, y)
	if room.x1-room.x0 <= x1-x0-4 {
		b.write(class, lines, room, row.Look == Measure || b.struck(room))
		return
	}
	half := (room.x1 - room.x0) / 2
	over := 4.0
	if row.Look == Vehicle {
		over = 14
	}
	if b.try(class, lines, true, [2]float64{x1 + over + half, y}, [2]float64{x0 - over - half, y}) ||
		b.above(class, row.Label, (x0+x1)/2, ceiling-4, y-barHeight/2-1) {
		return
	}
	s.byLetter(b, row, x)
}

// byLetter puts a row into the key, and its letter where it stands if there is room for one.
func (s Strip) byLetter(b *board, row placedSpan, x func(float64) float64) {
	letter := []string{b.letter(s.told(row))}
	x0, x1 := x(row.From), x(row.To)
	y := -laneHeight*float64(row.lane) - 4 - barHeight/2
	room := around(letter, true, (x0+x1)/2, y)
	if row.Look != Mark && room.x1-room.x0 <= x1-x0 {
		b.write("b", letter, room, row.Look == Measure || b.struck(room))
		return
	}
	if b.try("b", letter, true, [2]float64{x1 + 8, y}, [2]float64{x0 - 8, y}) {
		return
	}
	b.above("b", letter[0], (x0+x1)/2, -laneHeight*8, 0)
}

// ticks writes the figures under the axis for which there is room.
func (s Strip) ticks(b *board, a arranged, x func(float64) float64) {
	seen := map[string]bool{}
	for _, v := range a.figures() {
		figure := s.Axis.Figure(v)
		if seen[figure] {
			continue
		}
		seen[figure] = true
		b.line("tick", x(v), 0, x(v), 5)
		r := b.into(around([]string{figure}, false, x(v), 5+lineHeight/2))
		if b.free(r) {
			b.write("tick", []string{figure}, r, false)
		}
	}
}
