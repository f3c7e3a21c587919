package units

import (
	"math"
	"strconv"
)

// Choose gives the unit to show values of a dimension in, one for all of them:
// that in which the largest magnitude, rounded as it will be shown, is at
// least one, or in which the trade writes it. Units in prefer win, as Prefer
// says. Values that are all zero take the plain unit of the quantity, plain numbers
// the zero Unit.
func Choose(d Dim, si []float64, prefer []Preferred) Unit {
	if d.IsPlain() || d.beyond {
		return Unit{}
	}
	if u, ok := Prefer(d, si, prefer); ok {
		return u
	}
	most := largest(si)
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

// Preferred is a unit that values take, those below a size if Below is not 0.
type Preferred struct {
	Unit
	Below float64 // in SI
}

// Prefer gives the first of the preferred units of a dimension that is for values
// of this size, and whether there is one in which they can be read. A temperature
// point is not a unit for a difference.
func Prefer(d Dim, si []float64, prefer []Preferred) (Unit, bool) {
	if d.IsPlain() {
		return Unit{}, false
	}
	most := largest(si)
	for _, u := range prefer {
		switch {
		case u.Dim() != d || u.Point():
		case u.Below > 0 && !under(most, u):
		case most == 0 || most/u.Scale() < 99999.5 && most/u.Scale() >= 1e-3:
			return u.Unit, true
		default: // a preference for the wire's mm2 says nothing of a hall's floor
			return Unit{}, false
		}
	}
	return Unit{}, false
}

// under reports whether a value lies below a unit's bound, and still does when it
// is rounded as shown.
func under(most float64, u Preferred) bool {
	rounded, err := strconv.ParseFloat(u.Format(most), 64)
	return most < u.Below && (err != nil || rounded*u.Scale() < u.Below*(1-1e-12))
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
