package study

import (
	"context"
	"math"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/view"
	"railsum/units"
)

// The ends of a stretch in which a comparison holds are found to the last digit
// and printed with four; rounded outward, what is printed would not hold itself.

const (
	fewestDigits = 4
	mostDigits   = 12 // of those that a search settles
)

// end is an end of a stretch.
type end struct {
	v      *answer.Value
	inward float64 // which way leads into the stretch
	out    *bool
	texts  [mostDigits + 1]string // by the number of digits, empty where that does not hold
	digits int
}

// spellEnds spells the ends of stretches so that what is printed holds: with as many
// digits as it takes, rounded inward. An end that is itself left out, as that of
// a strict comparison, is printed all the same.
func (l *Lab) spellEnds(ctx context.Context, s *check.Study, places []answer.Place) error {
	var all []*end
	for i := range places {
		p := &places[i]
		if p.Jump || p.Touches || p.Single() {
			continue
		}
		from, to := &end{v: p.From, inward: 1, out: &p.FromOut}, &end{v: p.To, inward: -1, out: &p.ToOut}
		if !p.ToStart && !p.FromOut {
			all = append(all, from)
		}
		if !p.ToEnd && !p.ToOut {
			all = append(all, to)
		}
		if err := l.tryEnds(ctx, s, all); err != nil {
			return err
		}
		for _, e := range all {
			e.settle(fewestDigits)
		}
		for d := from.digits; p.From.Cell(0) == p.To.Cell(0) && d < mostDigits; d++ {
			from.settle(d + 1)
			to.settle(d + 1)
		}
		all = all[:0]
	}
	return nil
}

// tryEnds finds out which spellings of the ends hold.
func (l *Lab) tryEnds(ctx context.Context, s *check.Study, all []*end) error {
	var xs []float64
	var texts []string
	for _, e := range all {
		x, u := e.v.Numbers[0], e.v.Unit
		for d := fewestDigits; d <= mostDigits; d++ {
			for _, text := range inward(u.FromSI(x), d, e.inward) {
				texts, xs = append(texts, text), append(xs, fromText(text, u))
			}
		}
	}
	hold, err := l.holds(ctx, s, xs)
	if err != nil {
		return err
	}
	for _, e := range all {
		exact := false // what is printed holds and is the end
		for d := fewestDigits; d <= mostDigits; d++ {
			for i := range 2 {
				if hold[i] && e.texts[d] == "" {
					e.texts[d] = texts[i]
				}
			}
			exact = exact || hold[0] && d == fewestDigits
			hold, texts = hold[2:], texts[2:]
		}
		*e.out = !exact && near(fromText(e.v.Number(0), e.v.Unit), e.v.Numbers[0])
	}
	return nil
}

// settle spells an end with the least number of digits, from some on, that
// holds.
func (e *end) settle(from int) {
	for d := from; d <= mostDigits && !*e.out; d++ {
		if e.texts[d] != "" {
			e.digits = d
			if e.texts[d] != e.v.Number(0) {
				e.v.Literal = answer.Typed{Number: e.texts[d], Unit: e.v.Unit}
			}
			return
		}
	}
}

// inward spells a number with so many digits, rounded one way if not exact, and
// a step further; the digits left of the point are never rounded away.
func inward(y float64, digits int, way float64) [2]string {
	size := 1
	if y != 0 {
		size = 1 + int(math.Floor(math.Log10(math.Abs(y))))
	}
	digits = max(digits, min(size, mostDigits))
	step := math.Pow(10, float64(size-digits))
	s := view.Spelled(y, digits)
	further := view.Spelled(y+way*step, digits)
	if z := fromText(s, units.Unit{}); (z-y)*way < 0 && !near(z, y) {
		s = further
	}
	return [2]string{s, further}
}

// near reports whether two numbers are the same to the digits that a search
// settles.
func near(x, y float64) bool {
	return math.Abs(x-y) <= 1e-11*math.Max(math.Abs(x), math.Abs(y))
}
