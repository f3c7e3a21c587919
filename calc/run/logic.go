package run

import "math"

// nearly is how close two values may lie, as a share of the larger, to count as
// equal in a comparison: 0.1 + 0.2 <= 0.3 holds, as on paper.
const nearly = 1e-12

// Equal reports whether two values count as equal in a comparison.
func Equal(x, y float64) bool {
	return x == y || math.Abs(x-y) <= nearly*max(math.Abs(x), math.Abs(y))
}

// Less reports whether x is less than y and not equal to it.
func Less(x, y float64) bool { return x < y && !Equal(x, y) }

// equal tells in every row whether x and y count as equal, or whether not.
func equal(yes bool) kernel {
	then, other := truth(yes), truth(!yes)
	return func(st *step, in []*Col) {
		out, a, b := st.out.V, in[0].V, in[1].V
		for i := range out {
			if Equal(a[i], b[i]) {
				out[i] = then
			} else {
				out[i] = other
			}
		}
	}
}

// atMost tells in every row whether one operand, by its index, is at most the
// other, or whether not, which is whether it is more.
func atMost(one int, yes bool) kernel {
	then, other := truth(yes), truth(!yes)
	return func(st *step, in []*Col) {
		out, a, b := st.out.V, in[one].V, in[1-one].V
		a, b = a[:len(out)], b[:len(out)]
		for i := range out {
			if x, y := a[i], b[i]; x <= y || Equal(x, y) {
				out[i] = then
			} else {
				out[i] = other
			}
		}
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
func both(decider float64) kernel {
	return func(st *step, in []*Col) {
		out, a, b := st.out, in[0], in[1]
		for i := range out.V {
			x, xm := a.V[i], a.markAt(i)
			y, ym := b.V[i], b.markAt(i)
			switch {
			case xm == 0 && x == decider, ym == 0 && y == decider:
				out.V[i] = decider
			case xm != 0 || ym != 0:
				out.set(i, xm)
				out.set(i, ym)
			default:
				out.V[i] = 1 - decider
			}
		}
	}
}

// choose computes if: the value and the mark of the side that was chosen.
func choose(st *step, in []*Col) {
	out, cond := st.out, in[0]
	for i, c := range cond.V {
		if m := cond.markAt(i); m != 0 {
			out.set(i, m)
			continue
		}
		side := in[1]
		if c == 0 {
			side = in[2]
		}
		out.V[i] = side.V[i]
		if m := side.markAt(i); m != 0 {
			out.set(i, m)
		}
	}
}

// not computes the opposite of a truth.
func not(st *step, in []*Col) {
	for i, x := range in[0].V {
		st.out.V[i] = 1 - x
	}
}
