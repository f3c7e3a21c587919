package study

import (
	"math"
	"sort"

	"railsum/calc/run"
)

// roots finds where the sides are equal: where they cross, and where they touch.
func (f *finder) roots(points []point) error {
	all := true
	var edges []bracket
	var before *point
	for i := range points {
		p := &points[i]
		if !p.ok {
			all = false
			continue
		}
		if !run.Equal(p.left, p.right) {
			all = false
		}
		switch {
		case p.gap() == 0:
			edges = append(edges, bracket{a: *p, b: *p})
		case before != nil && before.gap() != 0 && (p.gap() > 0) != (before.gap() > 0):
			edges = append(edges, bracket{a: *before, b: *p})
		}
		before = p
	}
	if all {
		f.found.All = true
		f.found.Spans = []stretch{{From: points[0].x, To: points[len(points)-1].x, AtFrom: true, AtTo: true}}
		return nil
	}
	if level(points) {
		if err := f.spans(points); err != nil {
			return err
		}
	}
	kept := edges[:0]
	for _, e := range edges {
		if !f.told(e.a.x, 0) && !f.told(e.b.x, 0) {
			kept = append(kept, e)
		}
	}
	edges = kept
	first, end := f.window(edges)
	edges = edges[first:end]
	wide := append([]bracket(nil), edges...)
	err := f.close(edges, func(left, p point) bool { return p.ok && p.gap() != 0 && (p.gap() > 0) == (left.gap() > 0) })
	if err != nil {
		return err
	}
	for i, e := range edges {
		f.classify(e, wide[i])
	}
	f.touches()
	f.sort()
	f.merge()
	return nil
}

func (f *finder) sort() {
	sort.Slice(f.found.Spans, func(i, j int) bool { return f.found.Spans[i].From < f.found.Spans[j].From })
}

// merge makes one touch of two crossings that lie as near to one another as
// rounding alone can set them.
func (f *finder) merge() {
	kept := f.found.Spans[:0]
	for _, s := range f.found.Spans {
		if n := len(kept) - 1; n >= 0 && kept[n].single() && s.single() && s.From-kept[n].From <= 1e-7*math.Abs(s.From) {
			kept[n] = stretch{From: (kept[n].From + s.From) / 2, To: (kept[n].From + s.From) / 2, Touches: true}
			continue
		}
		kept = append(kept, s)
	}
	f.found.Spans = kept
}

// single reports whether the sides are equal in a single place.
func (s stretch) single() bool { return s.From == s.To && !s.Jump }

// level reports whether the sides are equal over a stretch, as where one of them
// is rounded.
func level(points []point) bool {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a.ok && b.ok && run.Equal(a.left, a.right) && run.Equal(b.left, b.right) {
			return true
		}
	}
	return false
}

// classify tells a root from a jump and from a pole by what the gap has done
// while the bracket closed.
func (f *finder) classify(e, wide bracket) {
	best := e.a
	if e.b.ok && (!best.ok || math.Abs(e.b.gap()) < math.Abs(best.gap())) {
		best = e.b
	}
	grown := math.Inf(1) // the smaller of the sides' distances now, of those that there are
	for _, p := range []point{e.a, e.b} {
		if p.ok {
			grown = math.Min(grown, math.Abs(p.gap()))
		}
	}
	switch {
	case best.ok && math.Abs(best.gap()) <= close*best.size():
		f.found.Spans = append(f.found.Spans, stretch{From: best.x, To: best.x})
	case e.a.ok && e.b.ok && math.Abs(e.a.gap()-e.b.gap()) <= 1e-6*math.Abs(wide.a.gap()-wide.b.gap()):
		// no jump, though both sides vanish
		f.found.Spans = append(f.found.Spans, stretch{From: best.x, To: best.x})
	case grown > 1e3*math.Max(math.Abs(wide.a.gap()), math.Abs(wide.b.gap())):
		at := (e.a.x + e.b.x) / 2
		if !e.b.ok {
			at = e.b.x
		}
		f.found.Poles = append(f.found.Poles, at)
	case !e.a.ok || !e.b.ok: // between them the sides have no values
	default:
		f.found.Spans = append(f.found.Spans, stretch{From: e.b.x, To: e.b.x, Jump: true, Before: e.a.near(),
			Behind: e.b.near()})
	}
}
