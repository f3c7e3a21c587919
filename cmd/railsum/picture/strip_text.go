package picture

import "math"

// Characters that fill the rows of a strip in text.
var fills = map[Look]string{Run: "=", Good: "#", Bad: "x", Gap: ".", Measure: "-", Vehicle: "o"}

// Text draws the axis with the figures of the ends above it, the lanes below, and a key of what each fill is.
func (s Strip) Text(wide int) []string {
	a := s.arrange()
	out := wrapColumns(s.Caption(), wide)
	if !(a.hi > a.lo) {
		return out
	}
	column := func(v float64) int { return int(math.Round((v - a.lo) / (a.hi - a.lo) * float64(wide-1))) }

	figures := newCanvas(wide, 1)
	seen := map[string]bool{}
	for _, v := range a.figures() {
		f := s.Axis.Figure(v)
		x := column(v) - columns(f)/2
		x = max(0, min(x, wide-columns(f)))
		if !seen[f] && figures.free(max(0, x-1), min(wide, x+columns(f)+1), 0) {
			figures.put(x, 0, f)
		}
		seen[f] = true
	}

	lanes := newCanvas(wide, max(a.lanes, 1))
	marks := newCanvas(wide, 1)
	if a.lanes == 0 {
		lanes.fill(0, wide, 0, "-")
	}
	var key []string
	named := map[string]bool{}
	for i, row := range a.rows {
		x0, x1 := column(row.From), column(row.To)
		if row.Look == Mark {
			marks.put(x0, 0, "^")
			key = append(key, "^ "+s.told(row))
			continue
		}
		fill := fills[row.Look]
		if named[fill] && !s.inside(row, x1-x0) { // one fill for two rows: letters tell them apart
			fill = string(rune('a' + i))
		}
		named[fill] = true
		y := a.lanes - 1 - row.lane
		lanes.fill(x0+1, x1, y, fill)
		lanes.put(x0, y, "|")
		lanes.put(x1, y, "|")
		if s.inside(row, x1-x0) {
			label := " " + row.Label + " "
			lanes.put(x0+1+(x1-x0-1-columns(label))/2, y, label)
		}
		key = append(key, fill+fill+" "+s.told(row))
	}
	out = append(out, figures.lines()...)
	out = append(out, lanes.lines()...)
	out = append(out, marks.lines()...)
	if a.left > 0 {
		key = append(key, more(a.left))
	}
	return append(out, fold(key, wide)...)
}

// inside tells whether the label of a row fits into so many columns with a bit of its fill at both ends.
func (s Strip) inside(row placedSpan, wide int) bool {
	return columns(row.Label)+6 <= wide
}
