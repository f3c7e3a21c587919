package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
)

// angles is what makes a number of an angle, and an angle of a number. An angle
// is a plain number, the radian being 1.
func angles() []*Function {
	return []*Function{
		{
			Name: "sin", Args: "sin(angle)", Group: "mathematics",
			Meaning: "the sine of an angle",
			Example: "sin(30 deg)", Answer: "0.5",
			takes: arity{1, 1}, rule: angle,
			One: func(_ *World, x float64) (float64, Fault) { return level(math.Sin(x), x), Sound },
		},
		{
			Name: "cos", Args: "cos(angle)", Group: "mathematics",
			Meaning: "the cosine of an angle",
			Example: "cos(60 deg)", Answer: "0.5",
			takes: arity{1, 1}, rule: angle,
			One: func(_ *World, x float64) (float64, Fault) { return level(math.Cos(x), x), Sound },
		},
		{
			Name: "tan", Args: "tan(angle)", Group: "mathematics",
			Meaning: "the tangent of an angle; a right angle has none",
			Example: "tan(45 deg)", Answer: "1",
			takes: arity{1, 1}, rule: angle,
			One: func(_ *World, x float64) (float64, Fault) {
				if level(math.Cos(x), x) == 0 {
					return 0, OutOfDomain
				}
				return level(math.Tan(x), x), Sound
			},
		},
		{
			Name: "asin", Args: "asin(x)", Group: "mathematics",
			Meaning: "the angle whose sine is x, from -90 deg to 90 deg; x is from -1 to 1",
			Example: "asin(0.5) as deg", Answer: "30 °",
			takes: arity{1, 1}, rule: plain,
			One: within1(math.Asin),
		},
		{
			Name: "acos", Args: "acos(x)", Group: "mathematics",
			Meaning: "the angle whose cosine is x, from 0 deg to 180 deg; x is from -1 to 1",
			Example: "acos(0.5) as deg", Answer: "60 °",
			takes: arity{1, 1}, rule: plain,
			One: within1(math.Acos),
		},
		{
			Name: "atan", Args: "atan(x)", Group: "mathematics",
			Meaning: "the angle whose tangent is x, from -90 deg to 90 deg: that of a grade",
			Example: "atan(1:40) as deg", Answer: "1.432 °",
			takes: arity{1, 1}, rule: plain,
			One: func(_ *World, x float64) (float64, Fault) { return math.Atan(x), Sound },
		},
		{
			Name: "atan2", Args: "atan2(y, x)", Group: "mathematics",
			Meaning: "the direction of what lies x to the right and y up, from -180 deg to 180 deg",
			Example: "atan2(30 mm, 1200 mm) as deg", Answer: "1.432 °",
			takes: arity{2, 2},
			rule: func(f *Function, args []Arg) (types.Type, *TypeError) {
				_, err := likeNumbers(f, args)
				return types.Plain, err
			},
			Two: func(_ *World, y, x float64) (float64, Fault) {
				if x == 0 && y == 0 {
					return 0, OutOfDomain
				}
				return math.Atan2(y, x), Sound
			},
		},
		{
			Name: "sinh", Args: "sinh(x)", Group: "mathematics",
			Meaning: "the hyperbolic sine of a plain number",
			Example: "sinh(1)", Answer: "1.175",
			takes: arity{1, 1}, rule: plain,
			One: func(_ *World, x float64) (float64, Fault) { return sound(math.Sinh(x)) },
		},
		{
			Name: "cosh", Args: "cosh(x)", Group: "mathematics",
			Meaning: "the hyperbolic cosine of a plain number",
			Example: "cosh(1)", Answer: "1.543",
			takes: arity{1, 1}, rule: plain,
			One: func(_ *World, x float64) (float64, Fault) { return sound(math.Cosh(x)) },
		},
		{
			Name: "tanh", Args: "tanh(x)", Group: "mathematics",
			Meaning: "the hyperbolic tangent of a plain number",
			Example: "tanh(1)", Answer: "0.7616",
			takes: arity{1, 1}, rule: plain,
			One: func(_ *World, x float64) (float64, Fault) { return math.Tanh(x), Sound },
		},
	}
}

// angle wants an angle: a plain number, but no literal that does not say
// whether it is in degrees.
func angle(f *Function, args []Arg) (types.Type, *TypeError) {
	a := args[0]
	if a.Kind != types.Number || !a.Dim.IsPlain() {
		return wrong(0, say("%s takes an angle, not %s", f.Name, a.Words()))
	}
	if v, text, ok := literal(a.Expr); ok && v != 0 {
		return wrong(0, say("%s alone does not say whether it is in degrees", text).
			With(fmt.Sprintf("write `%s(%s deg)` or `%s(%s rad)`", f.Name, text, f.Name, text)))
	}
	return types.Plain, nil
}

// level makes nothing of what is only the rounding of pi: sin(180 deg) is 0.
// It leaves small angles alone, whose sine is as large as they are.
func level(v, x float64) float64 {
	const ulps, turnedTooFar = 4 * 0x1p-52, 1e6
	if math.Abs(v) <= ulps*math.Abs(x) && math.Abs(x) < turnedTooFar {
		return 0
	}
	return v
}

// within1 makes the kernel of an inverse that is defined from -1 to 1, and
// forgives what rounding has put beyond.
func within1(inverse func(float64) float64) func(*World, float64) (float64, Fault) {
	return func(_ *World, x float64) (float64, Fault) {
		if math.Abs(x) > 1 {
			if !same(math.Abs(x), 1) {
				return 0, OutOfDomain
			}
			x = math.Copysign(1, x)
		}
		return inverse(x), Sound
	}
}
