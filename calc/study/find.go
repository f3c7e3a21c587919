package study

import (
	"cmp"
	"context"
	"math"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
)

// outcome is the answer of a search.
type outcome struct {
	From, To float64   // where it looked
	Grown    bool      // nobody said where: the bracket grew from the present value
	Spans    []stretch // where the comparison holds, in order
	All      bool      // it holds everywhere it looked
	Poles    []float64
	More     bool   // there are more places than are listed
	Near     *sides // if it holds nowhere: how near it comes
	Chosen   int    // of a list: which value is the first that holds, -1 for none
}

// stretch is a stretch of the input in which the comparison holds; a single place
// if From equals To.
type stretch struct {
	From, To       float64
	AtFrom, AtTo   bool  // it reaches to the end of where was looked
	Touches        bool  // the sides touch without crossing
	OutFrom, OutTo bool  // its end is left out: nothing, or where the sides of a strict inequality touch
	Jump           bool  // the sides pass one another in a jump and are never equal
	Before, Behind sides // of a jump: the sides on either side of it
}

// sides is a place with the two sides of the comparison there.
type sides struct{ X, Left, Right float64 }

const (
	gridRows  = 4 * run.Block // of the first look
	mostFound = 64            // places that are told
	narrow    = 5e-16         // width at which a bracket is as good as a point
	close     = 1e-9          // how near the sides of a root lie, against their size
)

// places looks for the values of an input that make a comparison true.
func (l *Lab) places(ctx context.Context, s *check.Study) (*outcome, *Problem, error) {
	axis := s.Axes[0]
	if axis.Among != nil {
		return l.findAmong(ctx, s, axis)
	}
	if axis.From != nil {
		if _, _, problem := l.ends(axis); problem != nil {
			return nil, problem, nil
		}
	}
	if axis.Whole {
		f := &finder{lab: l, ctx: ctx, x: axis.X, sides: s.Show, op: s.Op, found: &outcome{Chosen: -1}}
		problem, err := f.wholes(axis)
		return f.found, problem, err
	}
	f, err := l.search(ctx, s, axis)
	return f, nil, err
}

// search looks for them on a grid and in what lies between.
func (l *Lab) search(ctx context.Context, s *check.Study, axis check.Axis) (*outcome, error) {
	f := &finder{lab: l, ctx: ctx, x: axis.X, sides: s.Show, op: s.Op, found: &outcome{Chosen: -1}}
	var points []point
	var err error
	for _, far := range []bool{false, true} {
		grid := f.grid(axis, far)
		if len(grid) == 0 {
			return f.found, nil
		}
		f.found.From, f.found.To = grid[0], grid[len(grid)-1]
		f.found.Poles, f.touching = nil, nil
		if points, err = f.survey(grid); err != nil {
			return nil, err
		}
		if s.Op == check.Eq {
			err = f.roots(points)
		} else {
			err = f.spans(points)
		}
		if err != nil || len(f.found.Spans) > 0 || f.found.All || !f.found.Grown {
			break
		}
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
	found *outcome
	fixed *float64 // the right side, if it is a value and no Def

	touching []point // valleys that reach nothing
}

// point is a place that was looked at.
type point struct {
	x, left, right float64
	ok             bool
}

func (p point) gap() float64 { return p.left - p.right }

func (p point) near() sides { return sides{p.x, p.left, p.right} }

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

// survey looks at a grid, and closer where that shows something too narrow for
// it.
func (f *finder) survey(grid []float64) ([]point, error) {
	points, err := f.look(grid)
	if err == nil {
		points, err = f.sharpen(points)
	}
	if err == nil {
		points, err = f.rims(points)
	}
	return points, err
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
	first, end := f.window(edges)
	holding = f.holds(points[0]) != (first%2 == 1) // before the first of those that are told
	if holding && first > 0 {
		first, holding = first+1, false
	}
	ended := end == len(edges)
	edges = edges[first:end]
	if err := f.close(edges, func(left, p point) bool { return f.holds(p) == f.holds(left) }); err != nil {
		return err
	}
	f.found.All = all
	last := points[len(points)-1]
	open := stretch{From: points[0].x, AtFrom: true}
	for _, e := range edges {
		if holding {
			open.To = e.a.x
			if e.b.x == 0 { // it holds right up to nothing, and no longer there
				open.To, open.OutTo = 0, true
			}
			f.found.Spans = append(f.found.Spans, open)
		} else {
			open = stretch{From: e.b.x}
			if e.a.x == 0 {
				open.From, open.OutFrom = 0, true
			}
		}
		holding = !holding
	}
	if holding && ended {
		open.To, open.AtTo = last.x, true
		f.found.Spans = append(f.found.Spans, open)
	}
	if f.op == check.Le || f.op == check.Ge {
		f.touches()
		f.sort()
	}
	if f.op == check.Lt || f.op == check.Gt {
		f.split()
	}
	return nil
}

// split takes out of the stretches of a strict inequality the places where its
// sides touch.
func (f *finder) split() {
	var all []stretch
	touching := f.touching
	for _, s := range f.found.Spans {
		for _, p := range touching {
			if s.From < p.x && p.x < s.To {
				left := s
				left.To, left.AtTo, left.OutTo = p.x, false, true
				all = append(all, left)
				s.From, s.AtFrom, s.OutFrom = p.x, false, true
				f.found.All = false
			}
		}
		all = append(all, s)
	}
	f.found.Spans = all
}

// window is which of the brackets are told if there are too many: the first, or,
// where nobody said where to look, those round the present value.
func (f *finder) window(edges []bracket) (first, end int) {
	if len(edges) <= mostFound {
		return 0, len(edges)
	}
	f.found.More = true
	if f.found.Grown {
		now, _ := f.lab.value(f.x)
		at, _ := slices.BinarySearchFunc(edges, now, func(e bracket, x float64) int { return cmp.Compare(e.b.x, x) })
		first = min(max(0, at-mostFound/2), len(edges)-mostFound)
	}
	return first, first + mostFound
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
	if p.gap() == 0 && f.holds(p) { // at the very end of where there are values
		f.found.Spans = []stretch{{From: p.x, To: p.x, Touches: true}}
		return nil
	}
	n := p.near()
	f.found.Near = &n
	return nil
}

// findAmong takes the first value of a list that holds.
func (l *Lab) findAmong(ctx context.Context, s *check.Study, axis check.Axis) (*outcome, *Problem, error) {
	xs, problem := l.list(axis)
	if problem != nil {
		return nil, problem, nil
	}
	f := &finder{lab: l, ctx: ctx, x: axis.X, sides: s.Show, op: s.Op, found: &outcome{Chosen: -1}}
	points, err := f.look(xs)
	if err != nil || len(points) == 0 {
		return f.found, nil, err
	}
	for i, p := range points {
		if f.holds(p) {
			f.found.Chosen = i
			f.found.Spans = []stretch{{From: p.x, To: p.x}}
			return f.found, nil, nil
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
	return f.found, nil, nil
}

// holds reports for each of some values of the input whether the comparison
// holds there.
func (l *Lab) holds(ctx context.Context, s *check.Study, xs []float64) ([]bool, error) {
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

// Find looks for what an input must be.
func (a *Asking) Find(node *syntax.Find) { a.err = a.find(a.ctx, a.s, node, &a.kept) }

func (l *Lab) find(ctx context.Context, s *check.Study, node *syntax.Find, kept *studied) error {
	axis := s.Axes[0]
	found, p, err := l.places(ctx, s)
	if p != nil {
		l.problem(kept, p)
	}
	if err != nil || p != nil {
		return err
	}
	f := &answer.Found{Name: node.X.String(), Cond: answer.Expr{Expr: node.So}, Places: []answer.Place{}, Grown: found.Grown,
		More: found.More, Holds: len(found.Spans) > 0 || found.All, All: found.All, Current: l.Value(axis.X)}
	x := func(v float64) *answer.Value { return l.like(axis.X, v, node.As) }
	side := func(n sides) []*answer.Value {
		return []*answer.Value{l.like(s.Show[0], n.Left, nil), l.like(s.Show[1], n.Right, nil)}
	}
	if axis.Among == nil {
		f.Looked = []*answer.Value{x(found.From), x(found.To)}
	}
	for _, sp := range found.Spans {
		st := answer.Place{From: x(sp.From), To: x(sp.To), ToStart: sp.AtFrom, ToEnd: sp.AtTo, Touches: sp.Touches, Jump: sp.Jump, FromOut: sp.OutFrom, ToOut: sp.OutTo}
		if sp.Jump {
			st.Before, st.Behind = side(sp.Before), side(sp.Behind)
		}
		f.Places = append(f.Places, st)
	}
	for _, p := range found.Poles {
		f.Poles = append(f.Poles, x(p))
	}
	if found.Near != nil {
		two := side(*found.Near)
		f.Near = &answer.Near{X: x(found.Near.X), Left: two[0], Right: two[1]}
	}
	if axis.Among != nil {
		for _, d := range axis.Among {
			if col := l.M.Col(d); col != nil {
				f.Tried += len(col.V)
			}
		}
		if found.Chosen >= 0 {
			f.Chosen = x(found.Spans[0].From)
			if of := axis.Among[0].Type.Of; of != nil && found.Chosen < len(of.Labels) {
				f.Label = of.Labels[found.Chosen]
			}
		}
	}
	kept.answer = f
	if f.Take, err = l.takeOver(ctx, s, found, f); err != nil {
		return err
	}
	if err = l.spellEnds(ctx, s, f); err != nil {
		return err
	}
	return l.judge(ctx, s, f)
}
