package study

import (
	"math"
	"slices"
	"sort"

	"railsum/calc/check"
	"railsum/calc/types"
)

// grid is where to look first: the range of the line, that of the input's ask,
// or a bracket that grows from the present value, and farther where that has shown
// nothing.
func (f *finder) grid(axis check.Axis, far bool) []float64 {
	lo, hi, ok := f.bounds(axis)
	now, has := f.lab.value(axis.X)
	if ok {
		xs := between(lo, hi)
		if lo < 0 && hi > 0 {
			xs = append(xs, 0)
		}
		if has && lo < now && now < hi {
			xs = append(xs, now)
		}
		return ordered(append(xs, legs(lo, hi, now)...), lo, hi)
	}
	f.found.Grown = true
	if axis.X.Type.Kind == types.Point {
		return append(between(math.Max(0, now-500), now), between(now, now+1500)[1:]...)
	}
	if now == 0 {
		now = 1
	}
	// A voltage or a current can be negative, but what is 5 A is never -500 kA: the
	// other sign is looked through to a thousand times what is, unless nothing is
	// found there and farther out on this side either.
	reach, other := 6.0, 3.0
	if far {
		reach, other = 9, 9
	}
	if !axis.X.Type.Dim.Signed() {
		other = -1
	}
	return around(now, reach, other)
}

// bounds are the ends of where to look: those of the line, or of the input's
// ask; false if neither says.
func (f *finder) bounds(axis check.Axis) (lo, hi float64, ok bool) {
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
	return lo, hi, ok
}

// between samples a range evenly, and by ratio too where it spans more than one
// power of ten.
func between(lo, hi float64) []float64 {
	even := gridRows
	if lo > 0 && hi/lo > 10 || hi < 0 && lo/hi > 10 {
		even = gridRows / 2
	}
	xs := make([]float64, 0, gridRows)
	for i := range even {
		xs = append(xs, partWay(lo, hi, i, even-1))
	}
	for i := range gridRows - even {
		xs = append(xs, byRatio(lo, hi, float64(i)/float64(gridRows-even-1)))
	}
	return ordered(xs, lo, hi)
}

// byRatio is the place at a share of the way from one value to another of the
// same sign, each step the same factor.
func byRatio(lo, hi, share float64) float64 {
	if ratio := hi / lo; finite(ratio) && ratio > 0 {
		return lo * math.Pow(ratio, share)
	}
	x := math.Exp(math.Log(math.Abs(lo))*(1-share) + math.Log(math.Abs(hi))*share)
	return math.Copysign(x, lo)
}

// legs samples by ratio from nothing to the ends of a range so wide that even
// steps pass over all that is of the size of the present value, or of one.
func legs(lo, hi, now float64) []float64 {
	const wide, far, n = 1e6, 1e12, gridRows / 8
	size := math.Abs(now)
	width := math.Max(math.Abs(lo), math.Abs(hi))
	if lo > 0 || hi < 0 || width <= far && (size == 0 || width/size <= wide) {
		return nil
	}
	least := size / 1e3
	if width > far && (size == 0 || least > 1e-6) {
		least = 1e-6
	}
	var xs []float64
	for _, end := range []float64{lo, hi} {
		if math.Abs(end) <= least {
			continue
		}
		for i := range n {
			xs = append(xs, byRatio(math.Copysign(least, end), end, float64(i)/float64(n-1)))
		}
	}
	return xs
}

// around samples powers of ten from a value, nine down and some up, and so many of
// the other sign; fewer than none for a quantity that has no other sign.
func around(now, up, other float64) []float64 {
	const down = 9
	both, farthest := other >= 0, math.Abs(now)*math.Pow(10, other)*(1+1e-9)
	n := gridRows / 2
	xs := make([]float64, 0, gridRows+2)
	for i := range n {
		x := now * math.Pow(10, (down+up)*float64(i)/float64(n-1)-down)
		xs = append(xs, x)
		if both && math.Abs(x) <= farthest {
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
	xs = slices.DeleteFunc(append(xs, now), func(x float64) bool { return !finite(x) })
	return ordered(xs, slices.Min(xs), slices.Max(xs))
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
