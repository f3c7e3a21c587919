package picture

import "math"

// A Strip is one axis of one dimension, to scale, with rows that cover parts of it.
type Strip struct {
	Title string
	Axis  Axis
	Rows  []Span
}

// A Span is a row of a strip: from where to where, in SI. A Span without a width is a mark.
type Span struct {
	Label    string
	From, To float64
	Look     Look
}

// An arranged strip: what can be drawn of it, and where.
type arranged struct {
	rows   []placedSpan
	lanes  int
	lo, hi float64
	left   int // rows beyond those that are drawn
}

type placedSpan struct {
	Span
	lane int
}

// Empty tells whether nothing of the strip can be drawn: no row has two ends, or all of them are one point.
func (s Strip) Empty() bool {
	a := s.arrange()
	return len(a.rows) == 0 || !(a.hi > a.lo)
}

// arrange leaves out the rows that have no ends or run backward, makes marks of those too narrow to be seen, and puts
// every other into the lowest lane where it covers none before it.
func (s Strip) arrange() arranged {
	a := arranged{lo: math.Inf(1), hi: math.Inf(-1)}
	for _, row := range s.Rows {
		if !finite(row.From, row.To) || row.To < row.From {
			continue
		}
		if len(a.rows) == most {
			a.left++
			continue
		}
		a.lo, a.hi = min(a.lo, row.From), max(a.hi, row.To)
		a.rows = append(a.rows, placedSpan{Span: row})
	}
	for i := range a.rows {
		row := &a.rows[i]
		if row.Look == "" {
			row.Look = Run
		}
		if row.To-row.From < (a.hi-a.lo)/400 {
			row.Look = Mark
		}
		if row.Look == Mark {
			continue
		}
		for a.covered(i, row.lane) {
			row.lane++
		}
		a.lanes = max(a.lanes, row.lane+1)
	}
	return a
}

// figures are the places on the axis that want a figure, those of marks and of its two ends first: not all find room.
func (a arranged) figures() []float64 {
	var at []float64
	for _, row := range a.rows {
		if row.Look == Mark {
			at = append(at, row.From)
		}
	}
	at = append(at, a.lo, a.hi)
	for _, row := range a.rows {
		at = append(at, row.From, row.To)
	}
	return at
}

// covered tells whether a row before row i stands where it would stand in that lane.
func (a arranged) covered(i, lane int) bool {
	slack := (a.hi - a.lo) * 1e-9
	for _, other := range a.rows[:i] {
		if other.Look != Mark && other.lane == lane &&
			other.From < a.rows[i].To-slack && a.rows[i].From < other.To-slack {
			return true
		}
	}
	return false
}

// Caption is the title and the unit of the axis.
func (s Strip) Caption() string { return s.Axis.caption(s.Title) }

// Sentence tells each row with its ends.
func (s Strip) Sentence() string {
	var parts []string
	a := s.arrange()
	for _, row := range a.rows {
		if row.From == row.To {
			parts = append(parts, row.Label+" at "+s.Axis.value(row.From))
			continue
		}
		parts = append(parts, "from "+s.Axis.value(row.From)+" to "+s.Axis.value(row.To)+" "+row.Label)
	}
	if a.left > 0 {
		parts = append(parts, more(a.left))
	}
	return sentence(s.Title, parts)
}

// told is a row as a key tells it.
func (s Strip) told(row placedSpan) string {
	if row.From == row.To {
		return words(row.Label, s.Axis.value(row.From))
	}
	return words(row.Label, s.Axis.between(row.From, row.To))
}
