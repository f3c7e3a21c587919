package study

import (
	"math"
	"slices"

	"railsum/calc/check"
)

// A rim is where the sides begin or cease to have values. Between it and the
// next place of the grid the comparison may change unseen.

// rims looks at the rims, and sets one among the points where the comparison is
// not there what it is at the next place; a rim at which the sides are just equal
// is kept as a touch.
func (f *finder) rims(points []point) ([]point, error) {
	var edges []bracket
	for i := 1; i < len(points) && len(edges) < mostFound; i++ {
		if a, b := points[i-1], points[i]; a.ok != b.ok {
			edges = append(edges, bracket{a: a, b: b})
		}
	}
	wide := slices.Clone(edges)
	if err := f.close(edges, func(left, p point) bool { return p.ok == left.ok }); err != nil {
		return nil, err
	}
	var more []point
	for i, e := range edges {
		rim, next := e.b, wide[i].b
		if e.a.ok {
			rim, next = e.a, wide[i].a
		}
		rim, err := f.outermost(e, rim)
		if err != nil {
			return nil, err
		}
		switch {
		case f.op != check.Eq && f.holds(rim) != f.holds(next),
			f.op == check.Eq && side(rim) == -side(next) && side(rim) != 0:
			more = append(more, rim)
		case f.op == check.Eq && side(rim) == 0 && side(next) != 0:
			f.touching = append(f.touching, rim)
		}
	}
	return among(points, more), nil
}

// outermost is the last place with values within a closed bracket.
func (f *finder) outermost(e bracket, rim point) (point, error) {
	var xs []float64
	for x := e.a.x; x <= e.b.x && len(xs) < 16; x = math.Nextafter(x, math.Inf(1)) {
		xs = append(xs, x)
	}
	got, err := f.look(xs)
	if err != nil {
		return rim, err
	}
	for _, p := range got {
		if p.ok && (e.a.ok == (p.x > rim.x)) {
			rim = p
		}
	}
	return rim, nil
}

// among sets places, in order, among others.
func among(points, more []point) []point {
	if len(more) == 0 {
		return points
	}
	all := make([]point, 0, len(points)+len(more))
	for _, p := range points {
		for len(more) > 0 && more[0].x < p.x {
			all, more = append(all, more[0]), more[1:]
		}
		if len(more) > 0 && more[0].x == p.x {
			more = more[1:]
		}
		all = append(all, p)
	}
	return all
}
