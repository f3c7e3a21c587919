package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
)

// inOrder is what depends on the order of a column's rows: what goes along it
// and gives each row its own value, and what asks for a row by its place.
func inOrder() []*Function {
	return []*Function{
		{
			Name: "running", Args: "running(column)", Group: "columns",
			Meaning: "the running sum down a column: each row with all rows before it; the last is sum(column)",
			Example: "last(running(coaches.length))", Answer: "71.4 m",
			takes: arity{1, 1}, rule: differing, Along: running,
		},
		{
			Name: "steps", Args: "steps(column)", Group: "columns",
			Meaning: "each row of a column less the row before it, and the first as it is; running(steps(column)) is the column again",
			Example: "first(steps(coaches.length))", Answer: "20 m",
			takes: arity{1, 1}, rule: differing, Along: steps,
		},
		{
			Name: "row_number", Args: "row_number(column)", Group: "columns",
			Meaning: "1 for the first row of a column, 2 for the next, and so on, whatever the rows hold",
			Example: "last(row_number(coaches.length))", Answer: "3",
			takes: arity{1, 1},
			rule: gathering("", func(*Function, Arg) (types.Type, *TypeError) {
				return types.Plain, nil
			}),
			Along: func(_ *World, _, _, out []float64) Fault {
				for i := range out {
					out[i] = float64(i + 1)
				}
				return Sound
			},
		},
		{
			Name: "bin_of", Args: "bin_of(column, size)", Group: "columns",
			Meaning: "the number, from 1, of the bin that each row goes into when the rows are put away in their order, each into the first bin that still has room; " +
				"a row larger than the size has a bin of its own, and the bins needed are most(bin_of(column, size))",
			Example: "most(bin_of(coaches.length, 50 m))", Answer: "2",
			takes: arity{2, 2}, rule: binRule, Along: firstFit,
		},
		{
			Name: "first", Args: "first(column)", Group: "columns",
			Meaning: "the first row of a column, a number, a text or yes and no; the column must have rows",
			Example: "first(coaches.length)", Answer: "20 m",
			takes: arity{1, 1}, rule: gathering("", oneRow),
			Down: func(_ *World, x []float64) (float64, Fault) {
				if len(x) == 0 {
					return 0, NoRows
				}
				return x[0], Sound
			},
		},
		{
			Name: "last", Args: "last(column)", Group: "columns",
			Meaning: "the last row of a column, a number, a text or yes and no; the column must have rows",
			Example: "last(coaches.length)", Answer: "27.2 m",
			takes: arity{1, 1}, rule: gathering("", oneRow),
			Down: func(_ *World, x []float64) (float64, Fault) {
				if len(x) == 0 {
					return 0, NoRows
				}
				return x[len(x)-1], Sound
			},
		},
		{
			Name: "is_ascending", Args: "is_ascending(column)", Group: "columns",
			Meaning: "yes if no row of a column is below the row before it; equal rows are allowed, and a column of one row or none ascends",
			Example: "is_ascending(conductors.area)", Answer: "yes",
			takes: arity{1, 1},
			rule: gathering("", func(f *Function, a Arg) (types.Type, *TypeError) {
				_, err := ordered(f, a)
				return types.Type{Kind: types.Truth}, err
			}),
			Down: ascending,
		},
	}
}

// oneRow gives what a row of the column is.
func oneRow(_ *Function, a Arg) (types.Type, *TypeError) { return a.Scalar(), nil }

// differing wants a column of what can be added up and taken from one another.
func differing(f *Function, args []Arg) (types.Type, *TypeError) {
	return gathering("", func(f *Function, a Arg) (types.Type, *TypeError) {
		switch a.Kind {
		case types.Number:
			return a.Scalar(), nil
		case types.Point:
			return wrong(0, say("%s takes a column that can be added up, and its rows hold temperatures", f.Name).
				With(fmt.Sprintf("take the differences from a point: `%s - 0 degC`", said(a.Expr, "t"))))
		case types.Truth:
			return wrong(0, say("%s takes a column of numbers, and its rows hold yes or no", f.Name).
				With(fmt.Sprintf("make numbers of it: `if %s then 1 else 0`", said(a.Expr, "x"))))
		}
		return numeric(f, a)
	})(f, args)
}

func running(_ *World, column, _, out []float64) Fault {
	total, lost := 0.0, 0.0
	for i, v := range column {
		total, lost = add(total, lost, v)
		sum, fault := sound(total + lost)
		if fault != Sound {
			return Overflow
		}
		out[i] = sum
	}
	return Sound
}

func steps(_ *World, column, _, out []float64) Fault {
	before := 0.0
	for i, v := range column {
		step, fault := sound(v - before)
		if fault != Sound {
			return fault
		}
		out[i], before = step, v
	}
	return Sound
}

func ascending(_ *World, x []float64) (float64, Fault) {
	for i := 1; i < len(x); i++ {
		if !notBelow(x[i], x[i-1]) {
			return 0, Sound
		}
	}
	return 1, Sound
}

func binRule(f *Function, args []Arg) (types.Type, *TypeError) {
	column, size := args[0], args[1]
	if column.Of == nil {
		return wrong(0, say("%s goes down a column; %s is one value", f.Name, said(column.Expr, "this")).
			With(fmt.Sprintf("its form is `%s`", f.Args)))
	}
	if _, err := differing(f, args[:1]); err != nil {
		return types.Type{}, err
	}
	if size.Of != nil {
		return wrong(1, say("all bins are of one size, and %s is a column", said(size.Expr, "this")).
			With("for the room in the smallest write `least(…)`"))
	}
	if size.Kind != types.Number || size.Dim != column.Dim {
		return wrong(1, say("the column holds %s, and the size is %s", column.Words(), size.Words()))
	}
	if v, text, ok := literal(size.Expr); ok && v <= 0 {
		return wrong(1, say("a bin of size %s holds nothing", text))
	}
	return types.Plain, nil
}

// firstFit puts each row into the first bin with room, in the time of n log n:
// room is a tree whose leaves are the bins and whose nodes know the most room
// below them. All bins are there from the start, so that the first empty one
// needs no rule of its own.
func firstFit(_ *World, column, further, out []float64) Fault {
	size := further[0]
	if size <= 0 {
		return OutOfDomain
	}
	leaves := 1
	for leaves < len(column) {
		leaves *= 2
	}
	room := make([]float64, 2*leaves)
	for i := range room {
		room[i] = size
	}
	slack := tolerance * size // full but for rounding still fits
	opened := 0
	for i, v := range column {
		if v < 0 {
			return OutOfDomain
		}
		at := leaves + opened
		if v <= size+slack {
			at = 1
			for at < leaves {
				at *= 2
				if room[at]+slack < v {
					at++
				}
			}
		}
		bin := at - leaves
		opened = max(opened, bin+1)
		out[i] = float64(bin + 1)
		for room[at] -= v; at > 1; at /= 2 {
			room[at/2] = math.Max(room[at], room[at^1])
		}
	}
	return Sound
}
