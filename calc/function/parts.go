package function

import (
	"fmt"
	"math"

	"railsum/calc/types"
)

const preferredSource = "IEC 60063:2015, by the table preferred"

// parts is what one asks of resistors and capacitors as they are sold.
func parts() []*Function {
	const which = "one of 3, 6, 12, 24, 48, 96 and 192 values in a decade"
	return []*Function{
		{
			Name: "preferred", Args: "preferred(r, series)", Group: "the trade",
			Meaning: "the preferred value nearest to a resistance, capacitance or inductance, the larger of two as near; the series is " + which,
			Source:  preferredSource,
			Example: "preferred(3.5 kohm, 24)", Answer: "3.6 kΩ",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: preferring(func(r, below, above float64) float64 {
				if notBelow(r-below, above-r) {
					return above
				}
				return below
			}),
		},
		{
			Name: "preferred_up", Args: "preferred_up(r, series)", Group: "the trade",
			Meaning: "the smallest preferred value that is not below a resistance, capacitance or inductance; the series is " +
				which,
			Source:  preferredSource,
			Example: "preferred_up(2120 ohm, 24) as kohm", Answer: "2.2 kΩ",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: preferring(func(r, below, above float64) float64 {
				if same(r, below) {
					return below
				}
				return above
			}),
		},
		{
			Name: "preferred_down", Args: "preferred_down(r, series)", Group: "the trade",
			Meaning: "the largest preferred value that is not above a resistance, capacitance or inductance; the series is " +
				which,
			Source:  preferredSource,
			Example: "preferred_down(2120 ohm, 24) as kohm", Answer: "2 kΩ",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: preferring(func(r, below, above float64) float64 {
				if same(r, above) {
					return above
				}
				return below
			}),
		},
	}
}

// series are those of the standard. A test holds the table to them.
var series = [...]float64{3, 6, 12, 24, 48, 96, 192}

func preferredRule(f *Function, args []Arg) (types.Type, *TypeError) {
	r, in := args[0], args[1]
	if r.Kind != types.Number || r.Dim != dimOf("ohm") && r.Dim != dimOf("F") && r.Dim != dimOf("H") {
		cure := ""
		if _, text, ok := literal(r.Expr); ok {
			cure = fmt.Sprintf("write `%s(%s ohm, %s)`", f.Name, text, said(in.Expr, "24"))
		}
		return wrong(0, say("preferred values are for resistances, capacitances and inductances, not for %s", r.Words()).
			With(cure))
	}
	if err := wantsPlain(f, 1, in); err != nil {
		return types.Type{}, err
	}
	if n, text, ok := literal(in.Expr); ok && !isSeries(n) {
		return wrong(1, say("there is no series of %s preferred values", text).
			With("the series are 3, 6, 12, 24, 48, 96 and 192"))
	}
	return r.Scalar(), nil
}

func isSeries(n float64) bool {
	for _, s := range series {
		if s == n {
			return true
		}
	}
	return false
}

// preferring makes a kernel that takes one of the two preferred values around
// r; they are the same if r is one.
func preferring(take func(r, below, above float64) float64) func(*World, float64, float64) (float64, Fault) {
	return func(w *World, r, series float64) (float64, Fault) {
		series, ok := whole(series)
		if r <= 0 || !ok || !isSeries(series) {
			return 0, OutOfDomain
		}
		below, above, fault := neighbours(w, r, series)
		if fault != Sound {
			return 0, fault
		}
		return take(r, below, above), Sound
	}
}

// neighbours gives the preferred values of a series on either side of r.
func neighbours(w *World, r, series float64) (below, above float64, fault Fault) {
	of, value := w.Numbers("preferred", "series"), w.Numbers("preferred", "value")
	if len(of) != len(value) {
		return 0, 0, NoMatch
	}
	decade := int(math.Floor(math.Log10(r)))
	above = math.Inf(1)
	// Log10 may be a rounding error off at a power of ten, so the decades on
	// either side are looked at too.
	for e := decade - 1; e <= decade+1; e++ {
		for i, s := range of {
			if s != series {
				continue
			}
			v := decimal(value[i], e)
			if v <= r && v > below {
				below = v
			}
			if v >= r && v < above {
				above = v
			}
		}
	}
	if below == 0 || math.IsInf(above, 1) {
		return 0, 0, OutOfDomain
	}
	return below, above, Sound
}

// decimal is v * 10^e for a v of up to three figures, rounded once: a preferred
// value is the same number as the literal that is written for it.
func decimal(v float64, e int) float64 {
	hundredths := math.Round(v * 100)
	if e -= 2; e < 0 {
		return hundredths / math.Pow10(-e)
	}
	return hundredths * math.Pow10(e)
}
