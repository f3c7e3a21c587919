package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
)

// mathematics is what needs neither an angle nor a step.
func mathematics() []*Function {
	return []*Function{
		{
			Name: "abs", Args: "abs(x)", Group: "mathematics",
			Meaning: "x without its sign",
			Example: "abs(12 V - 15 V)", Answer: "3 V",
			takes: arity{1, 1}, rule: quantity,
			One: func(_ *World, x float64) (float64, Fault) { return math.Abs(x), Sound },
		},
		{
			Name: "sign", Args: "sign(x)", Group: "mathematics",
			Meaning: "1 if x is above nothing, -1 if below, 0 if it is nothing",
			Example: "sign(12 V - 15 V)", Answer: "-1",
			takes: arity{1, 1},
			rule: func(f *Function, args []Arg) (types.Type, *TypeError) {
				return types.Plain, wantsNumber(f, 0, args[0])
			},
			One: sign,
		},
		{
			Name: "sqrt", Args: "sqrt(x)", Group: "mathematics",
			Meaning: "the square root; that of an area is a length. A negative number has none",
			Example: "sqrt(16 mm2)", Answer: "4 mm",
			takes: arity{1, 1}, rule: rootOf(2),
			One: func(_ *World, x float64) (float64, Fault) {
				if x < 0 {
					return 0, EvenRoot
				}
				return math.Sqrt(x), Sound
			},
		},
		{
			Name: "cbrt", Args: "cbrt(x)", Group: "mathematics",
			Meaning: "the cube root; that of a volume is a length",
			Example: "cbrt(27 cm3)", Answer: "30 mm",
			takes: arity{1, 1}, rule: rootOf(3),
			One: func(_ *World, x float64) (float64, Fault) { return math.Cbrt(x), Sound },
		},
		{
			Name: "exp", Args: "exp(x)", Group: "mathematics",
			Meaning: "e to the power x, of a plain number such as the quotient of two times",
			Example: "exp(-5 ms / 10 ms)", Answer: "0.6065",
			takes: arity{1, 1}, rule: plain,
			One: func(_ *World, x float64) (float64, Fault) { return sound(math.Exp(x)) },
		},
		{
			Name: "ln", Args: "ln(x)", Group: "mathematics",
			Meaning: "the natural logarithm of a plain number above nothing",
			Example: "ln(15 V / 1.5 V)", Answer: "2.303",
			takes: arity{1, 1}, rule: plain,
			One: logarithm(math.Log),
		},
		{
			Name: "log10", Args: "log10(x)", Group: "mathematics",
			Meaning: "the logarithm to the base 10 of a plain number above nothing",
			Example: "log10(1000)", Answer: "3",
			takes: arity{1, 1}, rule: plain,
			One: logarithm(log10),
		},
		{
			Name: "log2", Args: "log2(x)", Group: "mathematics",
			Meaning: "the logarithm to the base 2 of a plain number above nothing",
			Example: "log2(1024)", Answer: "10",
			takes: arity{1, 1}, rule: plain,
			One: logarithm(math.Log2),
		},
		{
			Name: "hypot", Args: "hypot(a, b)", Group: "mathematics",
			Meaning: "the long side of a right-angled triangle: the root of a² + b²",
			Example: "hypot(3 m, 4 m)", Answer: "5 m",
			takes: arity{2, 2}, rule: likeNumbers,
			Two: func(_ *World, a, b float64) (float64, Fault) { return sound(math.Hypot(a, b)) },
		},
		{
			Name: "min", Args: "min(a, b, …)", Group: "mathematics",
			Meaning: "the smallest of several values, row by row if they are columns; the smallest of one column is least(x)",
			Example: "min(1.5 A, 600 mA)", Answer: "600 mA",
			takes: arity{1, 0}, rule: several("least"),
			Many: func(_ *World, x []float64) (float64, Fault) { return least(x), Sound },
		},
		{
			Name: "max", Args: "max(a, b, …)", Group: "mathematics",
			Meaning: "the largest of several values, row by row if they are columns; the largest of one column is most(x)",
			Example: "max(1.5 A, 600 mA)", Answer: "1.5 A",
			takes: arity{1, 0}, rule: several("most"),
			Many: func(_ *World, x []float64) (float64, Fault) { return most(x), Sound },
		},
		{
			Name: "either", Args: "either(a, b, …)", Group: "mathematics",
			Meaning: "the first of its values that is not none",
			Example: "either(none, 5 V)", Answer: "5 V",
			takes: arity{2, 0}, rule: several("either"),
			// Which values are none is known before any kernel: see calc/run.
			Many: func(_ *World, x []float64) (float64, Fault) { return x[0], Sound },
		},
		{
			Name: "choose", Args: "choose(i, a, b, …)", Group: "mathematics",
			Meaning: "the i-th of the values after it, counted from 1: numbers of one dimension, or texts, or yes and no",
			Example: "choose(2, 1 mm2, 1.5 mm2, 2.5 mm2)", Answer: "1.5 mm²",
			takes: arity{2, 0}, whole: 1,
			rule: func(f *Function, args []Arg) (types.Type, *TypeError) {
				if err := wantsPlain(f, 0, args[0]); err != nil {
					return types.Type{}, err
				}
				if i, text, ok := literal(args[0].Expr); ok && (i != math.Trunc(i) || i < 1 || i > float64(len(args)-1)) {
					return wrong(0, say("there is no value %s among %d", text, len(args)-1).
						With(fmt.Sprintf("choose a whole number from 1 to %d", len(args)-1)))
				}
				return oneKind(f, args, 1)
			},
			Many: func(_ *World, x []float64) (float64, Fault) {
				i, ok := whole(x[0])
				if !ok || i < 1 || i > float64(len(x)-1) {
					return 0, OutOfDomain
				}
				return x[int(i)], Sound
			},
		},
	}
}

// sound marks what a computation of finite numbers cannot hold.
func sound(v float64) (float64, Fault) {
	switch {
	case math.IsNaN(v):
		return 0, OutOfDomain
	case math.IsInf(v, 0):
		return 0, Overflow
	}
	return v, Sound
}

func sign(_ *World, x float64) (float64, Fault) {
	switch {
	case x > 0:
		return 1, Sound
	case x < 0:
		return -1, Sound
	}
	return 0, Sound
}

// rootOf is the rule of a root: every exponent of the dimension is divided.
func rootOf(n int) rule {
	return func(f *Function, args []Arg) (types.Type, *TypeError) {
		if err := wantsNumber(f, 0, args[0]); err != nil {
			return types.Type{}, err
		}
		dim, err := args[0].Dim.Pow(1, n)
		if err != nil {
			return wrong(0, say("the root of %s: %s", args[0].Words(), err))
		}
		return types.Type{Kind: types.Number, Dim: dim}, nil
	}
}

func logarithm(log func(float64) float64) func(*World, float64) (float64, Fault) {
	return func(_ *World, x float64) (float64, Fault) {
		if x <= 0 {
			return 0, BadLog
		}
		return log(x), Sound
	}
}

// log10 is exact for powers of ten, which math.Log10 is not.
func log10(x float64) float64 {
	y := math.Log10(x)
	if n := math.Round(y); math.Pow10(int(n)) == x {
		return n
	}
	return y
}

// several is the rule of min and max, with the function that does the same
// down a column.
func several(down string) rule {
	return func(f *Function, args []Arg) (types.Type, *TypeError) {
		if len(args) == 1 {
			cure := fmt.Sprintf("its form is `%s`", f.Args)
			if args[0].Of != nil {
				cure = fmt.Sprintf("of a column write `%s(%s)`", down, said(args[0].Expr, "x"))
			}
			return wrong(-1, say("%s takes two values or more and is given one", f.Name).With(cure))
		}
		if args[0].Kind == types.Date {
			return oneKind(f, args, 0)
		}
		return alike(f, args)
	}
}
