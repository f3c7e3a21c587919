package study

import (
	"context"

	"railsum/calc/check"
	"railsum/calc/run"
)

// A Lab is a checked and computed set of lines to put questions to.
type Lab struct {
	C *check.Checked
	M *run.Machine
	// Progress, if set, is told now and then which share of the work is done.
	Progress func(share float64)
}

// Sample is what became of a wanted Def in one row of a study: its value, or
// false if it has none.
type Sample struct {
	V  float64
	OK bool
}

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
				v, mk := c.At(0, w)
				out[i][first+w] = Sample{v, mk == 0}
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
	v, mk := c.At(0, 0)
	return v, mk == 0
}

// rules are the rules of the notebook and of the sheets it has placed.
func (l *Lab) rules() []*check.Def {
	var all []*check.Def
	for _, d := range l.C.Order {
		if d.Listed {
			all = append(all, d)
		}
	}
	return all
}
