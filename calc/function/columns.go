package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
)

// columns is what gathers a column into one value.
func columns() []*Function {
	return []*Function{
		{
			Name: "sum", Args: "sum(column)", Group: "columns",
			Meaning: "all rows of a column added up; of no rows it is nothing",
			Example: "sum(coaches.length)", Answer: "71.4 m",
			takes: arity{1, 0},
			rule: gathering("a + b", func(f *Function, a Arg) (types.Type, *TypeError) {
				if a.Kind == types.Point {
					return wrong(0, say("temperatures cannot be added up").
						With(fmt.Sprintf("use mean: `mean(%s)`", said(a.Expr, "x"))))
				}
				return numeric(f, a)
			}),
			Down: sum,
		},
		{
			Name: "mean", Args: "mean(column) or mean(a, b, …)", Group: "columns",
			Meaning: "the mean of all rows of a column, which must have some; or of several values, row by row if they are columns",
			Example: "mean(20 degC, 27 degC)", Answer: "23.5 °C",
			takes: arity{1, 0},
			rule: func(f *Function, args []Arg) (types.Type, *TypeError) {
				if len(args) > 1 {
					return alike(f, args)
				}
				return gathering("", measured)(f, args)
			},
			Down: mean,
			variant: func(f *Function, args []Arg) {
				if len(args) > 1 {
					f.Down, f.Many = nil, mean
				}
			},
		},
		{
			Name: "least", Args: "least(column)", Group: "columns",
			Meaning: "the smallest value of a column, which must have rows; the smaller of two values is min(a, b)",
			Example: "least(coaches.length)", Answer: "20 m",
			takes: arity{1, 0}, rule: gathering("min(a, b)", ordered),
			Down: func(_ *World, x []float64) (float64, Fault) {
				if len(x) == 0 {
					return 0, NoRows
				}
				return least(x), Sound
			},
		},
		{
			Name: "most", Args: "most(column)", Group: "columns",
			Meaning: "the largest value of a column, which must have rows; the larger of two values is max(a, b)",
			Example: "most(coaches.length)", Answer: "27.2 m",
			takes: arity{1, 0}, rule: gathering("max(a, b)", ordered),
			Down: func(_ *World, x []float64) (float64, Fault) {
				if len(x) == 0 {
					return 0, NoRows
				}
				return most(x), Sound
			},
		},
		{
			Name: "count", Args: "count(column)", Group: "columns",
			Meaning: "how many rows of a condition say yes; of any other column, how many rows it has",
			Example: "count(coaches.length > 22 m)", Answer: "2",
			takes: arity{1, 0},
			rule: gathering("", func(*Function, Arg) (types.Type, *TypeError) {
				return types.Plain, nil
			}),
			Down: func(_ *World, x []float64) (float64, Fault) { return float64(len(x)), Sound },
			variant: func(f *Function, args []Arg) {
				if args[0].Kind == types.Truth {
					f.Down = sum // a yes is 1
				}
			},
		},
	}
}

// gathering is the rule of what takes one column; several says how to write it
// for several values.
func gathering(several string, then func(f *Function, column Arg) (types.Type, *TypeError)) rule {
	cure := "a column is a table's name and a head, as in fleet.draw"
	if several != "" {
		cure += fmt.Sprintf("; for several values write `%s`", several)
	}
	return func(f *Function, args []Arg) (types.Type, *TypeError) {
		switch a := args[0]; {
		case len(args) > 1:
			return wrong(-1, say("%s gathers one column and is given %s", f.Name, values(len(args))).With(cure))
		case a.Of == nil:
			return wrong(0, say("%s gathers a column; %s is one value", f.Name, said(a.Expr, "this")).With(cure))
		default:
			return then(f, a)
		}
	}
}

// measured wants what lies on a scale, and has a middle.
func measured(f *Function, a Arg) (types.Type, *TypeError) {
	if a.Kind == types.Point {
		return a.Scalar(), nil
	}
	return numeric(f, a)
}

// ordered wants what has an earlier and a later, or a smaller and a larger.
func ordered(f *Function, a Arg) (types.Type, *TypeError) {
	if a.Kind == types.Date {
		return a.Scalar(), nil
	}
	return measured(f, a)
}

func numeric(f *Function, a Arg) (types.Type, *TypeError) {
	if a.Kind == types.Number {
		return a.Scalar(), nil
	}
	cure := ""
	if a.Kind == types.Truth {
		cure = fmt.Sprintf("to count the yes write `count(%s)`", said(a.Expr, "x"))
	}
	return wrong(0, say("%s takes a column of numbers, and its rows hold %s", f.Name, a.Words()).With(cure))
}

// add is a step of Neumaier's compensated sum, which is total + lost: many
// small currents beside a large one are not lost, and the order of the rows
// does not matter.
func add(total, lost, v float64) (newTotal, newLost float64) {
	t := total + v
	if math.Abs(total) >= math.Abs(v) {
		return t, lost + ((total - t) + v)
	}
	return t, lost + ((v - t) + total)
}

func sum(_ *World, x []float64) (float64, Fault) {
	total, lost := 0.0, 0.0
	for _, v := range x {
		total, lost = add(total, lost, v)
	}
	if math.IsInf(total, 0) || math.IsNaN(total) {
		return 0, Overflow
	}
	return sound(total + lost)
}

func mean(w *World, x []float64) (float64, Fault) {
	if len(x) == 0 {
		return 0, NoRows
	}
	total, fault := sum(w, x)
	return total / float64(len(x)), fault
}

func least(x []float64) float64 {
	m := x[0]
	for _, v := range x[1:] {
		m = min(m, v)
	}
	return m
}

func most(x []float64) float64 {
	m := x[0]
	for _, v := range x[1:] {
		m = max(m, v)
	}
	return m
}
