package study

import (
	"context"
	"math"
	"math/big"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/view"
	"railsum/units"
)

// takeOver is the line that would give the input the value that was found: the
// only place, or the end of the only stretch that the search itself has found.
// It is empty where there is no one value, and for a cell, which has its value
// in its table.
func (l *Lab) takeOver(ctx context.Context, s *check.Study, found *outcome, f *answer.Found) (string, error) {
	axis := s.Axes[0]
	if axis.X.Role == check.Cell {
		return "", nil
	}
	if f.Chosen != nil {
		return takenLine(axis, withUnit(view.Spelled(f.Chosen.Unit.FromSI(f.Chosen.Numbers[0]), 12), f.Chosen.Unit)), nil
	}
	if len(f.Places) != 1 || found.All || found.More {
		return "", nil
	}
	x, inward := 0.0, 0.0 // which way leads into the stretch
	switch sp := found.Spans[0]; {
	case sp.Jump || sp.AtFrom && sp.AtTo || sp.AtFrom && sp.OutTo || sp.AtTo && sp.OutFrom:
		return "", nil
	case sp.AtFrom:
		x, inward = sp.To, -1
	case sp.AtTo:
		x, inward = sp.From, 1
	case sp.From == sp.To:
		x = sp.From
	default:
		return "", nil
	}
	if axis.Whole {
		return takenLine(axis, view.Spelled(x, 17)), nil
	}
	texts, xs := spellings(x, inward, l.like(axis.X, x, s.As).Unit)
	hold, err := l.holds(ctx, s, xs)
	if err != nil {
		return "", err
	}
	for i, ok := range hold {
		if ok {
			return takenLine(axis, texts[i]), nil
		}
	}
	return takenLine(axis, texts[len(texts)-1]), nil
}

// spellings are ways to write a value, the shortest first, each also a digit
// further into the stretch: what is taken over must make the comparison hold,
// and the nearest value of few digits need not do so.
func spellings(x, inward float64, u units.Unit) (texts []string, si []float64) {
	y := u.FromSI(x)
	digits := 10
	if inward != 0 { // a boundary: as many digits as anybody can build to
		digits = 4
	}
	for ; digits <= 17; digits++ {
		step := math.Pow(10, math.Ceil(math.Log10(math.Abs(y)))-float64(digits))
		if u.Point() {
			step = math.Pow(10, float64(3-digits))
		}
		for _, z := range []float64{y, y + inward*step} {
			s := view.Spelled(z, digits)
			if u.Point() {
				s = view.Spelled(math.Round(z/step)*step, digits)
			}
			texts, si = append(texts, withUnit(s, u)), append(si, fromText(s, u))
		}
	}
	return texts, si
}

// fromText gives the value that a number has when it is read in a unit.
func fromText(number string, u units.Unit) float64 {
	r, _ := new(big.Rat).SetString(number)
	return u.SI(r)
}

func withUnit(s string, u units.Unit) string {
	switch {
	case u.String() == "":
		return s
	case u.Base() != 0:
		return s + " as " + u.String()
	}
	return s + " " + u.String()
}

// takenLine is the line that gives an input a value; the tolerance it was given
// with stays.
func takenLine(a check.Axis, value string) string {
	s := a.Name.String() + " = " + value
	if tol := a.X.Tail.Tol; tol != nil {
		s += " +- " + tol.By.Text
	}
	if a.X.Tail.Whole {
		s += " whole"
	}
	return s
}
