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
	More     bool       // there are more places than are listed
	Near     *sides     // if it holds nowhere: how near it comes
	Apart    []*outcome // of several comparisons that never hold together: each by itself
}

// none reports whether the comparison holds nowhere.
func (o *outcome) none() bool { return len(o.Spans) == 0 && !o.All }

// stretch is a stretch of the input in which the comparison holds; a single place
// if From equals To.
type stretch struct {
	From, To       float64
	AtFrom, AtTo   bool  // it reaches to the end of where was looked
	Touches        bool  // the sides touch without crossing
	OutFrom, OutTo bool  // its end is left out: nothing, or where the sides of a strict inequality touch
	Jump           bool  // the sides pass one another in a jump and are never equal
	Before, Behind sides // of a jump: the sides on either side of it
	Of             int   // of a jump among several comparisons: whose sides they are
}

// sides is a place with the two sides of the comparison there.
type sides struct{ X, Left, Right float64 }

const (
	gridRows  = 4 * run.Block // of the first look
	mostFound = 64            // places that are told
	mostApart = 1024          // places of one comparison of several, not all of which are told
	narrow    = 5e-16         // width at which a bracket is as good as a point
	close     = 1e-9          // how near the sides of a root lie, against their size
)

// places looks for the values of an input that make all comparisons true.
func (l *Lab) places(ctx context.Context, s *check.Study) (*outcome, *Problem, error) {
	axis := s.Axes[0]
	if axis.From != nil {
		if _, _, problem := l.ends(axis); problem != nil {
			return nil, problem, nil
		}
	}
	fs := make([]*finder, len(s.So))
	for i := range s.So {
		fs[i] = l.finder(ctx, axis.X, s.So[i])
		if fs[i].most = mostFound; len(fs) > 1 {
			fs[i].most = mostApart
		}
	}
	var found *outcome
	for _, far := range []bool{false, true} {
		for _, f := range fs {
			if problem, err := f.pass(axis, far); problem != nil || err != nil {
				return nil, problem, err
			}
		}
		if found = together(fs); !found.none() || !found.Grown || axis.Whole {
			break
		}
	}
	if !found.none() {
		return found, nil, nil
	}
	for _, f := range fs {
		if f.found.none() && f.found.Near == nil && len(f.points) > 0 {
			if err := f.nearest(f.points); err != nil {
				return nil, nil, err
			}
		}
	}
	return found, nil, nil
}

// pass looks for where one comparison holds: on a grid and in what lies between,
// or at whole numbers alone.
func (f *finder) pass(axis check.Axis, far bool) (*Problem, error) {
	f.found, f.touching = &outcome{}, nil
	if axis.Whole {
		return f.wholes(axis)
	}
	grid := f.grid(axis, far)
	if len(grid) == 0 {
		return nil, nil
	}
	f.found.From, f.found.To = grid[0], grid[len(grid)-1]
	var err error
	if f.points, err = f.survey(grid); err != nil {
		return nil, err
	}
	if f.op == check.Eq {
		return nil, f.roots(f.points)
	}
	return nil, f.spans(f.points)
}

func (l *Lab) finder(ctx context.Context, x *check.Def, so check.Comparison) *finder {
	return &finder{lab: l, ctx: ctx, x: x, sides: so.Sides, op: so.Op, found: &outcome{}, most: mostFound}
}

type finder struct {
	lab   *Lab
	ctx   context.Context
	x     *check.Def
	sides []*check.Def
	op    check.Op
	found *outcome
	fixed *float64 // the right side, if it is a value and no Def
	most  int      // places that are kept

	points   []point // that were looked at first
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
	if len(edges) <= f.most {
		return 0, len(edges)
	}
	f.found.More = true
	if f.found.Grown {
		now, _ := f.lab.value(f.x)
		at, _ := slices.BinarySearchFunc(edges, now, func(e bracket, x float64) int { return cmp.Compare(e.b.x, x) })
		first = min(max(0, at-f.most/2), len(edges)-f.most)
	}
	return first, first + f.most
}

// nearest tells how near the sides come if they never meet.
func (f *finder) nearest(points []point) error {
	best := nearestAt(points)
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

// nearestAt is which of the points has its sides nearest to one another, -1 if none
// has any.
func nearestAt(points []point) int {
	best := -1
	for i, p := range points {
		if p.ok && (best < 0 || math.Abs(p.gap()) < math.Abs(points[best].gap())) {
			best = i
		}
	}
	return best
}

// nearestOf are the sides there.
func nearestOf(points []point) *sides {
	best := nearestAt(points)
	if best < 0 {
		return nil
	}
	n := points[best].near()
	return &n
}

// holds reports for each of some values of the input whether all comparisons
// hold there.
func (l *Lab) holds(ctx context.Context, s *check.Study, xs []float64) ([]bool, error) {
	hold := make([]bool, len(xs))
	for n, so := range s.So {
		f := l.finder(ctx, s.Axes[0].X, so)
		points, err := f.look(xs)
		if err != nil {
			return nil, err
		}
		for i, p := range points {
			hold[i] = f.holds(p) && (n == 0 || hold[i])
		}
	}
	return hold, nil
}

// Find looks for what an input must be.
func (a *Asking) Find(node *syntax.Find) {
	a.err = a.inCase(func(ctx context.Context) error { return a.find(ctx, a.s, node, &a.kept) })
}

func (l *Lab) find(ctx context.Context, s *check.Study, node *syntax.Find, kept *studied) error {
	axis := s.Axes[0]
	f := &answer.Found{Name: node.X.String(), Cond: answer.Expr{Expr: node.So}, With: spelled(node.In),
		Places: []answer.Place{}, Current: l.Value(axis.X)}
	if axis.Among != nil {
		p, err := l.among(ctx, s, f)
		if p != nil {
			l.problem(kept, p)
		}
		if err != nil || p != nil {
			return err
		}
		kept.answer = f
		l.anewFor(s, kept)
		return l.judge(ctx, s, f)
	}
	found, p, err := l.places(ctx, s)
	if p != nil {
		l.problem(kept, p)
	}
	if err != nil || p != nil {
		return err
	}
	x := func(v float64) *answer.Value { return l.like(axis.X, v, node.As) }
	f.Grown, f.More, f.All, f.Holds = found.Grown, found.More, found.All, !found.none()
	f.Looked = []*answer.Value{x(found.From), x(found.To)}
	f.Places = l.placed(s, found, 0)
	for _, p := range found.Poles {
		f.Poles = append(f.Poles, x(p))
	}
	f.Near = l.near(s, found, 0)
	for i, o := range found.Apart {
		a := answer.Apart{Cond: answer.Expr{Expr: s.So[i].Expr}, Holds: !o.none(), All: o.All, Places: l.placed(s, o, i),
			Near: l.near(s, o, i)}
		if a.More = o.More || len(a.Places) > mostFound; a.More {
			a.Places = a.Places[:min(len(a.Places), mostFound)]
		}
		alone := *s
		alone.So = s.So[i : i+1]
		if err := l.spellEnds(ctx, &alone, a.Places); err != nil {
			return err
		}
		f.Apart = append(f.Apart, a)
	}
	kept.answer = f
	l.anewFor(s, kept)
	if f.Take, err = l.takeOver(ctx, s, found, f); err != nil {
		return err
	}
	if err = l.spellEnds(ctx, s, f.Places); err != nil {
		return err
	}
	return l.judge(ctx, s, f)
}

// anewFor says what is chosen anew while a find looks.
func (l *Lab) anewFor(s *check.Study, kept *studied) {
	var asked []*check.Def
	for _, so := range s.So {
		asked = append(asked, so.Sides...)
	}
	l.anew(s, asked, kept)
}

// sided are the two sides of a comparison at a place.
func (l *Lab) sided(so check.Comparison, n sides) []*answer.Value {
	return []*answer.Value{l.like(so.Sides[0], n.Left, nil), l.like(so.Sides[1], n.Right, nil)}
}

// placed are the stretches of an outcome, with their values.
func (l *Lab) placed(s *check.Study, o *outcome, i int) []answer.Place {
	x := func(v float64) *answer.Value { return l.like(s.Axes[0].X, v, s.As) }
	all := []answer.Place{}
	for _, sp := range o.Spans {
		st := answer.Place{From: x(sp.From), To: x(sp.To), ToStart: sp.AtFrom, ToEnd: sp.AtTo, Touches: sp.Touches,
			Jump: sp.Jump, FromOut: sp.OutFrom, ToOut: sp.OutTo}
		if sp.Jump {
			so := s.So[max(i, sp.Of)]
			st.Before, st.Behind = l.sided(so, sp.Before), l.sided(so, sp.Behind)
		}
		all = append(all, st)
	}
	return all
}

// near is how near the comparison of an outcome comes to holding.
func (l *Lab) near(s *check.Study, o *outcome, i int) *answer.Near {
	if o.Near == nil {
		return nil
	}
	two := l.sided(s.So[i], *o.Near)
	return &answer.Near{X: l.like(s.Axes[0].X, o.Near.X, s.As), Left: two[0], Right: two[1]}
}
