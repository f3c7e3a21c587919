package function

import (
	"math"
	"slices"
)

// pairs is what two preferred values make together. The functions come in
// twos, since a call gives one value: the part that leads and the other.
//
// Of two values joined, one is never more than a hundred times the other: a
// smaller share would vanish in the tolerance of the larger. Of pairs as near
// the one whose lead is closest to two alike is taken: it shares the heat best.
func pairs() []*Function {
	const source = preferredSource + "; Kirchhoff's laws"
	return []*Function{
		{
			Name: "pair_in_series", Args: "pair_in_series(r, series)", Group: "the trade",
			Meaning: "the larger of the two preferred values that in series come nearest to a resistance; of capacitors the smaller. " +
				"The other is pair_rest_in_series, the series is as in preferred",
			Source:  source,
			Example: "pair_in_series(500 ohm, 24) as ohm", Answer: "300 Ω",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: pairing(addUp, resistors, leading), variant: forCapacitors(pairing(sideBySide, capacitors, leading)),
		},
		{
			Name: "pair_rest_in_series", Args: "pair_rest_in_series(r, series)", Group: "the trade",
			Meaning: "the other value of the pair of pair_in_series",
			Source:  source,
			Example: "pair_rest_in_series(500 ohm, 24) as ohm", Answer: "200 Ω",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: pairing(addUp, resistors, resting), variant: forCapacitors(pairing(sideBySide, capacitors, resting)),
		},
		{
			Name: "pair_in_parallel", Args: "pair_in_parallel(r, series)", Group: "the trade",
			Meaning: "the smaller of the two preferred values that in parallel come nearest to a resistance; of capacitors the larger. " +
				"The other is pair_rest_in_parallel, the series is as in preferred",
			Source:  source,
			Example: "pair_in_parallel(700 ohm, 12) as ohm", Answer: "820 Ω",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: pairing(sideBySide, resistors, leading), variant: forCapacitors(pairing(addUp, capacitors, leading)),
		},
		{
			Name: "pair_rest_in_parallel", Args: "pair_rest_in_parallel(r, series)", Group: "the trade",
			Meaning: "the other value of the pair of pair_in_parallel",
			Source:  source,
			Example: "pair_rest_in_parallel(700 ohm, 12) as kohm", Answer: "4.7 kΩ",
			takes: arity{2, 2}, whole: 2, rule: preferredRule,
			Two: pairing(sideBySide, resistors, resting), variant: forCapacitors(pairing(addUp, capacitors, resting)),
		},
	}
}

// partRange is the range in which parts are made. Every pair of them is looked at.
type partRange struct{ least, most float64 }

var (
	resistors  = partRange{1, 10e6}
	capacitors = partRange{1e-12, 10e-3}
)

type kernel2 = func(w *World, r, series float64) (float64, Fault)

// forCapacitors changes the kernel for capacitances, which in series join as
// resistances do side by side and the other way round.
func forCapacitors(kernel kernel2) func(*Function, []Arg) {
	return func(f *Function, args []Arg) {
		if args[0].Dim == dimOf("F") {
			f.Two = kernel
		}
	}
}

// joining is how two values make one. The part that leads is on its side of
// half or twice the total, the rest is no nearer to the total than it: at most
// as large where they add up, at least as large side by side.
type joining struct {
	alike float64                       // either part of two equal ones, as a share of the total
	away  int                           // the way from the lead to the rest: -1 down, 1 up
	total func(a, b float64) float64    // of both
	rest  func(r, lead float64) float64 // what the lead lacks of r; not above nothing where it lacks nothing
}

var (
	addUp = joining{
		alike: 0.5, away: -1,
		total: func(a, b float64) float64 { return a + b },
		rest:  func(r, lead float64) float64 { return r - lead },
	}
	sideBySide = joining{
		alike: 2, away: 1,
		total: func(a, b float64) float64 { return a / (1 + a/b) },
		rest:  func(r, lead float64) float64 { return r / (1 - r/lead) },
	}
)

func leading(lead, _ float64) float64 { return lead }
func resting(_, rest float64) float64 { return rest }

// pairing makes the kernel that finds the pair and takes one part of it.
func pairing(j joining, made partRange, take func(lead, rest float64) float64) kernel2 {
	return func(w *World, r, series float64) (float64, Fault) {
		// Beyond these there is no room for a hundredth or a hundredfold.
		if r < 1e-200 || r > 1e200 {
			return 0, OutOfDomain
		}
		n, ok := whole(series)
		if !ok || !isSeries(n) {
			return 0, OutOfDomain
		}
		l, ok := ladderOf(w, n)
		if !ok {
			return 0, NoMatch
		}
		lead, rest := j.nearest(l, r, made)
		return take(lead, rest), Sound
	}
}

// nearest tries as lead every value from that of two alike to the one past the
// total, with the two values on either side of what it lacks, each from the
// more alike on, a hundredth or a hundredfold and all that is made.
func (j joining) nearest(l ladder, r float64, made partRange) (lead, rest float64) {
	from, to := l.below(r*j.alike), l.below(r)
	if j.away < 0 {
		to++
	} else {
		from++
	}
	best := math.Inf(1)
	for k := from; (to-k)*j.away <= 0; k -= j.away {
		a := l.at(k)
		farthest := max(k+2*len(l), l.below(made.most))
		if j.away < 0 {
			farthest = min(k-2*len(l), l.below(made.least))
		}
		lo, hi := min(k, farthest), max(k, farthest)
		near := farthest
		if lacks := j.rest(r, a); lacks > 0 && !math.IsInf(lacks, 0) {
			near = l.below(lacks)
		}
		tries := [...]int{near, near + 1}
		if j.away < 0 {
			tries = [...]int{near + 1, near}
		}
		for _, m := range tries {
			b := l.at(min(max(m, lo), hi))
			if off := math.Abs(j.total(a, b) - r); off < best-tolerance*r {
				best, lead, rest = off, a, b
			}
		}
	}
	return lead, rest
}

// ladder is the values of a series in one decade, from 1 up. Its rungs go on in
// both directions without end: rung 0 is 1, rung len(l) is 10.
type ladder []float64

// ladderOf reads a series from the table preferred, in which each stands in one
// piece, ascending, and the series in the order of their size.
func ladderOf(w *World, n float64) (ladder, bool) {
	of, value := w.Numbers("preferred", "series"), w.Numbers("preferred", "value")
	first, ok := slices.BinarySearch(of, n)
	end := first + int(n)
	if !ok || end > len(value) {
		return nil, false
	}
	return value[first:end], true
}

func (l ladder) at(k int) float64 {
	decade := int(math.Floor(float64(k) / float64(len(l))))
	return decimal(l[k-decade*len(l)], decade)
}

// below is the highest rung that is not above x, which is above nothing.
func (l ladder) below(x float64) int {
	decade := int(math.Floor(math.Log10(x)))
	i, _ := slices.BinarySearch(l, x/math.Pow10(decade))
	k := decade*len(l) + i
	// The division may be a rounding error off, and the search stops at a rung
	// that is not below.
	for l.at(k) > x {
		k--
	}
	for l.at(k+1) <= x {
		k++
	}
	return k
}
