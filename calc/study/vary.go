package study

import (
	"context"
	"math"

	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/units/words"
)

// MaxRows is how many rows a sweep may have.
const MaxRows = 20_000_000

// Values are the values that an axis takes.
type Values struct {
	N  int
	At func(i int) float64
}

// Values settles what values an axis takes.
func (l *Lab) Values(a check.Axis) (Values, *Problem) {
	if a.Among != nil {
		xs, problem := l.list(a)
		return Values{len(xs), func(i int) float64 { return xs[i] }}, problem
	}
	from, to, problem := l.ends(a)
	if problem != nil {
		return Values{}, problem
	}
	if a.By == nil {
		n := a.Steps
		if n >= MaxRows {
			return Values{}, &Problem{Part: a.From, Wrong: words.Say("this makes too many rows").
				With("take fewer steps")}
		}
		return Values{n + 1, func(i int) float64 { return partWay(from, to, i, n) }}, nil
	}
	by, ok := l.value(a.By)
	switch {
	case !ok:
		return Values{}, &Problem{Part: a.By, NoAnswer: true}
	case by == 0:
		return Values{}, &Problem{Part: a.By, Wrong: words.Say("a step of nothing leads nowhere").
			With("write a step above nothing")}
	case by < 0:
		return Values{}, &Problem{Part: a.By, Wrong: words.Say("the step goes backwards").
			With("write the step without a minus")}
	}
	n := math.Floor((to/by-from/by)*(1+1e-12) + 1e-9)
	if width := to - from; finite(width) {
		n = math.Floor(width/by*(1+1e-12) + 1e-9)
	}
	if n >= MaxRows {
		return Values{}, &Problem{Part: a.By, Wrong: words.Say("this makes too many rows").With("take a larger step")}
	}
	return Values{int(n) + 1, func(i int) float64 { return math.FMA(by, float64(i), from) }}, nil
}

// partWay is the i-th of n steps from one value to another.
func partWay(from, to float64, i, n int) float64 {
	if x := from + (to-from)*float64(i)/float64(n); finite(x) {
		return x
	}
	share := float64(i) / float64(n)
	return from*(1-share) + to*share
}

// ends are the ends of the range of an axis.
func (l *Lab) ends(a check.Axis) (from, to float64, problem *Problem) {
	from, ok1 := l.value(a.From)
	to, ok2 := l.value(a.To)
	switch {
	case !ok1:
		problem = l.unfit(a.From)
	case !ok2:
		problem = l.unfit(a.To)
	case from > to:
		problem = &Problem{Part: a.From, Wrong: words.Say("the range is reversed").
			With("write the smaller value first")}
	}
	return from, to, problem
}

// Sweep is a vary line made ready: its axes' values and what is computed in
// every row. Rows go through the second axis before the first moves on.
type Sweep struct {
	Axes  []Values
	Rows  int
	Every int // 1, or how many values of an axis were passed over for each that is taken
	Show  []*check.Def
	Rules []*check.Def // rules that the axes move, but for those that show nothing
	lab   *Lab
	of    *check.Study
	study run.Study
	in    map[*check.Def][]float64 // what else has other values meanwhile
}

// Sweep makes a vary line ready.
func (l *Lab) Sweep(s *check.Study) (w *Sweep, problem *Problem) {
	p, _ := l.over(&studied{}, s.In) // what is wrong with it is told where the study is answered
	_ = l.M.With(p.values, func() error {
		w, problem = l.sweep(s)
		return nil
	})
	if w != nil {
		w.in = p.values
	}
	return w, problem
}

func (l *Lab) sweep(s *check.Study) (*Sweep, *Problem) {
	w := &Sweep{lab: l, of: s, Every: 1, Show: s.Show}
	rows := 1
	for _, a := range s.Axes {
		v, problem := l.Values(a)
		if problem != nil {
			return nil, problem
		}
		w.Axes = append(w.Axes, v)
		if rows *= v.N; rows > MaxRows {
			return nil, &Problem{Part: a.From, Wrong: words.Say("the two ranges together make too many rows").
				With("take larger steps")}
		}
	}
	w.Rules = l.rulesMoved(inputs(s)...)
	w.ready()
	return w, nil
}

// ready lays the axes out over the rows.
func (w *Sweep) ready() {
	w.study = run.Study{Want: append(append([]*check.Def(nil), w.Show...), w.Rules...)}
	inner := 1
	for i := len(w.Axes) - 1; i >= 0; i-- {
		v, every := w.Axes[i], inner
		w.study.Replace(w.of.Axes[i].X, func(first int, dst []float64) {
			for j := range dst {
				dst[j] = v.At((first + j) / every % v.N)
			}
		})
		inner *= v.N
	}
	w.Rows, w.study.Rows = inner, inner
}

// ShowOnly leaves the rules out.
func (w *Sweep) ShowOnly() *Sweep {
	x := *w
	x.Rules = nil
	x.ready()
	return &x
}

// rulesAtATime is how many rules are computed in one go: all that is computed
// between has a register of its own.
const rulesAtATime = 1024

// Parts are sweeps over the same rows, the first with all that is shown and all
// of them together with all rules.
func (w *Sweep) Parts() []*Sweep {
	n := max(1, (len(w.Rules)+rulesAtATime-1)/rulesAtATime)
	all := make([]*Sweep, n)
	for i := range all {
		x := *w
		x.Rules = w.Rules[i*rulesAtATime : min((i+1)*rulesAtATime, len(w.Rules))]
		if i > 0 {
			x.Show = nil
		}
		x.lab = w.lab.within(float64(i)/float64(n), float64(i+1)/float64(n))
		x.ready()
		all[i] = &x
	}
	return all
}

// Thinned gives a sweep of no more than about so many rows over the same
// ranges, their ends included.
func (w *Sweep) Thinned(most int) *Sweep {
	x := *w
	x.Every = 1
	for x.Rows > most {
		x.Every = max(x.Every+1, int(math.Ceil(float64(x.Every)*math.Pow(float64(x.Rows)/float64(most),
			1/float64(len(w.Axes))))))
		x.Axes = nil
		for _, v := range w.Axes {
			n := (v.N-1+x.Every-1)/x.Every + 1
			x.Axes = append(x.Axes, Values{n, func(i int) float64 { return v.At(min(i*x.Every, v.N-1)) }})
		}
		x.ready()
	}
	return &x
}

// Limit says which side of a rule's comparison a shown value is, -1 for
// neither.
func Limit(rule, shown *check.Def) int {
	for i, side := range rule.Sides {
		if side.Node != nil && underneath(side) == underneath(shown) {
			return i
		}
	}
	return -1
}

// underneath follows bare names to the Def they repeat.
func underneath(d *check.Def) *check.Def {
	for d.Node != nil && d.Node.Op == check.Ref {
		d = d.Node.Def
	}
	return d
}

// Run computes the rows block by block: cols are the shown values and then the
// rules, good until sink returns.
func (w *Sweep) Run(ctx context.Context, sink func(first, n int, cols []*run.Col) error) error {
	return w.lab.M.With(w.in, func() error {
		return w.lab.M.Study(ctx, w.study, func(first, n int, cols []*run.Col) error {
			w.lab.tell(float64(first+n) / float64(w.Rows))
			return sink(first, n, cols)
		})
	})
}

// Axis gives the value of an axis in a row.
func (w *Sweep) Axis(i, row int) float64 {
	inner := 1
	for _, v := range w.Axes[i+1:] {
		inner *= v.N
	}
	return w.Axes[i].At(row / inner % w.Axes[i].N)
}
