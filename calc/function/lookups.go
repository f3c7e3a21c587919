package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
)

// lookups are the only functions that see two tables: the result has the shape
// of the key, the columns are of one other table, in any order of rows.
func lookups() []*Function {
	return []*Function{
		{
			Name: "next_up", Args: "next_up(column, need) or next_up(column, need, otherwise)", Group: "look-ups",
			Meaning: "the smallest value of a column that is not below the need; if all are below, otherwise, or no answer where it is not given",
			Example: "next_up(conductors.area, 1.7 mm2)", Answer: "2.5 mm²",
			takes: arity{2, 3}, rule: nextRule, Key: 1,
			Seek: func(_ *World, need float64, columns [][]float64) (float64, Fault) {
				best := math.Inf(1)
				for _, v := range columns[0] {
					if v < best && notBelow(v, need) {
						best = v
					}
				}
				return found(best, columns[1:])
			},
		},
		{
			Name: "next_down", Args: "next_down(column, need) or next_down(column, need, otherwise)", Group: "look-ups",
			Meaning: "the largest value of a column that is not above the need; if all are above, otherwise, or no answer where it is not given",
			Example: "next_down(conductors.area, 1.7 mm2)", Answer: "1.5 mm²",
			takes: arity{2, 3}, rule: nextRule, Key: 1,
			Seek: func(_ *World, need float64, columns [][]float64) (float64, Fault) {
				best := math.Inf(-1)
				for _, v := range columns[0] {
					if v > best && notBelow(need, v) {
						best = v
					}
				}
				return found(best, columns[1:])
			},
		},
		{
			Name: "lookup", Args: "lookup(key, column, column2) or lookup(key, column, column2, otherwise)", Group: "look-ups",
			Meaning: "column2 in the first row in which column is the key, a text or a number; if there is none, otherwise, or no answer where it is not given",
			Example: `lookup("B", coaches.label, coaches.length)`, Answer: "24.2 m",
			takes: arity{3, 4}, rule: lookupRule,
			Seek: func(_ *World, key float64, columns [][]float64) (float64, Fault) {
				for i, v := range columns[0] {
					if same(v, key) {
						return columns[1][i], Sound
					}
				}
				return otherwise(columns[2:])
			},
		},
		{
			Name: "between", Args: "between(x, column_x, column_y)", Group: "look-ups",
			Meaning: "column_y at x, on the straight line between the nearest rows of column_x on either side; no answer outside of them",
			Example: "between(1.2 mm2, conductors.area, conductors.flexible) as ohm/km", Answer: "17.02 Ω/km",
			takes: arity{3, 3}, rule: betweenRule,
			Seek: between,
		},
	}
}

func nextRule(f *Function, args []Arg) (types.Type, *TypeError) {
	column, need := args[0], args[1]
	if err := wantsColumn(f, args, 0); err != nil {
		return types.Type{}, err
	}
	if t, err := ordered(f, column); err != nil {
		return t, err
	}
	if !fitsColumn(need, column) {
		return wrong(1, say("the column holds %s, and the need is %s", column.Words(), need.Words()))
	}
	return column.Scalar(), wantsOtherwise(args, 2, column)
}

func lookupRule(f *Function, args []Arg) (types.Type, *TypeError) {
	if err := wantsPair(f, args); err != nil {
		return types.Type{}, err
	}
	key, column := args[0], args[1]
	if !fitsColumn(key, column) {
		return wrong(0, say("the column holds %s, and the key is %s", column.Words(), key.Words()))
	}
	return args[2].Scalar(), wantsOtherwise(args, 3, args[2])
}

func betweenRule(f *Function, args []Arg) (types.Type, *TypeError) {
	if err := wantsPair(f, args); err != nil {
		return types.Type{}, err
	}
	x, columnX, columnY := args[0], args[1], args[2]
	for i, a := range args[1:] {
		if _, err := measured(f, a); err != nil {
			err.Arg = i + 1
			return types.Type{}, err
		}
	}
	if !fitsColumn(x, columnX) {
		return wrong(0, say("%s holds %s, and x is %s", said(columnX.Expr, "column_x"), columnX.Words(), x.Words()))
	}
	return columnY.Scalar(), nil
}

// fitsColumn says that a key can be among the values of a column. A literal 0
// is a quantity of any dimension.
func fitsColumn(key, column Arg) bool {
	return sameKind(key.Type, column.Type) || isZero(key) && column.Kind == types.Number
}

func wantsColumn(f *Function, args []Arg, i int) *TypeError {
	if args[i].Of != nil {
		return nil
	}
	cure := "a column is a table's name and a head, as in wires.area"
	for _, a := range args {
		if a.Of != nil {
			cure = fmt.Sprintf("its form is `%s`", f.Args)
		}
	}
	_, err := wrong(i, say("%s looks in a column, and %s is one value", f.Name, said(args[i].Expr, "this")).With(cure))
	return err
}

// wantsOtherwise wants argument i, if there is one, to be a value that could
// stand in the column. It is one for all keys.
func wantsOtherwise(args []Arg, i int, column Arg) *TypeError {
	if i >= len(args) {
		return nil
	}
	a := args[i]
	var err *TypeError
	switch {
	case a.Of != nil:
		_, err = wrong(i, say("what stands in for a missing row is one value, and %s is a column", said(a.Expr, "this")).
			With("give one value for all rows"))
	case !fitsColumn(a, column):
		_, err = wrong(i, say("the column holds %s, and what stands in for a missing row is %s", column.Words(), a.Words()))
	}
	return err
}

// otherwise is what a look-up gives where no row matches: what is given for
// that, if anything.
func otherwise(given [][]float64) (float64, Fault) {
	if len(given) == 0 {
		return 0, NoMatch
	}
	return given[0][0], Sound
}

// wantsPair wants two columns of one table after the key.
func wantsPair(f *Function, args []Arg) *TypeError {
	for i := 1; i <= 2; i++ {
		if err := wantsColumn(f, args, i); err != nil {
			return err
		}
	}
	if x, y := args[1].Of, args[2].Of; x != y {
		_, err := wrong(2, say("the columns are of two tables, %s and %s", x.Name, y.Name).
			With("take both columns from one table"))
		return err
	}
	return nil
}

// found is the best of a column, or what is given for where there is none.
func found(best float64, given [][]float64) (float64, Fault) {
	if math.IsInf(best, 0) {
		return otherwise(given)
	}
	return best, Sound
}

// between interpolates between the nearest row not above x and the nearest not
// below it.
func between(_ *World, x float64, columns [][]float64) (float64, Fault) {
	xs, ys := columns[0], columns[1]
	lo, hi := -1, -1
	for i, v := range xs {
		if notBelow(x, v) && (lo < 0 || v > xs[lo]) {
			lo = i
		}
		if notBelow(v, x) && (hi < 0 || v < xs[hi]) {
			hi = i
		}
	}
	if lo < 0 || hi < 0 {
		return 0, NoMatch
	}
	width := xs[hi] - xs[lo]
	switch {
	case width <= 0:
		return ys[lo], Sound
	case math.IsInf(width, 0):
		return 0, Overflow
	}
	t := (x - xs[lo]) / width
	return sound(ys[lo]*(1-t) + ys[hi]*t)
}
