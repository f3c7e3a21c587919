package function

import (
	"fmt"
	"math"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// rounding is what goes to whole numbers or to the multiples of a step. A
// quantity is never rounded without a step: 28.7 mm is 0.0287 m, and whoever
// wants it "rounded up" does not want a metre.
func rounding() []*Function {
	return []*Function{
		{
			Name: "floor", Args: "floor(x) or floor(x, step)", Group: "mathematics",
			Meaning: "down to a whole number, or to a multiple of a step",
			Example: "floor(28.7 mm, 10 mm)", Answer: "20 mm",
			takes: arity{1, 2}, rule: toStep, Many: stepping(floor),
		},
		{
			Name: "ceil", Args: "ceil(x) or ceil(x, step)", Group: "mathematics",
			Meaning: "up to a whole number, or to a multiple of a step",
			Example: "ceil(28.7 mm, 10 mm)", Answer: "30 mm",
			takes: arity{1, 2}, rule: toStep,
			Many: stepping(func(x float64) float64 { return -floor(-x) }),
		},
		{
			Name: "round", Args: "round(x) or round(x, step)", Group: "mathematics",
			Meaning: "to the nearest whole number, or multiple of a step; halves go away from nothing",
			Example: "round(3.456 V, 0.05 V)", Answer: "3.45 V",
			takes: arity{1, 2}, rule: toStep,
			Many: stepping(round),
		},
		{
			Name: "trunc", Args: "trunc(x) or trunc(x, step)", Group: "mathematics",
			Meaning: "towards nothing, to a whole number or to a multiple of a step",
			Example: "trunc(-2.7)", Answer: "-2",
			takes: arity{1, 2}, rule: toStep,
			Many: stepping(func(x float64) float64 { return math.Copysign(floor(math.Abs(x)), x) }),
		},
		{
			Name: "mod", Args: "mod(a, b)", Group: "mathematics",
			Meaning: "what is left of a after taking b from it as often as div(a, b) says; it has the sign of b",
			Example: "mod(250 cm, 100 cm)", Answer: "500 mm",
			takes: arity{2, 2}, rule: likeNumbers,
			Two: func(_ *World, a, b float64) (float64, Fault) {
				_, rest, fault := divide(a, b)
				return rest, fault
			},
		},
		{
			Name: "div", Args: "div(a, b)", Group: "mathematics",
			Meaning: "how many whole times b goes into a, rounded down",
			Example: "div(250 cm, 100 cm)", Answer: "2",
			takes: arity{2, 2},
			rule: func(f *Function, args []Arg) (types.Type, *TypeError) {
				_, err := likeNumbers(f, args)
				return types.Plain, err
			},
			Two: func(_ *World, a, b float64) (float64, Fault) {
				times, _, fault := divide(a, b)
				return times, fault
			},
		},
	}
}

// toStep is the rule of rounding: a plain number, or a quantity and a step of
// its dimension.
func toStep(f *Function, args []Arg) (types.Type, *TypeError) {
	x := args[0]
	if x.Kind == types.Point {
		t := said(x.Expr, "t")
		return wrong(0, say("%s has no whole numbers of %s", f.Name, x.Words()).
			With(fmt.Sprintf("round its distance from a point: `0 degC + %s(%s - 0 degC, 1 K)`", f.Name, t)))
	}
	if len(args) == 2 {
		return likeNumbers(f, args)
	}
	if err := wantsNumber(f, 0, x); err != nil {
		return types.Type{}, err
	}
	unit := x.Dim.String()
	step := "1 " + unit
	if unit == "m" {
		step = "10 mm"
	}
	if lit, ok := bare(x.Expr).(*syntax.Literal); ok && !lit.Unit.IsZero() && lit.Form == syntax.Quantity {
		unit = lit.Unit.String()
		step = "1 " + unit
	}
	if x.Dim.IsPlain() && unit == "" {
		return types.Plain, nil
	}
	cure := fmt.Sprintf("say the step, as in `%s(%s, %s)`", f.Name, said(x.Expr, "x"), step)
	return wrong(0, say("%s does not say to what it rounds %s", f.Name, x.Words()).With(cure))
}

// stepping makes the kernel of a rounding to whole numbers or, if there is a
// second argument, to its multiples.
func stepping(to func(float64) float64) func(*World, []float64) (float64, Fault) {
	return func(_ *World, x []float64) (float64, Fault) {
		if len(x) == 1 {
			return to(x[0]) + 0, Sound
		}
		step := math.Abs(x[1])
		if step == 0 {
			return 0, ByNothing
		}
		return sound(multiple(to(x[0]/step)+0, step))
	}
}

// multiple is n times a step. Where the step is one part of a whole number, as
// 0.01 is, dividing gives the very number that is written for it: 3 steps of
// 0.1 are 0.3, and 3 * 0.1 is not.
func multiple(n, step float64) float64 {
	if parts := math.Round(1 / step); parts >= 1 && parts < 1e15 && same(1/step, parts) {
		return n / parts
	}
	return n * step
}

// floor rounds down, and takes for whole what is within the tolerance of a
// whole number: 0.3 / 0.1 is a rounding error short of 3.
func floor(x float64) float64 {
	if n, ok := whole(x); ok {
		return n
	}
	return math.Floor(x)
}

// round goes to the nearest whole number, and a half, or what is one but for
// rounding, away from nothing.
func round(x float64) float64 {
	if n := math.Trunc(x); n == x {
		return n
	}
	return math.Copysign(floor(math.Abs(x)+0.5), x)
}

// whole gives the whole number that x is, if it is one but for rounding. The
// tolerance is that of a comparison, 1e-12 of x, but never more than what
// could still be meant by a fraction.
func whole(x float64) (float64, bool) {
	const most = 1e-6
	n := math.Round(x)
	return n, math.Abs(x-n) <= min(tolerance*math.Abs(x), most)
}

// Whole hands a whole number on and has no answer for any other. It is no
// function that can be called: check puts it where a value is held to be whole.
var Whole = &Function{Name: "whole", One: func(_ *World, x float64) (float64, Fault) {
	if !IsWhole(x) {
		return 0, NotWhole
	}
	return math.Round(x), Sound
}}

// Nothing has no answer, and that is no error: the word none. It is no function
// that can be called.
var Nothing = &Function{Name: "none", Many: func(*World, []float64) (float64, Fault) { return 0, None }}

// Warm hands a temperature on if there can be such a one. It is no function that
// can be called, as Whole is none.
var Warm = &Function{Name: "warm", One: func(_ *World, x float64) (float64, Fault) {
	const rounding = 1e-9
	if x < -rounding {
		return 0, TooCold
	}
	return max(x, 0), Sound
}}

// IsWhole reports whether a value counts as a whole number where one must be.
func IsWhole(x float64) bool {
	const near = 1e-9
	return math.Abs(x-math.Round(x)) <= near
}

// tolerance is the difference, as a share of the larger, within which values
// are equal (as in the language's comparisons).
const tolerance = 1e-12

func same(a, b float64) bool {
	return a == b || math.Abs(a-b) <= tolerance*max(math.Abs(a), math.Abs(b))
}

// notBelow is a >= b in the sense of same.
func notBelow(a, b float64) bool { return a >= b || same(a, b) }

// divide is floor division: times is whole and rest has the sign of b. It is
// exact for whole numbers; for others a quotient that is whole but for
// rounding leaves nothing.
func divide(a, b float64) (times, rest float64, fault Fault) {
	if b == 0 {
		return 0, 0, ByNothing
	}
	quotient, fault := sound(a / b)
	if fault != Sound {
		return 0, 0, fault
	}
	rest = math.Mod(a, b)
	if rest != 0 && (rest < 0) != (b < 0) {
		rest += b
	}
	if a != math.Trunc(a) || b != math.Trunc(b) {
		if n, ok := whole(quotient); ok {
			return n, 0, Sound
		}
	}
	return math.Round((a-rest)/b) + 0, rest + 0, Sound
}
