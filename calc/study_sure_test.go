package calc_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"railsum/calc/answer"
)

// Values of spreads and of what explains a meter are rows of
// testdata/published/studies.tsv; here is what else they say.

// Each tolerance is a source of its own and is named by its place, the worst
// first.
func TestSpreadNamesItsSources(t *testing.T) {
	for _, c := range []struct {
		what, lines string
		want        []string
	}{
		{"lines, the worst first", "a = 1 V +- 1 % ; b = 1 V +- 3 % ; c = 1 V ; spread a + b + c", []string{"b +- 3 % moves 30 mV", "a +- 1 % moves 10 mV"}},
		{"a name that repeats another is no source", "a = 1 V +- 1 % ; b = a ; spread a + b", []string{"a +- 1 % moves 20 mV"}},
		{"cells, each its own", "table t | r ; \"dock shunter\" | 1 kohm +- 5 % ; two | 2 kohm +- 1 % ; three | 3 kohm ; end ; spread sum(t.r)",
			[]string{`t."dock shunter".r +- 5 % moves 50 ohm`, `t."two".r +- 1 % moves 20 ohm`}},
		{"a computed column, each row its own", "table t | r ; one | 1 kohm ; two | 2 kohm ; end ; t.h = t.r / 2 +- 1 % ; spread sum(t.h)", []string{"t.h: two +- 1 % moves 10 ohm", "t.h: one +- 1 % moves 5 ohm"}},
		{"parts by their marks", `p = marked("4K7J") ; q = resistor("brown black red brown") ; spread p + q`, []string{"p +- 5 % moves 235 ohm", "q +- 1 % moves 10 ohm"}},
		{"a formula's own tolerance beside those it depends on", "a = 100 ohm +- 1 % ; w = 2 * a +- 1 ohm ; spread w", []string{"a +- 1 % moves 2 ohm", "w +- 1 ohm moves 1 ohm"}},
		{"an input of a placed sheet", "use divider for d ; d.upper = 1 kohm +- 5 % ; spread d.unloaded", []string{"d.upper +- 5 % moves 133.3 mV"}},
		{"a temperature", "t = 20 degC +- 2 K ; spread t", []string{"t +- 2 K moves 2 K"}},
		{"none", "a = 1 V ; spread a", nil},
	} {
		s := answeredStudy(t, c.lines).(answer.Spreads)[0]
		var got []string
		sum := 0.0
		for _, p := range s.Parts {
			got = append(got, fmt.Sprintf("%s +- %s moves %s", p.Name, p.Tol, p.Moves.Cell(0)))
			sum += p.Share
		}
		if !slices.Equal(got, c.want) || s.Exact != (c.want == nil) {
			t.Errorf("%s: %s: exact: %v, got\n\t%s\nwant\n\t%s", c.what, c.lines, s.Exact, strings.Join(got, "\n\t"), strings.Join(c.want, "\n\t"))
		}
		if c.want != nil && math.Abs(sum-1) > 1e-12 {
			t.Errorf("%s: the shares add up to %v", c.what, sum)
		}
	}
}

// The intervals lie in one another: the samples within the worst case, their
// middle within them, and the nominal within the worst case.
func TestSpreadIsInOrder(t *testing.T) {
	for _, lines := range []string{
		"v = 12 V +- 5 % ; r1 = 1 kohm +- 5 % ; r2 = 2 kohm +- 5 % ; spread v * r2 / (r1 + r2), r1 / r2, 1 / r1",
		"x = 0.5 +- 0.1 ; spread x * (1 - x), x^3, exp(x), ln(x), sin(x * 30 rad)",
		"t = 20 degC +- 5 K ; spread t, t - 30 degC",
		"load = 3 A +- 0.2 A ; use drop for d with load = load ; spread d.lost, d.longest, d.next_wire",
		"table t | a ; p | 1 +- 0.5 ; q | 2 +- 5 % ; end ; spread sum(t.a), least(t.a), most(t.a), mean(t.a)",
	} {
		for _, s := range answeredStudy(t, lines).(answer.Spreads) {
			order := []float64{s.Lowest.Numbers[0], s.Low95.Numbers[0], s.High95.Numbers[0], s.Highest.Numbers[0]}
			if n := s.Nominal.Numbers[0]; !slices.IsSorted(order) || n < order[0] || n > order[3] {
				t.Errorf("%s: %s: lowest, 2.5 %%, 97.5 %%, highest are %v, the nominal %v", lines, s.Name, order, n)
			}
		}
	}
}

// Rules are judged over the spread: always, in a share of the cases, never.
func TestSpreadJudgesRules(t *testing.T) {
	s := answeredStudy(t, "x = 10 V +- 1 V ; y = 2 * x ; z = 3 V +- 1 V ; must x <= 10.5 V ; must y > 22 V ; should y <= 21 V ; should z > 3 V ; must 2 * z < y ; must 1 V > 0 ; spread y").(answer.Spreads)[0]
	var got []string
	for _, r := range s.Rules {
		share := "sometimes"
		switch r.Holds {
		case 0:
			share = "never"
		case 1:
			share = "always"
		}
		got = append(got, fmt.Sprintf("%s must: %v %s", r.Cond, bool(r.Must), share))
	}
	want := []string{"y > 22 V must: true never", "y <= 21 V must: false sometimes", "2 * z < y must: true always"}
	if !slices.Equal(got, want) {
		t.Errorf("rules\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(want, "\n\t"))
	}
}

// Samples without an answer are counted and not hidden.
func TestSpreadCountsFailures(t *testing.T) {
	s := answeredStudy(t, "x = 1 +- 2 ; spread sqrt(x)").(answer.Spreads)[0]
	if math.Abs(s.Failed-0.25) > 4*math.Sqrt(.25*.75/1e5) { // a quarter of -1 to 3 lies below nothing
		t.Errorf("%v of the samples failed, want a quarter", s.Failed)
	}
	if s.Lowest.Numbers[0] < 0 || s.Lowest.Numbers[0] > 1e-3 || math.Abs(s.Highest.Numbers[0]-math.Sqrt(3)) > 1e-9 {
		t.Errorf("from %v to %v, want 0 to the root of 3", s.Lowest.Numbers, s.Highest.Numbers)
	}
}

// The worst case is searched with many tolerances too, where the corners cannot
// all be tried.
func TestSpreadOfMany(t *testing.T) {
	const n = 24
	lines, sum := "", make([]string, 0, n)
	for i := range n {
		lines += fmt.Sprintf("r%d = %d ohm +- 5 %% ; ", i, 100+i)
		sign := ""
		if i%3 == 0 {
			sign = "1 / "
		}
		sum = append(sum, fmt.Sprintf("%s(r%d / 100 ohm)", sign, i))
	}
	s := answeredStudy(t, lines+"spread "+strings.Join(sum, " + ")).(answer.Spreads)[0]
	var low, high float64
	for i := range n {
		r := (100 + float64(i)) / 100
		if i%3 == 0 {
			low, high = low+1/(1.05*r), high+1/(0.95*r)
		} else {
			low, high = low+0.95*r, high+1.05*r
		}
	}
	if math.Abs(s.Lowest.Numbers[0]-low) > 1e-9*low || math.Abs(s.Highest.Numbers[0]-high) > 1e-9*high || len(s.Parts) != n {
		t.Errorf("from %v to %v, want %v to %v", s.Lowest.Numbers[0], s.Highest.Numbers[0], low, high)
	}
}

// The same notebook gives the same samples.
func TestSpreadIsSeeded(t *testing.T) {
	const lines = "v = 12 V +- 5 % ; r = 1 kohm +- 5 % ; spread v / r"
	a, b := answeredStudy(t, lines).(answer.Spreads)[0], answeredStudy(t, "x = 1 m ; "+lines).(answer.Spreads)[0]
	if a.Low95.Numbers[0] != b.Low95.Numbers[0] || a.High95.Numbers[0] != b.High95.Numbers[0] || a.Samples != 100_000 {
		t.Errorf("%v to %v and then %v to %v", a.Low95.Numbers, a.High95.Numbers, b.Low95.Numbers, b.High95.Numbers)
	}
}

func spellMeasured(m *answer.Measured) string {
	s := fmt.Sprintf("%s beside %s: %s, %s", m.Meter, m.Sum.Cell(0), m.Difference.Cell(0), percentOf(m.Percent))
	if m.Inside {
		s += ", inside"
	}
	for _, e := range m.Suspects {
		s += fmt.Sprintf("; %s = %s", e.Name, e.Wanted.Cell(0))
		if e.Tolerant {
			s += " within its tolerance"
		}
		if !e.State.Settled() {
			s += ", " + e.State.String()
		}
	}
	return s
}

func TestMeasured(t *testing.T) {
	const sum = "i = 1 A +- 10 % ; r = 10 ohm +- 1 % ; v = i * r ; "
	for _, c := range []struct{ what, lines, want string }{
		{"outside", sum + "measured v = 12 V", "12 V beside 10 V: 2 V, +20 %; i = 1.2 A; r = 12 ohm"},
		{"inside", sum + "measured v = 10.5 V", "10.5 V beside 10 V: 500 mV, +5 %, inside; i = 1.05 A within its tolerance; r = 10.5 ohm"},
		{"inside by the meter's own tolerance", sum + "measured v = 11.3 V +- 0.2 V", "11.3 V +- 0.2 V beside 10 V: 1.3 V, +13 %, inside; i = 1.13 A; r = 11.3 ohm"},
		{"inside by the meter's own share", sum + "measured v = 11.3 V +- 2 %", "11.3 V +- 2 % beside 10 V: 1.3 V, +13 %, inside; i = 1.13 A; r = 11.3 ohm"},
		{"just as the sum", sum + "measured v = 10 V", "10 V beside 10 V: 0 V, 0 %, inside"},
		{"nothing has a tolerance", "i = 1 A ; r = 10 ohm ; v = i * r ; measured v = 10.1 V", "10.1 V beside 10 V: 100 mV, +1 %; i = 1.01 A; r = 10.1 ohm"},
		{"the least change first", "r = 10 ohm ; q = 1 ohm ; s = r + q ; measured s = 12 ohm", "12 ohm beside 11 ohm: 1 ohm, +9.091 %; r = 11 ohm; q = 2 ohm"},
		{"what cannot explain it is not told", "r = 10 ohm ; q = 1 ohm ; s = r + q ; measured s = 5 ohm", "5 ohm beside 11 ohm: -6 ohm, -54.55 %; r = 4 ohm"},
		{"a temperature", "t = 20 degC ; k = 5 K ; s = t + k ; measured s = 22 degC", "22 degC beside 25 degC: -3 K, ; t = 17 degC; k = 2 K"},
		{"an input itself", "i = 1 A +- 10 % ; measured i = 1.2 A", "1.2 A beside 1 A: 200 mA, +20 %"},
		{"a row of a computed column", "table t | a ; p | 1 V ; q | 10 V ; end ; t.b = 2 * t.a ; measured t.q.b = 22 V", `22 V beside 20 V: 2 V, +10 %; t."q".a = 11 V`},
		{"a cell", "table t | a ; p | 1 V +- 5 % ; end ; measured t.p.a = 1.02 V", "1.02 V beside 1 V: 20 mV, +2 %, inside"},
		{"a count explains nothing by a share of one", "n = 8 ; i = 1 A ; s = n * i ; measured s = 10.5 A", "10.5 A beside 8 A: 2.5 A, +31.25 %; i = 1.313 A"},
		{"a count explains it by another count", "n = 8 ; i = 1 A ; s = n * i ; measured s = 9 A", "9 A beside 8 A: 1 A, +12.5 %; n = 9; i = 1.125 A"},
		{"a plain number that is no count", "k = 0.5 ; i = 1 A ; s = k * i ; measured s = 1 A", "1 A beside 500 mA: 500 mA, +100 %; k = 1; i = 2 A"},
		{"a whole number with a tolerance is no count", "k = 2 +- 10 % ; i = 1 A ; s = k * i ; measured s = 2.1 A", "2.1 A beside 2 A: 100 mA, +5 %, inside; k = 2.1 within its tolerance; i = 1.05 A"},
		{"a tolerance that covers it before a smaller change", "i = 1 A +- 50 % ; j = 10 A ; s = i + j ; measured s = 11.2 A", "11.2 A beside 11 A: 200 mA, +1.818 %, inside; i = 1.2 A within its tolerance; j = 10.2 A"},
		{"what is assumed before a smaller change", "assume i = 1 A ; j = 10 A ; s = i + j ; measured s = 11.2 A", "11.2 A beside 11 A: 200 mA, +1.818 %; i = 1.2 A, assumed; j = 10.2 A"},
		{"a temperature by its change in a hundred kelvin", "t = 20 degC ; r = 10 ohm ; s = r * (1 + (t - 20 degC) * 0.4 %/K) ; measured s = 11 ohm", "11 ohm beside 10 ohm: 1 ohm, +10 %; r = 11 ohm; t = 45 degC"},
		{"defaults of a placed sheet", "use divider for d with upper = 1 kohm, lower = 1 kohm ; measured d.unloaded = 5 V",
			"5 V beside 6 V: -1 V, -16.67 %; d.supply = 10 V, default; d.lower = 714.3 ohm; d.upper = 1.4 kohm"},
	} {
		if got := spellMeasured(answeredStudy(t, c.lines).(*answer.Measured)); got != c.want {
			t.Errorf("%s: %s: got\n\t%s\nwant\n\t%s", c.what, c.lines, got, c.want)
		}
	}
}

// A part within a formula has no tolerance; a spread does not pass over that in
// silence.
func TestSpreadTellsOfPartsWithinFormulas(t *testing.T) {
	for lines, want := range map[string]string{
		`i = 12 V / marked("4K7J") ; spread 2 * i`:                                    `the tolerance of marked("4K7J") does not count within a formula`,
		`spread 12 V / resistor("yellow violet red gold")`:                            `the tolerance of resistor("yellow violet red gold") does not count within a formula`,
		`r = marked("4K7J") ; i = 12 V / r ; spread i`:                                "",
		`r = marked("4K7J") +- 1 % ; i = 12 V / r ; spread i`:                         "",
		`spread marked("4K7J")`:                                                       "",
		`i = 12 V / marked("4K7") ; spread i`:                                         "",
		`r = marked("4K7J") ; k = 12 V / marked("100RF") ; spread r, 2 * r`:           "",
		`table t | r ; p | marked("4K7J") ; end ; spread sum(t.r)`:                    "",
		`table t | r ; p | marked("4K7J") ; end ; t.i = 12 V / t.r ; spread sum(t.i)`: "",
	} {
		book := open(lines)
		a, err := book.AnswerStudied(context.Background(), len(book.Lines())-1)
		if err != nil || a.Study == nil {
			t.Fatalf("%s: %v%s", lines, err, listed(a.Errors))
		}
		var got []string
		for _, n := range a.Notices {
			got = append(got, n.Message)
		}
		if strings.Join(got, "; ") != want || a.Study.(answer.Spreads)[0].Exact != (len(a.Study.(answer.Spreads)[0].Parts) == 0) {
			t.Errorf("%s: notices %q, want %q", lines, got, want)
		}
	}
}

// The worst case of quadratics in three tolerances, corners or not, is no better
// than the best of a fine grid.
func TestSpreadWorstCaseAgainstGrid(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	coefficient := func() float64 { return math.Round(rng.NormFloat64()*100) / 100 }
	for range 25 {
		var c [9]float64
		for i := range c {
			c[i] = coefficient()
		}
		f := func(x, y, z float64) float64 {
			return c[0]*x + c[1]*y + c[2]*z + c[3]*x*x + c[4]*y*y + c[5]*z*z + c[6]*x*y + c[7]*y*z + c[8]*x*z
		}
		low, high := math.Inf(1), math.Inf(-1)
		const n = 50
		for i := range n + 1 {
			for j := range n + 1 {
				for k := range n + 1 {
					v := f(2*float64(i)/n-1, 2*float64(j)/n-1, 2*float64(k)/n-1)
					low, high = math.Min(low, v), math.Max(high, v)
				}
			}
		}
		line := fmt.Sprintf("spread (%g) * x + (%g) * y + (%g) * z + (%g) * x * x + (%g) * y * y + (%g) * z * z + (%g) * x * y + (%g) * y * z + (%g) * x * z",
			c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8])
		s := answeredStudy(t, "x = 0 +- 1 ; y = 0 +- 1 ; z = 0 +- 1 ; "+line).(answer.Spreads)[0]
		got, to := s.Lowest.Numbers[0], s.Highest.Numbers[0]
		slack := 1e-9 * (math.Abs(low) + math.Abs(high))
		if got > low+slack || to < high-slack {
			t.Errorf("%s: %v to %v, and on a grid %v to %v", line, got, to, low, high)
		}
		if got < low-0.05 || to > high+0.05 { // no place lies further from the grid's
			t.Errorf("%s: %v to %v is beyond all that the grid shows, %v to %v", line, got, to, low, high)
		}
	}
}

// A part that was chosen stays chosen while tolerances move, and its own
// tolerance moves it: worked by hand, the resistor is 51 ohm for 13 V less
// four times 3 V at 20 mA.
func TestSpreadKeepsChosenParts(t *testing.T) {
	const led = "f = 3 V +- 0.2 V ; has = none as ohm ; wanted = (13 V - 4 * f) / 20 mA ; "
	for _, c := range []struct{ lines, lowest, highest string }{
		{led + "r = preferred_up(wanted, 24) ; spread (13 V - 4 * f) / r", "3.922 mA", "35.29 mA"},
		{led + "r = either(has, preferred_up(wanted, 24)) ; spread (13 V - 4 * f) / r", "3.922 mA", "35.29 mA"},
		{led + "r = preferred_up(wanted, 24) +- 2 % ; spread 1 V / r", "19.22 mA", "20.01 mA"},
		{led + "r = wanted ; spread r", "10 Ω", "90 Ω"},
		{"n = 1.4 mm2 +- 0.2 mm2 ; a = next_up(conductors.area, n, none) ; spread a / n", "0.9375", "1.25"},
	} {
		s := answeredStudy(t, c.lines).(answer.Spreads)[0]
		if low, high := s.Lowest.Cell(0), s.Highest.Cell(0); strings.ReplaceAll(low, "ohm", "Ω") != c.lowest || strings.ReplaceAll(high, "ohm", "Ω") != c.highest {
			t.Errorf("%s: from %s to %s, want %s to %s", c.lines, low, high, c.lowest, c.highest)
		}
	}
}
