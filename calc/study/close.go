package study

import (
	"math"

	"railsum/calc/run"
)

// bracket is a stretch with something in it: the sides change their order, or
// the comparison begins or ends to hold.
type bracket struct {
	a, b point
	was  float64 // its width at first
}

func (k bracket) width() float64 { return k.b.x - k.a.x }

// done reports whether the bracket is as good as a point: against its size, or,
// if it holds nothing (the number), against its width at first.
func (k bracket) done() bool {
	if k.a.x <= 0 && k.b.x >= 0 {
		return k.width() <= 1e-15*k.was
	}
	return k.width() <= narrow*math.Max(math.Abs(k.a.x), math.Abs(k.b.x))
}

// close narrows brackets until they are points, all of them in the same looks:
// each look puts a row of places into every bracket and keeps the stretch in
// which left ceases to be like the bracket's left end.
func (f *finder) close(ks []bracket, like func(left, p point) bool) error {
	for i := range ks {
		ks[i].was = ks[i].width()
	}
	for range 60 {
		var open []int
		for i, k := range ks {
			if !k.done() {
				open = append(open, i)
			}
		}
		if len(open) == 0 {
			return nil
		}
		each := max(4, run.Block/len(open))
		xs := make([]float64, 0, each*len(open))
		for _, i := range open {
			// Nothing is a place to try for its own sake: it is where roots and
			// poles like to lie, and no division of a bracket need hit it.
			for j := range each {
				x := ks[i].a.x + ks[i].width()*float64(j+1)/float64(each+1)
				if before := len(xs) - 1; j > 0 && xs[before] < 0 && x > 0 {
					x = 0
				}
				xs = append(xs, x)
			}
		}
		points, err := f.look(xs)
		if err != nil {
			return err
		}
		moved := false
		for n, i := range open {
			k := &ks[i]
			left := k.a
			for _, p := range points[n*each : (n+1)*each] {
				if p.x <= k.a.x || p.x >= k.b.x {
					continue
				}
				if !like(left, p) {
					k.b, moved = p, true
					break
				}
				k.a, moved = p, true
			}
		}
		if !moved {
			return nil
		}
	}
	return nil
}

// touches finds the places where the sides meet without crossing: the valleys
// of the gap that reach nothing.
func (f *finder) touches(points []point) error {
	tried := 0
	for i := 1; i+1 < len(points) && tried < mostFound; i++ {
		a, p, b := points[i-1], points[i], points[i+1]
		if !a.ok || !p.ok || !b.ok || (a.gap() > 0) != (b.gap() > 0) || (a.gap() > 0) != (p.gap() > 0) && p.gap() != 0 {
			continue
		}
		g := math.Abs(p.gap())
		if g > math.Abs(a.gap()) || g >= math.Abs(b.gap()) || p.gap() == 0 && f.told(p.x, b.x-a.x) {
			continue
		}
		tried++
		best, err := f.deepest(points, i)
		if err != nil {
			return err
		}
		// A valley's floor is flat: its place is good to half the digits only,
		// but its depth shows whether it reaches nothing.
		if math.Abs(best.gap()) <= 1e-12*best.size() || best.gap() == 0 {
			if !f.told(best.x, 1e-6*math.Abs(best.x)) {
				f.found.Spans = append(f.found.Spans, Span{From: best.x, To: best.x, Touches: true})
			}
		}
	}
	return nil
}

// told reports whether a place is on the list already.
func (f *finder) told(x, within float64) bool {
	for _, s := range f.found.Spans {
		if math.Abs(s.From-x) <= within || s.From <= x && x <= s.To {
			return true
		}
	}
	return false
}

// deepest walks down into the valley of the gap round points[i].
func (f *finder) deepest(points []point, i int) (point, error) {
	best := points[i]
	lo, hi := points[max(0, i-1)].x, points[min(len(points)-1, i+1)].x
	for range 12 {
		if hi-lo <= narrow*math.Max(math.Abs(lo), math.Abs(hi)) {
			break
		}
		const n = 256
		xs := make([]float64, n+1)
		for j := range xs {
			xs[j] = lo + (hi-lo)*float64(j)/n
		}
		got, err := f.look(xs)
		if err != nil {
			return best, err
		}
		at := -1
		for j, p := range got {
			if p.ok && (math.Abs(p.gap()) < math.Abs(best.gap()) || at < 0 && math.Abs(p.gap()) <= math.Abs(best.gap())) {
				best, at = p, j
			}
		}
		if at < 0 {
			step := (hi - lo) / n
			lo, hi = math.Max(lo, best.x-step), math.Min(hi, best.x+step)
			continue
		}
		lo, hi = xs[max(0, at-1)], xs[min(n, at+1)]
	}
	return best, nil
}
