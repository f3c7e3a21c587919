package run

import (
	"testing"

	"railsum/calc/function"
)

// An answer that does not exist travels like an error, and an error is told
// before it, from whichever side it comes.
func TestMarkKinds(t *testing.T) {
	none, fault := mark(1, function.None), mark(2, function.ByNothing)
	l := newLane(function.World{})
	for _, c := range []struct {
		what string
		op   operation
		a, b Mark
		want Mark
	}{
		{"none and a number", l.strict(arithmetic(add)), none, 0, none},
		{"none and an error", l.strict(arithmetic(add)), none, fault, fault},
		{"an error and none", l.strict(arithmetic(add)), fault, none, fault},
		{"an echo in a row that is none", l.strict(arithmetic(div)), 0, none, none},
		{"none or an error", l.aligned(both(1)), none, fault, fault},
		{"none and no", l.aligned(both(0)), none, 0, 0},
	} {
		of := func(m Mark) *Col {
			x := &Col{Rows: 1, Width: 1, V: []float64{0}}
			if m != 0 {
				x.set(0, m)
			}
			return x
		}
		st := &step{in: []*Col{of(c.a), of(c.b)}, out: &Col{}, site: 3}
		c.op(st)
		if _, got := st.out.At(0, 0); got != c.want {
			t.Errorf("%s: %q of site %d", c.what, got.Fault().Words(), got.site())
		}
	}
}
