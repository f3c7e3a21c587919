package calc_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"railsum/calc/answer"
)

// spellFind spells where a find line holds, as it is shown: "2" a place,
// "1 to 2" a stretch, "to 2" and "2 to" one that reaches the end of where it
// looked, "2 touches", "2 jumps A | B to C | D" with both sides before and
// behind, "pole 2", "everywhere"; or, where it holds nowhere, "nowhere, nearest
// X with A | B".
func spellFind(f *answer.Found) string {
	var said []string
	for _, p := range f.Places {
		from, to := forReaders(p.From, 0), forReaders(p.To, 0)
		switch {
		case p.ToStart && p.ToEnd:
			said = append(said, from+" to "+to)
		case p.ToStart:
			said = append(said, "to "+to)
		case p.ToEnd:
			said = append(said, from+" to")
		case p.From.Numbers[0] != p.To.Numbers[0]:
			said = append(said, from+" to "+to)
		case p.Touches:
			said = append(said, from+" touches")
		case p.Jump:
			said = append(said, fmt.Sprintf("%s jumps %s | %s to %s | %s", from,
				forReaders(p.Before[0], 0), forReaders(p.Before[1], 0), forReaders(p.Behind[0], 0), forReaders(p.Behind[1], 0)))
		default:
			said = append(said, from)
		}
	}
	if f.All {
		said = []string{"everywhere"}
	}
	for _, p := range f.Poles {
		said = append(said, "pole "+forReaders(p, 0))
	}
	if f.More {
		said = append(said, "more")
	}
	switch {
	case f.Chosen != nil:
		said = []string{strings.TrimSpace(forReaders(f.Chosen, 0) + " " + f.Label)}
	case f.Near != nil:
		said = append(said, fmt.Sprintf("nowhere, nearest %s with %s | %s", forReaders(f.Near.X, 0), forReaders(f.Near.Left, 0), forReaders(f.Near.Right, 0)))
	case !f.Holds:
		said = append(said, "nowhere")
	}
	return strings.Join(said, "; ")
}

// Each shape that a function can have, with the honest answer worked by hand.
func TestFindShapes(t *testing.T) {
	for _, c := range []struct{ what, lines, want string }{
		{"two crossings", "find x from 0 to 10 so x^2 - 3 * x + 2 = 0", "1; 2"},
		{"two crossings, nobody said where", "find x so x^2 - 3 * x + 2 = 0", "1; 2"},
		{"two crossings either side of nothing", "find x so x^2 = 4", "-2; 2"},
		{"two crossings nearer than one can see", "find x from 0 to 10 so (x - 2) * (x - 2.0001) = 0", "2; 2"},
		{"two crossings as near as rounding can set them", "find x from 0 to 10 so (x - pi) * (x - pi - 1e-7) = 0", "3.142 touches"},
		{"none, and how near it comes", "find x from 0 to 10 so x^2 - 3 * x + 2 = -5", "nowhere, nearest 1.5 with -0.25 | -5"},
		{"none, nearest at the end", "find x from 1 to 2 so x = 3", "nowhere, nearest 2 with 2 | 3"},
		{"a step on its plateau", "find x from -5 to 5 so ceil(x) = 2", "1 to 2"},
		{"a step between plateaus", "find x from -5 to 5 so ceil(x) = 2.5", "2 jumps 2 | 2.5 to 3 | 2.5"},
		{"a step, from where on", "find x from -5 to 5 so ceil(x) >= 2", "1 to"},
		{"plateaus at the top and further down", "find x from 0 to 10 so min(x, 3) * max(0, min(1, 10 - 2 * x)) = 3", "3 to 4.5"},
		{"a touch at a place that is looked at", "find x from -10 to 10 so (x - 2)^2 = 0", "2"},
		{"a touch at a place that is not", "find x from -10 to 10 so (x - pi)^2 = 0", "3.142 touches"},
		{"a touch with a kink", "find x from -10 to 10 so abs(x - pi) = 0", "3.142 touches"},
		{"a touch of an inequality", "find x from -10 to 10 so (x - pi)^2 <= 0", "3.142 touches"},
		{"a touch is not below", "find x from -10 to 10 so (x - 2)^2 < 0", "nowhere, nearest 2 with 0 | 0"},
		{"a pole is no root", "find x from -10 to 10 so 1 / (x - pi) = 0", "pole 3.142; nowhere, nearest -10 with -0.07609 | 0"},
		{"a pole at a place that is looked at", "find x from -10 to 10 so 1 / x = 0", "pole 0; nowhere, nearest -10 with -0.1 | 0"},
		{"a root beside a pole", "find x from 0 to 10 so 1 / (x - pi) = 1e6", "3.142; pole 3.142"},
		{"two roots round a pole", "find x from 0 to 10 so 1 / (x - pi)^2 = 1e6", "3.141; 3.143"},
		{"a stretch round a pole", "find x from 0 to 10 so 1 / (x - pi)^2 >= 1e6", "3.141 to 3.142"},
		{"poles and roots in turn", "find x from 0 to 7.5 so tan(x * 1 rad) = 1", "0.7854; 3.927; 7.069; pole 1.571; pole 4.712"},
		{"an inequality up to a pole", "find x from -10 to 10 so 1 / (x - pi) < 0", "to 3.141"},
		{"a root at nothing", "find x so x^3 = 0", "0"},
		{"a root at nothing in a range", "find x from -10 to 7 so x^3 + x = 0", "0"},
		{"a root at nothing of a quantity", "find v from -1 V to 3 V so 2 * v = 0", "0 V"},
		{"roots far apart", "find x so (x - 1e-6) * (x - 1e6) = 0", "0.000001; 1000000"},
		{"many roots", "find x from 1 to 20 so sin(x * 1 rad) = 0", "3.142; 6.283; 9.425; 12.57; 15.71; 18.85"},
		{"a root at the lower end", "find x from 0 to 3 so x = 0", "0"},
		{"a root at the upper end", "find x from 0 to 3 so x^2 = 9", "3"},
		{"a root just beyond the end", "find x from 0 to 3 so x = 3.000001", "nowhere, nearest 3 with 3 | 3"},
		{"one place to look, and it holds", "find x from 3 to 3 so x^2 = 9", "everywhere"},
		{"one place to look, and it does not", "find x from 3 to 3 so x = 4", "nowhere, nearest 3 with 3 | 4"},
		{"several stretches", "find x from 0 to 20 so sin(x * 1 rad) >= 0.5", "0.5236 to 2.617; 6.807 to 8.901; 13.09 to 15.18; 19.38 to"},
		{"two stretches round a hollow", "find x from 0 to 10 so x^2 - 3 * x + 2 >= 0", "to 1; 2 to"},
		{"the hollow", "find x from 0 to 10 so x^2 - 3 * x + 2 <= 0", "1 to 2"},
		{"a hollow narrower than one can see", "find x from 0 to 10 so (x - pi) * (x - pi - 1e-5) < 0", "3.141593 to 3.141602"},
		{"a gap narrower than one can see", "find x from 0 to 10 so (x - pi) * (x - pi - 1e-5) > 0", "to 3.141; 3.142 to"},
		{"everywhere", "find x from 0 to 20 so x >= 0", "everywhere"},
		{"everywhere equal", "find x from 0 to 20 so x = x + 0", "everywhere"},
		{"nowhere below", "find x from 0 to 20 so x < 0", "nowhere, nearest 0 with 0 | 0"},
		{"no answer in part of the range", "find x from -20 to 20 so sqrt(x - 5) = 2", "9"},
		{"no answer in part, and a stretch", "find x from -20 to 20 so sqrt(x - 5) <= 2", "5 to 9"},
		{"no answer in part, and all of the rest", "find x from -20 to 20 so sqrt(x - 5) >= -1", "5 to"},
		{"no answer in the middle is no root and no pole", "find x from -20 to 20 so x * sqrt(x^2 - 4) + x = 0", "nowhere, nearest -2 with -2 | 0"},
		{"a root at the very end of where there are values", "find x from -20 to 20 so sqrt(x - 5) = 0", "5 touches"},
		{"a square written out, which rounding takes either side of nothing", "find x from 0 to 10 so x^2 - 2 * pi * x + pi^2 = 0", "3.142 touches"},
		{"no answer anywhere", "find x from 1 to 2 so sqrt(-x) = 1", "nowhere"},
		{"a jump of a preferred value", "find r from 1 ohm to 1 Mohm so preferred_up(r, 24) = 4.8 kohm", "4.7 kΩ jumps 4.7 kΩ | 4.8 kΩ to 5.1 kΩ | 4.8 kΩ"},
		{"a preferred value's own stretch", "find r from 1 ohm to 1 Mohm so preferred_up(r, 24) = 4.7 kohm", "4.3 kΩ to 4.7 kΩ"},
		{"from which preferred value on", "find r from 1 ohm to 1 Mohm so preferred_up(r, 24) >= 4.7 kohm", "4.3 kΩ to"},
		{"a temperature", "find t so (t - 20 degC) * 5 mV/K = 100 mV", "40 °C"},
		{"a temperature of nothing", "find t so (t - 20 degC) * 5 mV/K = -100 mV", "0 °C"},
		{"a temperature below nothing", "find t from -40 degC to 120 degC so (t - 20 degC) * 5 mV/K = -200 mV", "-20 °C"},
		{"a temperature in another scale", "find t from 0 degC to 40 degC so t >= 68 degF as degF", "68 °F to"},
		{"a negative value", "find v so 3 * v + 12 V = 0", "-4 V"},
		{"a negative range", "find v from -20 V to -1 V so v^2 = 16 V*V", "-4 V"},
		{"no length is negative", "find l so l^2 = 9 m2", "3 m"},
		{"a present value of nothing", "find z so 2 * z = 10", "5"},
		{"the first of a list", "find r among 1 kohm, 2.2 kohm, 4.7 kohm, 10 kohm so 12 V / r <= 5 mA", "4.7 kΩ"},
		{"the first in the order given", "find r among 10 kohm, 4.7 kohm so 12 V / r <= 5 mA", "10 kΩ"},
		{"none of a list", "find r among 1 kohm, 2.2 kohm so 12 V / r <= 5 uA", "nowhere, nearest 2.2 kΩ with 5.455 mA | 5 µA"},
		{"a value of a list without an answer", "find v among 0 V, 2 V, 4 V so 1 V / v = 1 V / 4 V", "4 V"},
		{"an even root beside others", "find x from -10 to 10 so (x + 7.6)^3 * (x - 2.16) * (x - 3)^2 * (x - 6.47)^2 = 0", "-7.6; 2.16; 3 touches; 6.47 touches"},
		{"an even root far out", "find x from 1e6 to 2e6 so abs(x - 1234567.1) = 0", "1234567 touches"},
		{"a floor above nothing is no root", "find x from -10 to 10 so (x - pi)^2 + 1e-9 = 0", "nowhere, nearest 3.142 with 0.000000001 | 0"},
		{"a range across nothing that is far too wide", "find x from -1e300 to 1e300 so x^3 = 8", "2"},
		{"a range from nothing that is far too wide", "find x from 0 to 1e300 so x^3 = 8e9", "2000"},
		{"a range as wide as numbers go", "find x from -1.5e308 to 1.5e308 so x = -3", "-3"},
		{"a value as large as numbers go", "find h so h / 1e300 = 1.5e8", "1.5e308"},
		{"a root beside where there are no values", "find x from -20 to 20 so sqrt(x - 5) = 0.001", "5"},
		{"a stretch beside where there are no values", "find x from -20 to 20 so sqrt(x - 5) <= 0.001", "5 to 5.0000009"},
		{"strictly above, but for a touch", "find x from -10 to 10 so (x + 5)^2 > 0", "to -5; -5 to"},
		{"strictly above, but for a touch no number can be", "find x from -10 to 10 so (x - pi)^2 > 0", "to 3.142; 3.142 to"},
		{"strictly above, but for two touches", "find x from -10 to 10 so (x - pi)^2 * (x + pi)^2 > 0", "to -3.142; -3.142 to 3.142; 3.142 to"},
		{"strictly above nothing", "find x from -10 to 10 so x > 0", "0 to"},
		{"strictly below nothing", "find x so x < 0", "to 0"},
		{"strictly below, but for a touch", "find x from -10 to 10 so 3 - abs(x - pi) < 3", "to 3.142; 3.142 to"},
		{"above or equal, and a touch takes nothing away", "find x from -10 to 10 so (x + 5)^2 >= 0", "everywhere"},
		{"a row of a table", "find a among conductors.area so 1 ohm*mm2 / a <= 0.2 ohm", "6 mm² 6 mm2"},
	} {
		given := "x = 1 ; h = 1e300 ; z = 0 ; r = 1 kohm ; v = 1 V ; t = 20 degC ; l = 1 m ; a = 1 mm2 ; "
		if got := spellFind(answeredStudy(t, given+c.lines).(*answer.Found)); got != c.want {
			t.Errorf("%s: %s: got\n\t%s\nwant\n\t%s", c.what, c.lines, got, c.want)
		}
	}
}

// More places than can be told are cut short, and that is told.
func TestFindTellsOfMore(t *testing.T) {
	for _, lines := range []string{"find x from 0 to 1000 so sin(x * 1 rad) = 0.1", "find x from 0 to 1000 so sin(x * 1 rad) >= 0.1"} {
		f := answeredStudy(t, "x = 1 ; "+lines).(*answer.Found)
		if !f.More || len(f.Places) < 30 || f.Take != "" {
			t.Errorf("%s: %d places, more: %v, take it: %q", lines, len(f.Places), f.More, f.Take)
		}
	}
}

// Of more places than can be told, where nobody said where to look, those round
// the present value are.
func TestFindTellsOfTheNearest(t *testing.T) {
	f := answeredStudy(t, "x = 3 ; find x so sin(x * 1 rad) = 0.5").(*answer.Found)
	var near []float64
	for _, p := range f.Places {
		if x := p.From.Numbers[0]; math.Abs(x) < 9.5 {
			near = append(near, x)
		}
	}
	const sixth = math.Pi / 6
	want := []float64{-11 * sixth, -7 * sixth, sixth, 5 * sixth, 13 * sixth, 17 * sixth}
	if !f.More || len(f.Places) != 64 || !slices.EqualFunc(near, want, func(x, y float64) bool { return math.Abs(x-y) < 1e-9 }) {
		t.Errorf("%d places, those near by are %v, want %v", len(f.Places), near, want)
	}
	f = answeredStudy(t, "x = 3 ; find x so sin(x * 1 rad) >= 0.5").(*answer.Found)
	near = nil
	for _, p := range f.Places {
		if x := p.From.Numbers[0]; math.Abs(x) < 9.5 {
			near = append(near, x, p.To.Numbers[0])
		}
	}
	if !f.More || !slices.EqualFunc(near, want, func(x, y float64) bool { return math.Abs(x-y) < 1e-9 }) {
		t.Errorf("%d stretches, those near by are %v, want %v", len(f.Places), near, want)
	}
}

// Where the function is smooth, what is found is the closed form to 1e-9.
func TestFindIsExact(t *testing.T) {
	for _, c := range []struct {
		lines string
		want  []float64
	}{
		{"x = 1 ; find x so exp(x) = 20", []float64{math.Log(20)}},
		{"x = 1 ; find x from 0 to 50 so x * x * x = 7", []float64{math.Cbrt(7)}},
		{"x = 1 ; find x from 1e-12 to 1e12 so 1 / x = 3e9", []float64{1 / 3e9}},
		{"x = 1 ; find x from 1e-12 to 1e12 so x^0.5 = 9999", []float64{9999 * 9999}},
		{"x = 1 ; find x from -3 to 3 so x^2 - 2 = 0", []float64{-math.Sqrt2, math.Sqrt2}},
		{"x = 1 ; find x from 0 to 10 so (x - 2) * (x - 2.0001) = 0", []float64{2, 2.0001}},
		{"x = 1 ; find x from 0 to 10 so 1 / (x - pi)^2 = 1e6", []float64{math.Pi - 1e-3, math.Pi + 1e-3}},
		{"x = 1 ; find x from 0 to 10 so ln(x) * x = 1", []float64{1.7632228343518967}},                     // exp(W(1))
		{"x = 1 ; find x from 0 to 2 so cos(x * 1 rad) = x", []float64{0.7390851332151607}},                 // the fixed point of cos
		{"x = 1 ; find x from 0 to 10 so x^5 - x = 1", []float64{1.1673039782614187}},                       // Bring radical of 1
		{"x = 1 ; find x from 0.001 to 5 so 1 - exp(-x) = 0.9", []float64{math.Ln10}},                       //
		{"v = 1 V ; find v so v^2 / 15 ohm <= 2.4 W", []float64{-6, 6}},                                     // both ends
		{"t = 1 s ; find t so 15 V * (1 - exp(-t / 1 s)) >= 12.97 V", []float64{-math.Log(1 - 12.97/15)}},   //
		{"a = 1 rad ; find a from 0 deg to 89 deg so tan(a) = 15 %", []float64{math.Atan(0.15)}},            //
		{"t = 20 degC ; find t so 10 ohm * (1 + (t - 20 degC) * 0.4 %/K) = 11 ohm", []float64{293.15 + 25}}, //
	} {
		f := answeredStudy(t, c.lines).(*answer.Found)
		var got []float64
		for _, p := range f.Places {
			switch {
			case p.From.Numbers[0] == p.To.Numbers[0], p.ToEnd:
				got = append(got, p.From.Numbers[0])
			case p.ToStart:
				got = append(got, p.To.Numbers[0])
			default:
				got = append(got, p.From.Numbers[0], p.To.Numbers[0])
			}
		}
		if !slices.EqualFunc(got, c.want, func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*math.Abs(y) }) {
			t.Errorf("%s: got %.12g, want %.12g", c.lines, got, c.want)
		}
	}
}

// The line that takes a value over makes the comparison hold, however it is
// spelled: a rule with the same comparison is clear.
func TestFindTakesOver(t *testing.T) {
	for _, c := range []struct{ given, find, so, take string }{
		{"x = 1", "find x from 0 to 10", "x * x = 4", "x = 2"},
		{"x = 1", "find x from 0 to 10", "x * x = 7", "x = 2.645751311065"},
		{"x = 1", "find x from 0 to 100", "exp(x) = 1e30", ""},
		{"x = 1", "find x from 0 to 10", "3 * x <= 1", ""},
		{"x = 1", "find x from 0 to 10", "3 * x >= 2", ""},
		{"x = 1", "find x from -5 to 5", "ceil(x) >= 2", ""},
		{"x = 1", "find x from -5 to 5", "ceil(x) < 2", ""},
		{"x = 1", "find x from -5 to 5", "x > pi", ""},
		{"r = 1 kohm", "find r from 1 ohm to 1 Mohm", "preferred_up(r, 24) >= 4.7 kohm", ""},
		{"r = 1 kohm", "find r among 1 kohm, 4.7 kohm", "r > 2 kohm", "r = 4.7 kohm"},
		{"t = 20 degC", "find t from 0 degC to 50 degC", "t >= 68 degF", ""},
		{"t = 20 degC", "find t from 0 degF to 50 degF", "t <= 31 degF", ""},
		{"use drop for d", "find d.length", "d.lost <= 5 % of d.supply", ""},
		{"use drop for d", "find d.length", "d.lost = 1 V", ""},
		{"use drop for d", "find d.wire among conductors.area", "d.lost <= 0.3 V", "d.wire = 6 mm2"},
		{"l = 3 ft", "find l", "l * 3 = 10 ft", ""},
	} {
		find := c.given + " ; " + c.find + " so " + c.so
		f := answeredStudy(t, find).(*answer.Found)
		if f.Take == "" || c.take != "" && f.Take != c.take {
			t.Errorf("%s: take it by %q, want %q", find, f.Take, c.take)
			continue
		}
		taken := f.Take
		if strings.HasPrefix(c.given, "use ") {
			taken = c.given + " ; " + f.Take
		}
		row := row{of: map[string]string{"lines": taken + " ; must " + c.so, "read": "verdict", "expected": "clear"}}
		if err := row.shown(); err != nil {
			t.Errorf("%s: taken over by %s: %v", find, f.Take, err)
		}
	}
	for _, none := range []string{ // there is no one value to take over
		"x = 1 ; find x so x^2 = 4",
		"x = 1 ; find x from 0 to 10 so x^2 = -4",
		"x = 1 ; find x from -5 to 5 so ceil(x) = 2.5",
		"x = 1 ; find x from -5 to 5 so x < 6",
		"x = 1 ; find x from -5 to 5 so x > 0",
		"x = 1 ; find x from -5 to 5 so 1 / x > 0",
		"x = 1 ; find x from -5 to 5 so x^2 < 6",
	} {
		if f := answeredStudy(t, none).(*answer.Found); f.Take != "" {
			t.Errorf("%s offers to take over %s", none, f.Take)
		}
	}
}

// What a find line says of where it looked.
func TestFindTellsWhereItLooked(t *testing.T) {
	for _, c := range []struct {
		lines, from, to string
		grown           bool
	}{
		{"x = 1 ; find x from 2 to 20 so x = 3", "2", "20", false},
		{"use drop for d ; find d.length so d.lost = 1 V", "100 mm", "100 m", false},
		{"ask x = 5 V from 1 V to 9 V ; find x so 2 * x = 3 V", "1 V", "9 V", false},
		{"l = 2 m ; find l so 2 * l = 3 m", "2e-9 m", "2000 km", true},
	} {
		f := answeredStudy(t, c.lines).(*answer.Found)
		if got := f.Looked[0].Cell(0); got != c.from && !strings.HasPrefix(c.from, "2e-9") || f.Grown != c.grown {
			t.Errorf("%s: looked from %s, grown: %v", c.lines, got, f.Grown)
		}
		if got := f.Looked[1].Cell(0); got != c.to {
			t.Errorf("%s: looked to %s, want %s", c.lines, got, c.to)
		}
	}
}

// Polynomials of chosen roots: each root in the range is found and no other
// place, and each stretch of an inequality begins and ends at one.
func TestFindRandomRoots(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-9*math.Max(1, math.Abs(y)) }
	for round := range 150 {
		n := 1 + rng.IntN(5)
		roots := make([]float64, n)
		for i := range roots {
			roots[i] = math.Round(rng.Float64()*2e4-1e4) / 1000 // -10 to 10
		}
		slices.Sort(roots)
		roots = slices.Compact(roots)
		if round%3 == 0 { // two close by one another
			roots = slices.Compact(append(roots, roots[len(roots)-1]+0.0003))
		}
		f := fmt.Sprintf("%g", math.Pow(10, rng.Float64()*12-6))
		for _, r := range roots {
			f += fmt.Sprintf(" * (x - (%.17g))", r)
		}
		lo, hi := -11.0, 11.0
		if round%2 == 0 {
			lo, hi = -8.00005, 7.00005
		}
		var inside []float64
		for _, r := range roots {
			if lo <= r && r <= hi {
				inside = append(inside, r)
			}
		}
		found := answeredStudy(t, fmt.Sprintf("x = 1 ; find x from %.17g to %.17g so %s = 0", lo, hi, f)).(*answer.Found)
		var got []float64
		for _, p := range found.Places {
			got = append(got, p.From.Numbers[0])
			if p.Touches || p.Jump || p.From.Numbers[0] != p.To.Numbers[0] {
				t.Errorf("%s: a root is taken for another thing: %+v", f, p)
			}
		}
		if !slices.EqualFunc(got, inside, near) {
			t.Errorf("%s from %v to %v: found %v, want %v", f, lo, hi, got, inside)
		}
		var ends []float64
		at := answeredStudy(t, fmt.Sprintf("x = 1 ; find x from %.17g to %.17g so %s >= 0", lo, hi, f)).(*answer.Found)
		for _, p := range at.Places {
			if !p.ToStart {
				ends = append(ends, p.From.Numbers[0])
			}
			if !p.ToEnd {
				ends = append(ends, p.To.Numbers[0])
			}
		}
		if !slices.EqualFunc(ends, inside, near) {
			t.Errorf("%s >= 0 from %v to %v: the ends are %v, want %v", f, lo, hi, ends, inside)
		}
	}
}

// Stairs of chosen heights: where two are equal is a stretch from one rise to the
// next, and a height between two is a jump at the rise.
func TestFindRandomStairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 60 {
		width := math.Round(rng.Float64()*900+100) / 1000 // 0.1 to 1
		n := 1 + rng.IntN(8)
		stair := fmt.Sprintf("ceil(x / %g)", width)
		flat := answeredStudy(t, fmt.Sprintf("x = 1 ; find x from 0.01 to 9.99 so %s = %d", stair, n)).(*answer.Found)
		from, to := math.Max(0.01, float64(n-1)*width), math.Min(9.99, float64(n)*width)
		if len(flat.Places) != 1 || math.Abs(flat.Places[0].From.Numbers[0]-from) > 1e-9 || math.Abs(flat.Places[0].To.Numbers[0]-to) > 1e-9 {
			t.Errorf("%s = %d: %s, want %v to %v", stair, n, spellFind(flat), from, to)
		}
		rise := answeredStudy(t, fmt.Sprintf("x = 1 ; find x from 0.01 to 9.99 so %s = %d.5", stair, n)).(*answer.Found)
		if len(rise.Places) != 1 || !rise.Places[0].Jump || math.Abs(rise.Places[0].From.Numbers[0]-float64(n)*width) > 1e-9 {
			t.Errorf("%s = %d.5: %s, want a jump at %v", stair, n, spellFind(rise), float64(n)*width)
		}
	}
}

// Polynomials of chosen roots, single, double and triple ones: every root is
// found, each stretch of an inequality lies between two of them, and what a
// strict one leaves out splits a stretch.
func TestFindRandomMultipleRoots(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 300 {
		roots := map[float64]int{}
		for range 1 + rng.IntN(4) {
			digits := math.Pow(10, float64(rng.IntN(4)))
			roots[math.Round((rng.Float64()*18-9)*digits)/digits] = []int{1, 1, 1, 2, 3}[rng.IntN(5)]
		}
		at := slices.Sorted(maps.Keys(roots))
		var factors []string
		for _, r := range at {
			factors = append(factors, fmt.Sprintf("(x - (%g))^%d", r, roots[r]))
		}
		f := strings.Join(factors, " * ")
		sign := func(x float64) float64 {
			y := 1.0
			for r, times := range roots {
				y *= math.Pow(x-r, float64(times))
			}
			return y
		}
		op := []string{"=", "=", "<=", "<", ">", ">="}[rng.IntN(6)]
		var want []string
		spell := func(from, to float64) { want = append(want, fmt.Sprintf("%.2f to %.2f", from, to)) }
		if op == "=" {
			for _, r := range at {
				spell(r, r)
			}
		} else {
			open, began := false, 0.0
			ends := append(append([]float64{-10}, at...), 10)
			for i := 1; i < len(ends); i++ {
				up := sign((ends[i-1]+ends[i])/2) > 0
				holds := up == (op[0] == '>')
				switch {
				case holds && open && len(op) == 1: // the root between them is left out
					spell(began, ends[i-1])
					began = ends[i-1]
				case holds && !open:
					began = ends[i-1]
				case !holds && open:
					spell(began, ends[i-1])
				case !holds && i > 1 && len(op) == 2: // and here it is all that there is
					spell(ends[i-1], ends[i-1])
				}
				open = holds
			}
			if open {
				spell(began, 10)
			}
		}
		found := answeredStudy(t, fmt.Sprintf("x = 1 ; find x from -10 to 10 so %s %s 0", f, op)).(*answer.Found)
		var got []string
		for _, p := range found.Places {
			got = append(got, fmt.Sprintf("%.2f to %.2f", p.From.Numbers[0]+0, p.To.Numbers[0]+0))
		}
		if found.All {
			got = []string{"-10.00 to 10.00"}
		}
		if strings.ReplaceAll(strings.Join(got, ", "), "-0.00", "0.00") != strings.ReplaceAll(strings.Join(want, ", "), "-0.00", "0.00") {
			t.Errorf("%s %s 0: found %s, want %s", f, op, got, want)
		}
	}
}

// The boundary of a stretch is printed so that it holds: with the digits that
// are shown, or more where they do not suffice. Where the boundary itself is
// left out, it is printed all the same, and told to be.
func TestFindPrintsBoundariesThatHold(t *testing.T) {
	for _, c := range []struct{ find, so, from, to string }{
		{"find x from 0 to 10", "3 * x <= 1", "0", "0.3333"},
		{"find x from 0 to 10", "3 * x <= 2", "0", "0.6666"},
		{"find x from 0 to 10", "3 * x >= 2", "0.6667", "10"},
		{"find x from 0 to 10", "3 * x >= 1", "0.3334", "10"},
		{"find x from 0 to 10", "x^2 <= 4", "0", "2"},
		{"find x from -10 to 0", "-3 * x <= 2", "-0.6666", "0"},
		{"find x from -10 to 10", "9 * x^2 <= 4", "-0.6666", "0.6666"},
		{"find x from 0 to 1e6", "3 * x <= 200000", "0", "66666"},
		{"find x from 0 to 10", "x > pi", "3.142", "10"},
		{"find x from 0 to 10", "x > 3", "above 3", "10"},
		{"find x from 0 to 10", "x < 3", "0", "below 3"},
		{"find x from -5 to 5", "ceil(x) = 2", "above 1", "2"},
		{"find x from -5 to 5", "x > 0", "above 0", "5"},
		{"find x from -5 to 5", "1 / x > 0", "above 0", "5"},
		{"find x from -5 to 5", "1 / x < 0", "-5", "below 0"},
		{"find x from 0 to 10", "(x - pi) * (x - pi - 1e-5) < 0", "3.141593", "3.141602"},
		{"find x from 0 to 10", "(x - pi) * (x - pi - 1e-5) > 0", "", ""},
		{"find t from 0 degC to 50 degC", "t >= 69 degF", "20.56 degC", "50 degC"},
		{"find d.length", "d.share <= 5 %", "0.1 m", "8.298 m"},
	} {
		const given = "x = 1 ; t = 20 degC ; use drop for d ; "
		f := answeredStudy(t, given+c.find+" so "+c.so).(*answer.Found)
		for _, p := range f.Places {
			from, to := p.From.Cell(0), p.To.Cell(0)
			for _, end := range []struct {
				value string
				told  bool // that it is left out
			}{{from, p.FromOut}, {to, p.ToOut}} {
				name := strings.Fields(c.find)[1]
				lines := strings.Replace(given, name+" = 1 ;", "", 1)
				lines = strings.Replace(lines, name+" = 20 degC ;", "", 1)
				row := row{of: map[string]string{"lines": lines + name + " = " + end.value + " ; must " + c.so, "read": "verdict", "expected": "clear"}}
				if err := row.shown(); (err != nil) != end.told {
					t.Errorf("%s so %s: %s is printed, left out: %v: %v", c.find, c.so, end.value, end.told, err)
				}
			}
			if p.FromOut {
				from = "above " + from
			}
			if p.ToOut {
				to = "below " + to
			}
			if c.from+c.to != "" && (c.from != from || c.to != to) && !strings.HasPrefix(c.from, "0.1 m") {
				t.Errorf("%s so %s: %s to %s, want %s to %s", c.find, c.so, from, to, c.from, c.to)
			}
			if c.find == "find d.length" && to != c.to {
				t.Errorf("up to %s, want %s", to, c.to)
			}
		}
	}
}

// A place is printed with figures with which a rule that it lies exactly on the
// limit of still holds: 12/7 is 1.714285… and 5/3 is 1.666…, and 1.667 is more.
func TestFindRoundsToTheSideThatHolds(t *testing.T) {
	for lines, want := range map[string]string{
		"x = 1 m ; must 3 * x <= 5 m ; find x so 3 * x = 5 m":   "1.666 m",
		"x = 1 m ; must 7 * x >= 12 m ; find x so 7 * x = 12 m": "1.715 m",
		"x = 1 m ; find x so 3 * x = 5 m":                       "1.667 m",
		"x = 1 m ; find x so 7 * x = 12 m":                      "1.714 m",
		"x = 1 m ; must 3 * x <= 4 m ; find x so 3 * x = 5 m":   "1.667 m",
	} {
		f := answeredStudy(t, lines).(*answer.Found)
		if len(f.Places) != 1 || f.Places[0].From.Cell(0) != want {
			t.Errorf("%s: got %v, want %s", lines, f.Places, want)
		}
	}
}

// What a search offers is judged: verdicts that turn there, a must that fails.
func TestFindJudgesWhatItOffers(t *testing.T) {
	for _, c := range []struct{ lines, want string }{
		{"x = 3 V ; must x < 5 V ; find x so 2 * x = 12 V", "6 V: x < 5 V clear to danger"},
		{"x = 3 V ; must x < 5 V ; find x so 2 * x = 8 V", ""},
		{"x = 6 V ; must x < 5 V ; find x so 2 * x = 16 V", "8 V: x < 5 V danger to danger"},
		{"x = 6 V ; must x < 5 V ; find x so 2 * x = 8 V", "4 V: x < 5 V danger to clear"},
		{"x = 3 V ; must x < 5 V ; find x from 0 V to 9 V so 2 * x >= 11 V", "5.5 V: x < 5 V clear to danger"},
		{"x = 3 V ; should x < 5 V ; find x among 1 V, 7 V so x > 6 V", "7 V: x < 5 V clear to caution"},
		{"n = 3 whole ; must n < 5 ; find n from 1 to 9 so n^2 > 30", "6: n < 5 clear to danger"},
		{"x = 1 m ; must 7 * x <= 12 m ; find x so 7 * x = 12 m", ""}, // exactly on its limit
		{"x = 1 m ; should 7 * x <= 11.9 m ; find x so 7 * x = 12 m", "1.714 m: 7 * x <= 11.9 m clear to caution"},
	} {
		var said []string
		for _, o := range answeredStudy(t, c.lines).(*answer.Found).Judged {
			for _, turn := range o.Turns {
				said = append(said, fmt.Sprintf("%s: %s %s to %s", o.X.Cell(0), turn.Rule(), turn.Was, turn.Now))
			}
		}
		if got := strings.Join(said, "; "); got != c.want {
			t.Errorf("%s: got %q, want %q", c.lines, got, c.want)
		}
	}
}
