package run

import (
	"math"

	"railsum/calc/function"
)

// The four operations, a loop each. A result that is not finite is found in the
// loop by r-r != 0, which is true of an infinity and of NaN alone.

func add(out, a, b []float64) (bad bool) {
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		r := a[i] + b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func sub(out, a, b []float64) (bad bool) {
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		r := a[i] - b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func mul(out, a, b []float64) (bad bool) {
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		r := a[i] * b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

func div(out, a, b []float64) (bad bool) {
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		r := a[i] / b[i]
		out[i] = r
		if r-r != 0 {
			bad = true
		}
	}
	return bad
}

// arithmetic computes one of the four operations in every row.
func arithmetic(loop func(out, a, b []float64) bool) kernel {
	return func(st *step, in []*Col) {
		out, a, b := st.out, in[0], in[1]
		if !loop(out.V, a.V, b.V) {
			return
		}
		for i, v := range out.V {
			if v-v != 0 {
				f := function.Overflow
				if b.V[i] == 0 {
					f = function.ByNothing // of the four, only a division is not finite with nothing on the right
				}
				st.put(i, 0, f)
			}
		}
	}
}

// power computes x to the power of y in every row, with the simple exponents
// exact.
func power(st *step, in []*Col) {
	ys := in[1].V
	for i, x := range in[0].V {
		y, r, f := ys[i], 0.0, function.Sound
		switch {
		case y == 2:
			r = x * x
		case y == 0.5 && x >= 0:
			r = math.Sqrt(x)
		case x == 0 && y < 0:
			f = function.ByNothing
		case x < 0 && y != math.Trunc(y):
			f = function.EvenRoot
		default:
			r = math.Pow(x, y)
		}
		if r-r != 0 {
			r, f = 0, function.Overflow
		}
		st.put(i, r, f)
	}
}

// negate computes -x.
func negate(st *step, in []*Col) {
	for i, x := range in[0].V {
		st.out.V[i] = -x
	}
}
