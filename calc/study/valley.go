package study

import (
	"cmp"
	"math"
	"slices"
)

// A valley is a place where the sides come nearer to one another than on
// either hand. What lies in it may be too narrow for the grid to show: two
// crossings, a stretch that holds or does not, a touch.

// sharpen looks into the valleys. A place beyond the other side that it meets
// there is set among the points, so that what lies between is found like all
// else; a valley that reaches nothing and no further is kept as a touch.
func (f *finder) sharpen(points []point) ([]point, error) {
	var more []point
	floors := floors(points)
	many := len(floors) > mostFound
	if many { // the deepest, or where nobody said where to look the nearest
		now, _ := f.lab.value(f.x)
		rank := func(i int) float64 {
			if f.found.Grown {
				return math.Abs(points[i].x - now)
			}
			return math.Abs(points[i].gap())
		}
		slices.SortStableFunc(floors, func(i, j int) int { return cmp.Compare(rank(i), rank(j)) })
		floors = floors[:mostFound]
		slices.Sort(floors)
	}
	for _, i := range floors {
		best, beyond, err := f.deepest(points, i)
		if err != nil {
			return nil, err
		}
		switch {
		case beyond != nil:
			more = append(more, *beyond)
		// A valley's floor is flat: its place is good to half the digits only,
		// but its depth shows whether it reaches nothing.
		case math.Abs(best.gap()) <= math.Max(1e-12*best.size(), nothing(points, i, best.x)):
			f.touching = append(f.touching, best)
		}
	}
	f.found.More = f.found.More || many && len(f.touching) > 0
	return among(points, more), nil
}

// nothing is how deep a valley's floor must lie to count as nothing, against
// the places to either side of it: what the rounding of x alone may leave.
func nothing(points []point, floor int, x float64) float64 {
	a, b := points[floor-1], points[floor+1]
	step := math.Min(points[floor].x-a.x, b.x-points[floor].x)
	return math.Max(1e-12, 8*narrow*math.Abs(x)/step) * math.Min(math.Abs(a.gap()), math.Abs(b.gap()))
}

// floors lists the lowest places of the valleys of the gap, of a level floor
// the last one.
func floors(points []point) []int {
	var all []int
	down := false // the way to the left goes up
	for i := 1; i+1 < len(points); i++ {
		a, p, b := points[i-1], points[i], points[i+1]
		if !a.ok || !p.ok || !b.ok || side(a) == 0 || side(a) != side(b) || side(p) == -side(a) {
			down = false
			continue
		}
		ga, gp, gb := math.Abs(a.gap()), math.Abs(p.gap()), math.Abs(b.gap())
		if gp != ga {
			down = gp < ga
		}
		if down && gp < gb {
			all = append(all, i)
		}
	}
	return all
}

// side is which side is the larger: 1 the left, -1 the right, 0 neither.
func side(p point) int {
	switch g := p.gap(); {
	case g > 0:
		return 1
	case g < 0:
		return -1
	}
	return 0
}

// deepest walks down into the valley of the gap round points[i]. It gives the
// deepest place, and one beyond the other side as soon as it meets one.
func (f *finder) deepest(points []point, i int) (best point, beyond *point, err error) {
	best = points[i]
	left, right := points[max(0, i-1)], points[min(len(points)-1, i+1)]
	lo, hi := left.x, right.x
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
			return best, nil, err
		}
		at := -1
		for j, p := range got {
			if !p.ok {
				continue
			}
			if side(left) != 0 && side(p) == -side(left) {
				return best, &got[j], nil
			}
			if math.Abs(p.gap()) < math.Abs(best.gap()) || at < 0 && math.Abs(p.gap()) <= math.Abs(best.gap()) {
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
	return best, nil, nil
}

// touches tells the places where the sides touch without crossing.
func (f *finder) touches() {
	for _, p := range f.touching {
		if !f.told(p.x, 1e-6*math.Abs(p.x)) {
			f.found.Spans = append(f.found.Spans, stretch{From: p.x, To: p.x, Touches: true})
		}
	}
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
