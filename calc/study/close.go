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

// part is the place at a share of the bracket, of a wide one by ratio.
func (k bracket) part(share float64) float64 {
	if k.a.x > 0 && k.b.x/k.a.x > 100 || k.b.x < 0 && k.a.x/k.b.x > 100 {
		return byRatio(k.a.x, k.b.x, share)
	}
	return k.a.x + k.width()*share
}

// close narrows brackets until they are points, all of them in the same looks:
// each look puts a row of places into every bracket and keeps the stretch in
// which left ceases to be like the bracket's left end. The first look has many
// places, for a bracket may hold more than one; those after it have few, which
// costs least.
func (f *finder) close(ks []bracket, like func(left, p point) bool) error {
	for i := range ks {
		ks[i].was = ks[i].width()
	}
	for look := range 60 {
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
		if look > 0 {
			each = min(each, 32)
		}
		xs := make([]float64, 0, each*len(open))
		for _, i := range open {
			// Nothing is a place to try for its own sake: it is where roots and
			// poles like to lie, and no division of a bracket need hit it.
			for j := range each {
				x := ks[i].part(float64(j+1) / float64(each+1))
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
