package study

import (
	"context"
	"math"
	"sort"

	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/types"
	"railsum/units"
)

// Found is the answer of a search.
type Found struct {
	From, To float64 // where it looked
	Grown    bool    // nobody said where: the bracket grew from the present value
	Spans    []Span  // where the comparison holds, in order
	All      bool    // it holds everywhere it looked
	Poles    []float64
	More     bool  // there are more places than are listed
	Near     *Near // if it holds nowhere: how near it comes
	Chosen   int   // of a list: which value is the first that holds, -1 for none
}

// Span is a stretch of the input in which the comparison holds; a single place
// if From equals To.
type Span struct {
	From, To       float64
	AtFrom, AtTo   bool // it reaches to the end of where was looked
	Touches        bool // the sides touch without crossing
	Jump           bool // the sides pass one another in a jump and are never equal
	Before, Behind Near // of a jump: the sides on either side of it
}

// Near is a place with the two sides of the comparison there.
type Near struct{ X, Left, Right float64 }

const (
	gridRows  = 4 * run.Block // of the first look
	mostFound = 64            // places that are told
	narrow    = 1e-14         // width at which a bracket is as good as a point
	close     = 1e-9          // how near the sides of a root lie, against their size
)

// Find looks for the values of an input that make a comparison true.
func (l *Lab) Find(ctx context.Context, s *check.Study) (*Found, error) {
	axis := s.Axes[0]
	if axis.Among != nil {
		return l.findAmong(ctx, s, axis)
	}
	f := &finder{lab: l, ctx: ctx, x: axis.X, sides: s.Show, op: s.Op, found: &Found{Chosen: -1}}
	grid := f.grid(axis)
	if len(grid) == 0 {
		return f.found, nil
	}
	f.found.From, f.found.To = grid[0], grid[len(grid)-1]
	points, err := f.look(grid)
	if err == nil {
		points, err = f.sharpen(points)
	}
	if err != nil {
		return nil, err
	}
	if s.Op == check.Eq {
		err = f.roots(points)
	} else {
		err = f.spans(points)
	}
	if err == nil && len(f.found.Spans) == 0 && !f.found.All {
		err = f.nearest(points)
	}
	return f.found, err
}

type finder struct {
	lab   *Lab
	ctx   context.Context
	x     *check.Def
	sides []*check.Def
	op    check.Op
	found *Found
	fixed *float64 // the right side, if it is a value and no Def

	touching []point // valleys that reach nothing
}

// point is a place that was looked at.
type point struct {
	x, left, right float64
	ok             bool
}

func (p point) gap() float64 { return p.left - p.right }

func (p point) near() Near { return Near{p.x, p.left, p.right} }

// size is what a gap is measured against.
func (p point) size() float64 { return math.Max(math.Abs(p.left), math.Abs(p.right)) }

func (f *finder) look(xs []float64) ([]point, error) {
	got, err := f.lab.at(f.ctx, f.x, xs, f.sides)
	if err != nil {
		return nil, err
	}
	points := make([]point, len(xs))
	for i, x := range xs {
		l, r := got[0][i], Sample{OK: true}
		if f.fixed != nil {
			r.V = *f.fixed
		} else {
			r = got[1][i]
		}
		points[i] = point{x, l.V, r.V, l.OK && r.OK}
	}
	return points, nil
}

func (f *finder) holds(p point) bool {
	if !p.ok {
		return false
	}
	switch f.op {
	case check.Eq:
		return run.Equal(p.left, p.right)
	case check.Ne:
		return !run.Equal(p.left, p.right)
	case check.Lt:
		return run.Less(p.left, p.right)
	case check.Gt:
		return run.Less(p.right, p.left)
	case check.Le:
		return !run.Less(p.right, p.left)
	}
	return !run.Less(p.left, p.right)
}

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

// spans finds the stretches in which an inequality holds.
func (f *finder) spans(points []point) error {
	var edges []bracket // where it begins or ends to hold
	holding := f.holds(points[0])
	all := holding
	for i := 1; i < len(points); i++ {
		if now := f.holds(points[i]); now != holding {
			edges = append(edges, bracket{a: points[i-1], b: points[i]})
			holding, all = now, false
		}
	}
	if len(edges) > mostFound {
		edges, f.found.More = edges[:mostFound], true
	}
	if err := f.close(edges, func(left, p point) bool { return f.holds(p) == f.holds(left) }); err != nil {
		return err
	}
	f.found.All = all
	last := points[len(points)-1]
	open := Span{From: points[0].x, AtFrom: true}
	holding = f.holds(points[0])
	for _, e := range edges {
		if holding {
			open.To = e.a.x
			if e.b.x == 0 && !e.b.ok {
				open.To = 0
			}
			f.found.Spans = append(f.found.Spans, open)
		} else {
			open = Span{From: e.b.x}
			if e.a.x == 0 && !e.a.ok { // it holds right up to where the sides lose their values
				open.From = 0
			}
		}
		holding = !holding
	}
	if holding && !f.found.More {
		open.To, open.AtTo = last.x, true
		f.found.Spans = append(f.found.Spans, open)
	}
	if f.op == check.Le || f.op == check.Ge {
		f.touches()
		f.sort()
	}
	return nil
}

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
		f.found.Spans = []Span{{From: points[0].x, To: points[len(points)-1].x, AtFrom: true, AtTo: true}}
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
	if len(edges) > mostFound {
		edges, f.found.More = edges[:mostFound], true
	}
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
			kept[n] = Span{From: (kept[n].From + s.From) / 2, To: (kept[n].From + s.From) / 2, Touches: true}
			continue
		}
		kept = append(kept, s)
	}
	f.found.Spans = kept
}

// single reports whether the sides are equal in a single place.
func (s Span) single() bool { return s.From == s.To && !s.Jump }

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
		f.found.Spans = append(f.found.Spans, Span{From: best.x, To: best.x})
	case e.a.ok && e.b.ok && math.Abs(e.a.gap()-e.b.gap()) <= 1e-6*math.Abs(wide.a.gap()-wide.b.gap()): // no jump, though both sides vanish
		f.found.Spans = append(f.found.Spans, Span{From: best.x, To: best.x})
	case grown > 1e3*math.Max(math.Abs(wide.a.gap()), math.Abs(wide.b.gap())):
		at := (e.a.x + e.b.x) / 2
		if !e.b.ok {
			at = e.b.x
		}
		f.found.Poles = append(f.found.Poles, at)
	case !e.a.ok || !e.b.ok: // between them the sides have no values
	default:
		f.found.Spans = append(f.found.Spans, Span{From: e.b.x, To: e.b.x, Jump: true, Before: e.a.near(), Behind: e.b.near()})
	}
}

// nearest tells how near the sides come if they never meet.
func (f *finder) nearest(points []point) error {
	best := -1
	for i, p := range points {
		if p.ok && (best < 0 || math.Abs(p.gap()) < math.Abs(points[best].gap())) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	p, _, err := f.deepest(points, best)
	if err != nil {
		return err
	}
	n := p.near()
	f.found.Near = &n
	return nil
}

// findAmong takes the first value of a list that holds.
func (l *Lab) findAmong(ctx context.Context, s *check.Study, axis check.Axis) (*Found, error) {
	xs := l.list(axis)
	f := &finder{lab: l, ctx: ctx, x: axis.X, sides: s.Show, op: s.Op, found: &Found{Chosen: -1}}
	points, err := f.look(xs)
	if err != nil || len(points) == 0 {
		return f.found, err
	}
	for i, p := range points {
		if f.holds(p) {
			f.found.Chosen = i
			f.found.Spans = []Span{{From: p.x, To: p.x}}
			return f.found, nil
		}
	}
	best := -1
	for i, p := range points {
		if p.ok && (best < 0 || math.Abs(p.gap()) < math.Abs(points[best].gap())) {
			best = i
		}
	}
	if best >= 0 {
		n := points[best].near()
		f.found.Near = &n
	}
	return f.found, nil
}

// Holds reports for each of some values of the input whether the comparison
// holds there.
func (l *Lab) Holds(ctx context.Context, s *check.Study, xs []float64) ([]bool, error) {
	f := &finder{lab: l, ctx: ctx, x: s.Axes[0].X, sides: s.Show, op: s.Op}
	points, err := f.look(xs)
	if err != nil {
		return nil, err
	}
	hold := make([]bool, len(points))
	for i, p := range points {
		hold[i] = f.holds(p)
	}
	return hold, nil
}

// list is the values of an axis that are listed, or those of a column.
func (l *Lab) list(axis check.Axis) []float64 {
	var xs []float64
	for _, d := range axis.Among {
		if c := l.M.Col(d); c != nil {
			xs = append(xs, c.V...)
		}
	}
	return xs
}
