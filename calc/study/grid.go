package study

import (
	"math"
	"sort"

	"railsum/calc/check"
	"railsum/calc/types"
	"railsum/units"
)

// grid is where to look first: the range of the line, that of the input's ask,
// or a bracket that grows from the present value.
func (f *finder) grid(axis check.Axis) []float64 {
	var lo, hi float64
	ok := false
	bound := func(a, b *check.Def) {
		if a == nil || b == nil || ok {
			return
		}
		x, ok1 := f.lab.value(a)
		y, ok2 := f.lab.value(b)
		lo, hi, ok = x, y, ok1 && ok2 && x <= y
	}
	bound(axis.From, axis.To)
	bound(axis.X.Bounds[0], axis.X.Bounds[1])
	if ok {
		return between(lo, hi)
	}
	f.found.Grown = true
	now, _ := f.lab.value(axis.X)
	if axis.X.Type.Kind == types.Point {
		return between(math.Max(0, now-500), now+1500)
	}
	if now == 0 {
		now = 1
	}
	return around(now, signed(axis.X.Type.Dim))
}

// between samples a range evenly, and by ratio too where it spans more than one
// power of ten.
func between(lo, hi float64) []float64 {
	even := gridRows
	byRatio := lo > 0 && hi/lo > 10 || hi < 0 && lo/hi > 10
	if byRatio {
		even = gridRows / 2
	}
	xs := make([]float64, 0, gridRows)
	for i := range even {
		xs = append(xs, lo+(hi-lo)*float64(i)/float64(even-1))
	}
	for i := range gridRows - even {
		xs = append(xs, lo*math.Pow(hi/lo, float64(i)/float64(gridRows-even-1)))
	}
	return ordered(xs, lo, hi)
}

// around samples nine powers of ten either way from a value, and the same
// beyond nothing where a quantity can be negative.
func around(now float64, both bool) []float64 {
	const powers = 9
	n := gridRows / 2
	xs := make([]float64, 0, gridRows+2)
	for i := range n {
		x := now * math.Pow(10, powers*(2*float64(i)/float64(n-1)-1))
		xs = append(xs, x)
		if both {
			xs = append(xs, -x)
		}
	}
	for i := range n / 2 { // and evenly near by
		xs = append(xs, now*4*float64(i)/float64(n/2))
		if both {
			xs = append(xs, -now*4*float64(i)/float64(n/2))
		}
	}
	if both {
		xs = append(xs, 0)
	}
	sort.Float64s(xs)
	return ordered(append(xs, now), xs[0], xs[len(xs)-1])
}

// ordered sorts and takes out what is double or outside.
func ordered(xs []float64, lo, hi float64) []float64 {
	sort.Float64s(xs)
	out := xs[:0]
	for _, x := range xs {
		x = math.Min(math.Max(x, lo), hi)
		if len(out) == 0 || x > out[len(out)-1] {
			out = append(out, x)
		}
	}
	return out
}

// signed reports whether a quantity of a dimension is found on both sides of
// nothing: plain numbers, volts, amperes, speeds and the like, but no length,
// area, mass, time, resistance or capacity.
func signed(d units.Dim) bool {
	for _, s := range []string{"m", "m2", "m3", "kg", "s", "ohm", "F", "H", "Hz", "A/mm2", "ohm/m"} {
		if u, err := units.Parse(s); err == nil && u.Dim() == d {
			return false
		}
	}
	return true
}
