package function

import (
	"math"
	"sync"

	"railsum/calc/types"
	"railsum/units"
)

// scales is the way back from the model; the way there is the operator at.
func scales() []*Function {
	return []*Function{
		{
			Name: "full_size", Args: "full_size(x, scale)", Group: "the trade",
			Meaning: "what a length, area, volume, speed or acceleration of the model stands for in full size: x over the scale, for an area over its square, for a volume over its cube. " +
				"Time is not scaled",
			Source:  "geometry; the ratios are in the table scales",
			Example: "full_size(287 mm, scale_H0)", Answer: "24.97 m",
			takes: arity{2, 2}, rule: fullSizeRule,
			// Without its variant it has no power to go by, and says so.
			Two: func(*World, float64, float64) (float64, Fault) { return 0, OutOfDomain },
			variant: func(f *Function, args []Arg) {
				if n, ok := ScalePower(args[0].Dim); ok {
					f.Two = fullSize(n)
				}
			},
		},
	}
}

func fullSizeRule(f *Function, args []Arg) (types.Type, *TypeError) {
	x, scale := args[0], args[1]
	if x.Kind == types.Number {
		if _, ok := ScalePower(x.Dim); ok {
			if scale.Kind != types.Number || !scale.Dim.IsPlain() {
				return wrong(1, say("%s is no scale", scale.Words()).
					With("a scale is a ratio such as 1:87, or a constant such as scale_H0"))
			}
			if v, text, ok := literal(scale.Expr); ok && v > 1 {
				return wrong(1, say("a scale of %s would be larger than life", text).With("write `1:"+text+"`"))
			}
			return x.Scalar(), nil
		}
	}
	return wrong(0, say("%s has no full size", x.Words()).
		With("only lengths, areas, volumes, speeds and accelerations have a scale"))
}

func fullSize(power int) func(*World, float64, float64) (float64, Fault) {
	return func(_ *World, x, scale float64) (float64, Fault) {
		switch {
		case scale == 0:
			return 0, ByNothing
		case scale < 0:
			return 0, OutOfDomain
		}
		return sound(x / math.Pow(scale, float64(power)))
	}
}

// scaled holds the dimensions that have a scale, and the power it goes by.
var scaled = sync.OnceValue(func() map[units.Dim]int {
	return map[units.Dim]int{
		dimOf("m"): 1, dimOf("m2"): 2, dimOf("m3"): 3, dimOf("m/s"): 1, dimOf("m/s2"): 1,
	}
})

// ScalePower is the power of the scale by which a quantity goes from full size
// to the model: 1 for a length, a speed and an acceleration, 2 for an area, 3
// for a volume. Nothing else has a scale, though its unit may well hold metres:
// a volt does.
func ScalePower(d units.Dim) (power int, ok bool) {
	power, ok = scaled()[d]
	return power, ok
}
