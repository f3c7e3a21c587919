package function

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// The gauges that the standard's formula is used for.
const thickestAWG, thinnestAWG = -3, 56

// wires is what turns a wire's gauge into an area.
func wires() []*Function {
	return []*Function{
		{
			Name: "awg", Args: "awg(n)", Group: "the trade",
			Meaning: "the cross-section of a solid wire of American wire gauge n, from 4/0, written awg(4/0), to 56; awg(0) is 1/0. " +
				"A stranded wire of the same gauge has about the same",
			Source:  "ASTM B258: the diameter is 0.005 in * 92^((36 - n)/39)",
			Example: "awg(18) as mm2", Answer: "0.823 mm²",
			takes: arity{1, 1}, whole: 1, spelled: noughts, rule: sizes(thickestAWG, thinnestAWG),
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
			Meaning: "the cross-section of a solid wire of Imperial standard wire gauge n, from 7/0, written swg(7/0), to 50",
			Source:  "BS 3737:1964 (withdrawn), by the table swg",
			Example: "swg(18) as mm2", Answer: "1.167 mm²",
			takes: arity{1, 1}, whole: 1, spelled: noughts, rule: sizes(-6, 50),
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
		{
			Name: "gauge", Args: `gauge(area, "AWG")`, Group: "the trade",
			Meaning: "the gauge of wire whose cross-section is nearest to an area, and the next thicker one where that is thinner: the way back from awg and swg. " +
				"The kind is \"AWG\" or \"SWG\"",
			Source:  "the tables awg and swg",
			Example: `gauge(1.5 mm2, "AWG")`, Answer: `"AWG 15 (1.65 mm2)"`,
			takes: arity{2, 2}, rule: gaugeRule,
			Two: func(w *World, area, kind float64) (float64, Fault) {
				text, fault := gaugeOf(w, area, w.Text(kind))
				if fault != Sound {
					return 0, fault
				}
				return w.ID(text), Sound
			},
		},
	}
}

// gaugeOf names the gauge nearest to an area.
func gaugeOf(w *World, area float64, kind string) (string, Fault) {
	table := strings.ToLower(kind)
	sizes, diameters := w.Numbers(table, "gauge"), w.Numbers(table, "diameter")
	if len(sizes) == 0 || len(sizes) != len(diameters) {
		return "", NoMatch
	}
	areas := make([]float64, len(diameters))
	for i, d := range diameters {
		areas[i] = disc(d)
	}
	// The tables go from the thickest to the thinnest.
	if area > areas[0]*(1+tolerance) || area < areas[len(areas)-1]*(1-tolerance) {
		return "", NoMatch
	}
	nearest := 0
	for i, a := range areas {
		if math.Abs(a-area) < math.Abs(areas[nearest]-area) {
			nearest = i
		}
	}
	name := func(i int) string {
		size := strconv.Itoa(int(sizes[i]))
		if sizes[i] < 0 || sizes[i] == 0 && kind == "AWG" {
			size = strconv.Itoa(1-int(sizes[i])) + "/0"
		}
		return fmt.Sprintf("%s %s (%s mm2)", kind, size, units.Format(areas[i]*1e6))
	}
	if areas[nearest] < area*(1-tolerance) {
		return name(nearest) + ", next thicker " + name(nearest-1), Sound
	}
	return name(nearest), Sound
}

func gaugeRule(f *Function, args []Arg) (types.Type, *TypeError) {
	area, kind := args[0], args[1]
	if area.Kind != types.Number || area.Dim != dimOf("m2") {
		cure := ""
		if area.Kind == types.Number && area.Dim == dimOf("m") {
			cure = fmt.Sprintf("of a diameter write `%s(pi / 4 * (%s)^2, \"AWG\")`", f.Name, said(area.Expr, "d"))
		}
		return wrong(0, say("gauge takes the cross-section of a wire, not %s", area.Words()).With(cure))
	}
	if text, ok := bareText(kind.Expr); kind.Kind != types.Text || ok && text != "AWG" && text != "SWG" {
		return wrong(1, say("the gauges are AWG and SWG").With("write `\"AWG\"` or `\"SWG\"`"))
	}
	return types.Type{Kind: types.Text}, nil
}

func disc(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

// sizes is the rule of a gauge: a whole number, or noughts over nothing as on a
// reel.
func sizes(thickest, thinnest float64) rule {
	return func(f *Function, args []Arg) (types.Type, *TypeError) {
		a := args[0]
		if err := wantsPlain(f, 0, a); err != nil {
			if text, ok := bareText(a.Expr); ok {
				err.Cure = fmt.Sprintf("write the number alone, without the quotes: %s", quoted(text))
				if _, e := strconv.ParseFloat(text, 64); e == nil {
					err.Cure = fmt.Sprintf("write `%s(%s)`", f.Name, text)
				}
			}
			return types.Type{}, err
		}
		n, text, ok := literal(a.Expr)
		if !ok {
			n, ok = noughts(a.Expr)
			text = syntax.PrintExpr(a.Expr)
		}
		if ok && (n != math.Trunc(n) || n < thickest || n > thinnest) {
			return wrong(0, say("%s has no gauge %s", f.Name, text).
				With(fmt.Sprintf("they go from `%s(%g/0)` to `%s(%g)`, in whole numbers", f.Name, 1-thickest, f.Name, thinnest)))
		}
		return of("m2"), nil
	}
}

// noughts reads "2/0": each nought more is one gauge below 0, which has one.
func noughts(e syntax.Expr) (gauge float64, ok bool) {
	b, isBinary := bare(e).(*syntax.Binary)
	if !isBinary || b.Op != "/" {
		return 0, false
	}
	n, _, xok := literal(b.X)
	zero, _, yok := literal(b.Y)
	return 1 - n, xok && yok && zero == 0 && n >= 1 && n == math.Trunc(n)
}
