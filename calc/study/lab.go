package study

import (
	"context"
	"math"

	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/view"
	"railsum/units/words"
)

// A Lab is a checked and computed set of lines to put questions to.
type Lab struct {
	view.View
	// Progress, if set, is told now and then which share of the work is done.
	Progress func(share float64)
}

// Problem is what is wrong with a study that only its values show: a range
// that is reversed, a step of nothing. Part says which part.
type Problem struct {
	Part     *check.Def
	NoAnswer bool // the part has none
	words.Wrong
}

// tell reports progress.
func (l *Lab) tell(share float64) {
	if l.Progress != nil {
		l.Progress(math.Min(share, 1))
	}
}

// within is the Lab for a part of the work, whose progress goes from one share
// of the whole to another.
func (l *Lab) within(from, to float64) *Lab {
	return &Lab{View: l.View, Progress: func(share float64) { l.tell(from + (to-from)*share) }}
}

// Sample is what became of a wanted Def in one row of a study: its value, or
// false if it has none.
type Sample struct {
	V  float64
	OK bool
}

// sample reads a row of a single value; what is not finite is no answer.
func sample(c *run.Col, w int) Sample {
	v, mk := c.At(0, w)
	return Sample{v, mk == 0 && finite(v)}
}

func finite(v float64) bool { return v-v == 0 }

// at computes the wanted Defs, all single values, with x at each of the given
// values.
func (l *Lab) at(ctx context.Context, x *check.Def, values []float64, want []*check.Def) ([][]Sample, error) {
	s := run.Study{Rows: len(values), Want: want}
	s.Replace(x, func(first int, dst []float64) { copy(dst, values[first:]) })
	return l.collect(ctx, s)
}

// collect runs a study and keeps all of its answers, one list per wanted Def.
func (l *Lab) collect(ctx context.Context, s run.Study) ([][]Sample, error) {
	out := make([][]Sample, len(s.Want))
	for i := range out {
		out[i] = make([]Sample, s.Rows)
	}
	err := l.M.Study(ctx, s, func(first, n int, cols []*run.Col) error {
		for i, c := range cols {
			for w := range n {
				out[i][first+w] = sample(c, w)
			}
		}
		return nil
	})
	return out, err
}

// value gives a Def's present single value.
func (l *Lab) value(d *check.Def) (float64, bool) {
	c := l.M.Col(d)
	if c == nil || len(c.V) == 0 {
		return 0, false
	}
	s := sample(c, 0)
	return s.V, s.OK
}

// list is the values of an axis that are listed, or those of a column. All of
// them must have an answer.
func (l *Lab) list(axis check.Axis) ([]float64, *Problem) {
	var xs []float64
	for _, d := range axis.Among {
		c := l.M.Col(d)
		if c == nil || c.Marks != nil || !allFinite(c.V) {
			return nil, l.unfit(d)
		}
		xs = append(xs, c.V...)
	}
	return xs, nil
}

// unfit says why a part of a study has no value to work with.
func (l *Lab) unfit(d *check.Def) *Problem {
	if c := l.M.Col(d); c != nil && c.Marks == nil && !allFinite(c.V) {
		return &Problem{Part: d, Wrong: words.Say("this is %s", function.Overflow.Words()).
			With(function.Overflow.Wrong().Cure)}
	}
	return &Problem{Part: d, NoAnswer: true}
}

func allFinite(v []float64) bool {
	for _, x := range v {
		if !finite(x) {
			return false
		}
	}
	return true
}

// rulesMoved are the rules of the notebook, and of the sheets it has placed,
// that depend on any of some Defs.
func (l *Lab) rulesMoved(by ...*check.Def) []*check.Def {
	moved := make([]bool, len(l.C.Order))
	for _, d := range by {
		moved[d.Order] = true
	}
	var all []*check.Def
	for i, d := range l.C.Order {
		for _, dep := range d.Deps {
			if moved[dep.Order] {
				moved[i] = true
				break
			}
		}
		if d.OfLine && moved[i] {
			all = append(all, d)
		}
	}
	return all
}

// upstream marks, by their order, the Defs that a Def depends on, itself
// included.
func (l *Lab) upstream(d *check.Def) []bool {
	seen := make([]bool, len(l.C.Order))
	open := []*check.Def{d}
	seen[d.Order] = true
	for len(open) > 0 {
		d := open[len(open)-1]
		open = open[:len(open)-1]
		for _, dep := range d.Deps {
			if !seen[dep.Order] {
				seen[dep.Order] = true
				open = append(open, dep)
			}
		}
	}
	return seen
}
