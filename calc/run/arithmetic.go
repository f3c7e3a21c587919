package run

import (
	"math"

	"railsum/calc/function"
)

// The four operations, each with a loop for two columns and one for a column
// and a single value. A result that is not finite is found in the loop by
// r-r != 0, which is true of an infinity and of NaN alone.

func addAll(out, a, b []float64) (bad bool) {
	_ = b[:len(out)]
	for i, x := range a[:len(out)] {
		r := x + b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func addOne(out, a []float64, y float64) (bad bool) {
	for i, x := range a[:len(out)] {
		r := x + y
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func subAll(out, a, b []float64) (bad bool) {
	_ = b[:len(out)]
	for i, x := range a[:len(out)] {
		r := x - b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func subFrom(out []float64, x float64, b []float64) (bad bool) {
	for i, y := range b[:len(out)] {
		r := x - y
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func mulAll(out, a, b []float64) (bad bool) {
	_ = b[:len(out)]
	for i, x := range a[:len(out)] {
		r := x * b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func mulOne(out, a []float64, y float64) (bad bool) {
	for i, x := range a[:len(out)] {
		r := x * y
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func divAll(out, a, b []float64) (bad bool) {
	_ = b[:len(out)]
	for i, x := range a[:len(out)] {
		r := x / b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func divOne(out, a []float64, y float64) (bad bool) {
	for i, x := range a[:len(out)] {
		r := x / y
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func divInto(out []float64, x float64, b []float64) (bad bool) {
	for i, y := range b[:len(out)] {
		r := x / y
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

type arith uint8

const (
	add arith = iota
	sub
	mul
	div
)

// arithmetic computes out = a op b.
func (m *Machine) arithmetic(st *step, op arith, a, b *Col) {
	rows, width := shapeOf(a, b)
	n := rows * width
	av, bv := a.V, b.V
	out := st.out
	out.reshape(rows, width)
	if n == 0 {
		return
	}
	bad := false
	switch {
	case len(bv) == 1 && len(av) == n:
		y := bv[0]
		switch op {
		case add:
			bad = addOne(out.V, av, y)
		case sub:
			bad = addOne(out.V, av, -y)
		case mul:
			bad = mulOne(out.V, av, y)
		case div:
			bad = divOne(out.V, av, y)
		}
	case len(av) == 1 && len(bv) == n:
		x := av[0]
		switch op {
		case add:
			bad = addOne(out.V, bv, x)
		case sub:
			bad = subFrom(out.V, x, bv)
		case mul:
			bad = mulOne(out.V, bv, x)
		case div:
			bad = divInto(out.V, x, bv)
		}
	default:
		av = a.stretched(rows, width, &m.bufs[0])
		bv = b.stretched(rows, width, &m.bufs[1])
		switch op {
		case add:
			bad = addAll(out.V, av, bv)
		case sub:
			bad = subAll(out.V, av, bv)
		case mul:
			bad = mulAll(out.V, av, bv)
		case div:
			bad = divAll(out.V, av, bv)
		}
	}
	if a.Marks != nil || b.Marks != nil {
		mergeMarks(out, a, b)
	}
	if bad {
		m.markBad(st, op == div, b)
	}
}

// markBad marks the rows of a result that are not finite.
func (m *Machine) markBad(st *step, division bool, b *Col) {
	out := st.out
	k := cursorOf(b)
	i := 0
	for r := 0; r < out.Rows; r++ {
		for w := 0; w < out.Width; w++ {
			if v := out.V[i]; v-v != 0 {
				f := function.Overflow
				if division && b.V[k.index(r, w)] == 0 {
					f = function.ByNothing
				}
				out.set(i, mark(st.site, f))
			}
			i++
		}
	}
}

// power computes x to the power of y in every row, with the simple exponents
// exact.
func (m *Machine) power(st *step, a, b *Col) {
	m.each(st, a, b, func(x, y float64) (float64, function.Fault) {
		var r float64
		switch {
		case y == 2:
			r = x * x
		case y == 0.5:
			if x < 0 {
				return 0, function.EvenRoot
			}
			r = math.Sqrt(x)
		case x == 0 && y < 0:
			return 0, function.ByNothing
		case x < 0 && y != math.Trunc(y):
			return 0, function.EvenRoot
		default:
			r = math.Pow(x, y)
		}
		if r-r != 0 {
			return 0, function.Overflow
		}
		return r, function.Sound
	})
}

// each applies a kernel of two to every row.
func (m *Machine) each(st *step, a, b *Col, kernel func(x, y float64) (float64, function.Fault)) {
	rows, width := shapeOf(a, b)
	ka, kb := cursorOf(a), cursorOf(b)
	out := st.out
	out.reshape(rows, width)
	i := 0
	for r := 0; r < rows; r++ {
		for w := 0; w < width; w++ {
			v, f := kernel(a.V[ka.index(r, w)], b.V[kb.index(r, w)])
			out.V[i] = v
			if f != 0 {
				out.set(i, mark(st.site, f))
			}
			i++
		}
	}
	m.inherit(out, a, b)
}

// inherit lets the marks of the operands stand before those that an operation
// has found itself: the first cause is the one to tell.
func (m *Machine) inherit(out *Col, operands ...*Col) {
	for _, c := range operands {
		if c.Marks == nil {
			continue
		}
		own := out.Marks
		out.Marks = nil
		mergeMarks(out, operands...)
		for i, mk := range own {
			if mk != 0 {
				out.set(i, mk)
			}
		}
		return
	}
}
