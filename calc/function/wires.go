package function

import (
	"fmt"
	"math"

	"railsum/calc/syntax"
	"railsum/calc/types"
)

// The gauges that the standard's formula is used for.
const thickestAWG, thinnestAWG = -3, 56

// wires is what turns a wire's gauge into an area.
func wires() []*Function {
	return []*Function{
		{
			Name: "awg", Args: "awg(n)", Group: "the trade",
			Meaning: "the cross-section of a solid wire of American wire gauge n, from -3 to 56: awg(0) is 1/0, awg(-1) is 2/0, awg(-3) is 4/0. " +
				"A stranded wire of the same gauge has about the same",
			Source:  "ASTM B258: the diameter is 0.005 in * 92^((36 - n)/39)",
			Example: "awg(18) as mm2", Answer: "0.823 mm²",
			takes: arity{1, 1}, whole: 1, rule: gauge(thickestAWG, thinnestAWG),
			One: func(_ *World, n float64) (float64, Fault) {
				n, ok := whole(n)
				if !ok || n < thickestAWG || n > thinnestAWG {
					return 0, OutOfDomain
				}
				return disc(0.005 * 0.0254 * math.Pow(92, (36-n)/39)), Sound
			},
		},
		{
			Name: "swg", Args: "swg(n)", Group: "the trade",
			Meaning: "the cross-section of a solid wire of Imperial standard wire gauge n, from -6 to 50: swg(0) is 0, swg(-1) is 2/0, swg(-6) is 7/0",
			Source:  "BS 3737:1964 (withdrawn), by the table swg",
			Example: "swg(18) as mm2", Answer: "1.167 mm²",
			takes: arity{1, 1}, whole: 1, rule: gauge(-6, 50),
			One: func(w *World, n float64) (float64, Fault) {
				gauges, diameters := w.Numbers("swg", "gauge"), w.Numbers("swg", "diameter")
				if len(gauges) != len(diameters) {
					return 0, NoMatch
				}
				for i, g := range gauges {
					if same(g, n) {
						return disc(diameters[i]), Sound
					}
				}
				return 0, NoMatch
			},
		},
	}
}

func disc(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// gauge is the rule of a gauge: a whole number. The sizes above 0 are written
// 2/0 on a reel, which here would be a division by nothing.
func gauge(thickest, thinnest float64) rule {
	return func(f *Function, args []Arg) (types.Type, *TypeError) {
		a := args[0]
		if noughts, ok := overNothing(a.Expr); ok {
			return wrong(0, say("a gauge of %g/0 is written as a number below 1: each nought more is one less", noughts).
				With(fmt.Sprintf("write `%s(%g)`", f.Name, 1-noughts)))
		}
		if err := wantsPlain(f, 0, a); err != nil {
			if text, ok := bareText(a.Expr); ok {
				err.Cure = fmt.Sprintf("write the number alone, as in `%s(18)`, not %s", f.Name, quoted(text))
			}
			return types.Type{}, err
		}
		if n, text, ok := literal(a.Expr); ok && (n != math.Trunc(n) || n < thickest || n > thinnest) {
			return wrong(0, say("%s has no gauge %s", f.Name, text).
				With(fmt.Sprintf("they are the whole numbers from %g to %g", thickest, thinnest)))
		}
		return of("m2"), nil
	}
}

// overNothing reads "2/0".
func overNothing(e syntax.Expr) (noughts float64, ok bool) {
	b, isBinary := bare(e).(*syntax.Binary)
	if !isBinary || b.Op != "/" {
		return 0, false
	}
	noughts, _, xok := literal(b.X)
	zero, _, yok := literal(b.Y)
	return noughts, xok && yok && zero == 0 && noughts >= 1 && noughts <= 7 && noughts == math.Trunc(noughts)
}
