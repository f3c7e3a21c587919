package study

import (
	"math"

	"railsum/calc/check"
	"railsum/units/words"
)

// Where only whole numbers mean anything, a search looks at every one of them
// and at nothing between.

const (
	mostWhole  = 1_000_000 // that are looked at
	usualWhole = 100_000   // how far is looked where nobody said
	belowWhole = 1_000     // and how far below nothing, where that can be
)

// wholes looks at all whole numbers of the range.
func (f *finder) wholes(axis check.Axis) (*Problem, error) {
	lo, hi, ok := f.bounds(axis)
	now, has := f.lab.value(axis.X)
	switch {
	case ok:
		lo, hi = math.Ceil(lo-nearWhole), math.Floor(hi+nearWhole)
	default:
		f.found.Grown = true
		lo, hi = 0, usualWhole
		if !axis.X.Whole || has && now < 0 {
			lo = -belowWhole
		}
		if has {
			lo, hi = math.Min(lo, math.Floor(now)), math.Max(hi, math.Ceil(now))
		}
	}
	switch {
	case lo > hi:
		return &Problem{Part: axis.From, Wrong: words.Say("there is no whole number in this range").
			With("write whole numbers as its ends")}, nil
	case hi-lo >= mostWhole:
		return &Problem{Part: axis.From, Wrong: words.Say("there are more than %d whole numbers in this range", mostWhole).
			With("narrow it")}, nil
	}
	xs := make([]float64, int(hi-lo)+1)
	for i := range xs {
		xs[i] = lo + float64(i)
	}
	f.found.From, f.found.To = lo, hi
	points, err := f.look(xs)
	if err != nil {
		return nil, err
	}
	f.runs(points)
	return nil, nil
}

const nearWhole = 1e-9

// runs tells the stretches of numbers in which the comparison holds, and how
// near it comes if it holds for none.
func (f *finder) runs(points []point) {
	f.found.All = true
	for i, p := range points {
		if !f.holds(p) {
			f.found.All = false
			continue
		}
		n := len(f.found.Spans) - 1
		if n >= 0 && i > 0 && f.found.Spans[n].To == points[i-1].x {
			f.found.Spans[n].To, f.found.Spans[n].AtTo = p.x, i == len(points)-1
			continue
		}
		if len(f.found.Spans) == f.most {
			f.found.More = true
			break
		}
		f.found.Spans = append(f.found.Spans, stretch{From: p.x, To: p.x, AtFrom: i == 0, AtTo: i == len(points)-1})
	}
	if len(f.found.Spans) == 0 {
		f.found.Near = nearestOf(points)
	}
}
