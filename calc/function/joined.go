package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
	"railsum/units"
)

// joined is what parts make that are joined: side by side, or one after the
// other. Resistances and inductances are sums in a row; of capacitances it is
// the other way round.
func joined() []*Function {
	return []*Function{
		{
			Name: "parallel", Args: "parallel(a, b, …)", Group: "the trade",
			Meaning: "resistances side by side, row by row if they are columns; those of one column are 1 / sum(1 / x). " +
				"So it goes for inductances that do not act on one another; capacitances side by side add up",
			Source:  "Kirchhoff's laws",
			Example: "parallel(36 ohm, 50 ohm, 700 ohm)", Answer: "20.32 Ω",
			takes: arity{1, 0}, rule: joinedRule,
			Many: parallel,
			variant: func(f *Function, args []Arg) {
				if joins(args) == dimOf("F") {
					f.Many = inRow
				}
			},
		},
		{
			Name: "series", Args: "series(a, b, …)", Group: "the trade",
			Meaning: "resistances one after the other: their sum. So it goes for inductances that do not act on one another; " +
				"capacitances in a row combine as resistances do side by side",
			Source:  "Kirchhoff's laws",
			Example: "series(100 uF, 47 uF)", Answer: "31.97 µF",
			takes: arity{1, 0}, rule: joinedRule,
			Many: inRow,
			variant: func(f *Function, args []Arg) {
				if joins(args) == dimOf("F") {
					f.Many = parallel
				}
			},
		},
	}
}

// joins is the dimension of what is joined: that of the first that is not
// nothing, a resistance if all are.
func joins(args []Arg) units.Dim {
	for _, a := range args {
		if !isZero(a) {
			return a.Dim
		}
	}
	return dimOf("ohm")
}

func joinedRule(f *Function, args []Arg) (types.Type, *TypeError) {
	dim := joins(args)
	for i, a := range args {
		switch {
		case isZero(a):
		case a.Kind != types.Number || a.Dim != dimOf("ohm") && a.Dim != dimOf("F") && a.Dim != dimOf("H"):
			cure := ""
			if _, text, ok := literal(a.Expr); ok {
				cure = fmt.Sprintf("write `%s ohm`", text)
			}
			return wrong(i, say("%s takes resistances, capacitances or inductances, not %s", f.Name, a.Words()).With(cure))
		case a.Dim != dim:
			return wrong(i, say("%s joins parts of one kind, and %s does not go with %s", f.Name, a.Words(), args[0].Words()))
		}
	}
	if len(args) == 1 {
		cure := "its form is `" + f.Args + "`"
		if args[0].Of != nil && f.Name == "parallel" && dim != dimOf("F") {
			cure = fmt.Sprintf("of a column write `1 / sum(1 / %s)`", said(args[0].Expr, "x"))
		} else if args[0].Of != nil {
			cure = fmt.Sprintf("of a column write `sum(%s)`", said(args[0].Expr, "x"))
		}
		return wrong(-1, say("%s takes two values or more and is given one", f.Name).With(cure))
	}
	return types.Type{Kind: types.Number, Dim: dim}, nil
}

// parallel takes the smaller over the larger at each step, which neither
// overflows nor loses figures.
func parallel(_ *World, x []float64) (float64, Fault) {
	r := math.Inf(1)
	for _, v := range x {
		switch {
		case v < 0:
			return 0, OutOfDomain
		case v == 0:
			r = 0
		case r > 0:
			small, large := min(r, v), max(r, v)
			r = small / (1 + small/large)
		}
	}
	return r, Sound
}

func inRow(_ *World, x []float64) (float64, Fault) {
	sum := 0.0
	for _, v := range x {
		if v < 0 {
			return 0, OutOfDomain
		}
		sum += v
	}
	return sound(sum)
}
