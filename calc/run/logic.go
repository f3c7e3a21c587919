package run

import "math"

// nearly is how close two values may lie, as a share of the larger, to count as
// equal in a comparison: 0.1 + 0.2 <= 0.3 holds, as on paper.
const nearly = 1e-12

// Equal reports whether two values count as equal in a comparison.
func Equal(x, y float64) bool {
	if x == y {
		return true
	}
	return math.Abs(x-y) <= nearly*math.Max(math.Abs(x), math.Abs(y))
}

// Less reports whether x is less than y and not equal to it.
func Less(x, y float64) bool { return x < y && !Equal(x, y) }

type comparison uint8

const (
	eq comparison = iota
	ne
	lt
	le
	gt
	ge
)

// compare computes a truth per row.
func (m *Machine) compare(st *step, op comparison, a, b *Col) {
	rows, width := shapeOf(a, b)
	ka, kb := cursorOf(a), cursorOf(b)
	out := st.out
	out.reshape(rows, width)
	i := 0
	for r := 0; r < rows; r++ {
		for w := 0; w < width; w++ {
			x, y := a.V[ka.index(r, w)], b.V[kb.index(r, w)]
			holds := false
			switch op {
			case eq:
				holds = Equal(x, y)
			case ne:
				holds = !Equal(x, y)
			case lt:
				holds = x < y && !Equal(x, y)
			case le:
				holds = x <= y || Equal(x, y)
			case gt:
				holds = x > y && !Equal(x, y)
			case ge:
				holds = x >= y || Equal(x, y)
			}
			out.V[i] = truth(holds)
			i++
		}
	}
	if a.Marks != nil || b.Marks != nil {
		mergeMarks(out, a, b)
	}
}

func truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// both computes and (decider 0) or or (decider 1). A sound side that decides
// settles the row whatever the other side's mark is.
func (m *Machine) both(st *step, decider float64, a, b *Col) {
	rows, width := shapeOf(a, b)
	ka, kb := cursorOf(a), cursorOf(b)
	out := st.out
	out.reshape(rows, width)
	i := 0
	for r := 0; r < rows; r++ {
		for w := 0; w < width; w++ {
			x, xm := at(a, ka.index(r, w))
			y, ym := at(b, kb.index(r, w))
			switch {
			case xm == 0 && x == decider, ym == 0 && y == decider:
				out.V[i] = decider
			case xm != 0:
				out.set(i, xm)
			case ym != 0:
				out.set(i, ym)
			default:
				out.V[i] = 1 - decider
			}
			i++
		}
	}
}

func at(c *Col, i int) (float64, Mark) {
	if c.Marks == nil {
		return c.V[i], 0
	}
	return c.V[i], c.Marks[i]
}

// choose computes if: the value and the mark of the side that was chosen.
func (m *Machine) choose(st *step, cond, then, other *Col) {
	rows, width := shapeOf(cond, then, other)
	kc, kt, ko := cursorOf(cond), cursorOf(then), cursorOf(other)
	out := st.out
	out.reshape(rows, width)
	i := 0
	for r := 0; r < rows; r++ {
		for w := 0; w < width; w++ {
			c, cm := at(cond, kc.index(r, w))
			v, vm := 0.0, cm
			if cm == 0 {
				if c != 0 {
					v, vm = at(then, kt.index(r, w))
				} else {
					v, vm = at(other, ko.index(r, w))
				}
			}
			out.V[i] = v
			if vm != 0 {
				out.set(i, vm)
			}
			i++
		}
	}
}

// not computes the opposite of a truth.
func (m *Machine) not(st *step, a *Col) {
	st.out.reshape(a.Rows, a.Width)
	for i, x := range a.V {
		st.out.V[i] = 1 - x
	}
	mergeMarks(st.out, a)
}

// negate computes -x.
func (m *Machine) negate(st *step, a *Col) {
	st.out.reshape(a.Rows, a.Width)
	for i, x := range a.V {
		st.out.V[i] = -x
	}
	mergeMarks(st.out, a)
}
