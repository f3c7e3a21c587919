package units

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// Choose gives the unit to show values of a dimension in, one for all of them:
// that in which the largest magnitude, rounded as it will be shown, is at
// least one, or in which the trade writes it. Units in prefer win where their
// dimension is the one asked for; several of them are chosen among by size.
// Values that are all zero take the plain unit of the quantity, plain numbers
// the zero Unit.
func Choose(d Dim, si []float64, prefer []Unit) Unit {
	if d.IsPlain() || d.beyond {
		return Unit{}
	}
	most := largest(si)
	if steps := preferred(d, prefer); len(steps) > 0 {
		// A preference for the wire's mm2 says nothing of a hall's floor.
		if u := climb(steps, most); most == 0 || most/u.Scale() < 99999.5 && most/u.Scale() >= 1e-3 {
			return u
		}
	}
	q := quantityOf(d)
	if q == nil {
		return compose(d)
	}
	if most == 0 {
		return q.base
	}
	return climb(q.steps(), most)
}

// largest is the largest magnitude among the values that are numbers.
func largest(si []float64) float64 {
	most := 0.0
	for _, x := range si {
		if x = math.Abs(x); x > most && !math.IsInf(x, 0) {
			most = x
		}
	}
	return most
}

// preferred are the units of the dimension among those preferred, smallest
// first. A temperature point is not a unit for a difference.
func preferred(d Dim, prefer []Unit) []step {
	var steps []step
	for _, u := range prefer {
		if u.Dim() == d && !u.Point() {
			steps = append(steps, step{u, u.Scale()})
		}
	}
	slices.SortStableFunc(steps, func(a, b step) int { return cmp.Compare(a.from, b.from) })
	return steps
}

// climb takes the highest step that the value reaches when rounded as shown in
// the step below, so that 999.96 mV becomes 1 V and not 1000 mV.
func climb(steps []step, most float64) Unit {
	at := steps[0]
	for _, next := range steps[1:] {
		// Rounding to four digits moves a value by less than a thousandth, so
		// only near a step does it have to be written out to know.
		if most >= next.from {
			at = next
			continue
		}
		if most < next.from*0.999 {
			break
		}
		shown, err := strconv.ParseFloat(Format(most/at.unit.Scale()), 64)
		if err != nil || shown < next.from/at.unit.Scale()*(1-1e-12) {
			break
		}
		at = next
	}
	return at.unit
}
