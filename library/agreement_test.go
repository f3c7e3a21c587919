package library_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"railsum/calc"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/library"
)

// One and the same thing is judged alike wherever it is judged: the sheets that
// can judge it are placed side by side on the same random inputs.
var sameThing = []struct {
	what  string
	drawn []drawn
	lines string
	rules []string // as they stand in the sheets or in their pieces
	tells []string // answers that have to be the same, by the placed sheet
}{
	{"a wire", []drawn{
		{"volts", "V", 5, 30, false}, {"far", "m", 0.1, 30, false}, {"area", "mm2", 0.14, 4, false}, {"amps", "A", 0.1, 8, false}, {"acts", "A", 0.5, 10, false}, {"times", "", 1.2, 3, false},
		{"own", "ohm", 0, 0.5, false}, {"touch", "ohm", 0, 1, false}, {"most", "A", 3, 40, false}, {"dense", "A/mm2", 2, 12, false}, {"dense_short", "A/mm2", 2, 14, false}, {"made", "", 1, 1.8, false}, {"contacts", "", 0, 20, true},
	}, `use loop for hot with length = far, wire = area, allowance = made, temperature = 70 degC, joints = contacts
use drop for drop_ with supply = volts, length = far, wire = area, load = amps, booster = own, contact = touch, limit = most, trip = acts, margin = times, density = dense, short_density = dense_short, allowance = made, joints = contacts
table taken | distance | load
  end of it | far | amps
end
use bus for bus_ with supply = volts, length = far, wire = area, booster = own, contact = touch, limit = most, trip = acts, margin = times, density = dense, short_density = dense_short, allowance = made, joints = contacts, dropper = 0 ohm
bus_.loads = taken
table way | length | area
  all of it | far | area
end
use fault for fault_ with supply = volts, booster = own, contact = touch, limit = most, trip = acts, margin = times, density = dense, short_density = dense_short, allowance = made, joints = contacts, rail_length = 0 m
fault_.path = way
use rails for rails_ with supply = volts, dropper_length = far, dropper = area, load = amps, booster = own, contact = touch, limit = most, trip = acts, margin = times, density = dense, short_density = dense_short, bus = hot.resistance, own = 1e-12 ohm/m, joiners = 0, tail = 0 m
`, []string{"fault >= trip * margin", "trip <= lasting", "load <= trip"}, []string{"drop_.fault", "bus_.fault", "fault_.fault", "rails_.fault"}},
	{"a transformer", []drawn{
		{"volts", "V", 6, 24, false}, {"rise", "", 0, 0.3, false}, {"high", "", 0, 0.15, false}, {"part", "V", 10, 50, false}, {"amps", "A", 0.1, 5, false}, {"silicon", "V", 0.3, 1.2, false},
	}, `use supply for supply_ with kind = "AC", regulated = no, volts = volts, no_load = rise, mains = high, load = amps, diode = silicon
use smoothing for smoothing_ with volts = volts, no_load = rise, mains = high, load = amps, diode = silicon, rated_volts = part, bridge = 20 A
use coil for coil_ with supply = volts, no_load = rise, mains = high, rated = part
`, nil, []string{"supply_.highest", "smoothing_.volts_wanted", "coil_.highest_volts"}},
	{"a grade", []drawn{{"up", "mm", 20, 200, false}, {"round", "m", 0.3, 3, false}, {"most", "", 0.01, 0.1, false}, {"worth", "", 0, 0.009, false}},
		`use helix for helix_ with rise = up, radius = round, limit = most, curve = worth, spacing = 0 mm
use grade for grade_ with rise = up, run = 2 * pi * round, limit = most, curve = worth, rounding = 0 m
`, []string{"felt <= limit", "curve < limit"}, []string{"helix_.felt", "grade_.felt"}},
	{"a curve", []drawn{{"round", "m", 0.2, 3, false}, {"apart", "mm", 20, 100, false}},
		`use curve for curve_ with inner = round, spacing = apart
use throw for inner_ with radius = round
`, nil, []string{"curve_.centre", "inner_.centre"}},
}

func TestVerdictsAgree(t *testing.T) {
	const rows = 10_000
	for _, c := range sameThing {
		t.Run(c.what, func(t *testing.T) {
			text := ""
			for _, d := range c.drawn {
				text += d.name + " = " + syntax.PrintExpr(literal(d.lo+(d.hi-d.lo)/3, d.whole)) + " " + d.unit + "\n"
			}
			f := syntax.ParseFile([]byte(text + c.lines))
			book := calc.Open(f.Lines, library.Shipped())
			study, rng := run.Study{Rows: rows}, rand.New(rand.NewPCG(3, 8))
			groups := map[string][]*check.Def{}
			for i := range f.Lines {
				if a := book.Answer(i); len(a.Errors) > 0 {
					t.Fatalf("%s: %v", f.Lines[i].Raw, a.Errors[0])
				}
				if i < len(c.drawn) {
					def, d := book.C.Main[i], c.drawn[i]
					scale, v := 1.0, make([]float64, rows)
					if d.unit != "" {
						scale = def.Show.Scale()
					}
					for k := range v {
						v[k] = d.lo + (d.hi-d.lo)*rng.Float64()
						if d.whole {
							v[k] = math.Round(v[k])
						}
						v[k] *= scale
					}
					study.Replace(def, func(first int, dst []float64) { copy(dst, v[first:]) })
				}
				for _, p := range book.C.Places[i] {
					for _, q := range p.Whole() {
						for _, r := range q.Rules {
							text := syntax.PrintExpr(r.Expr)
							if text == "load <= trip" && p.Name == "fault_" {
								continue // it knows of no load
							}
							if slices.Contains(c.rules, text) {
								groups[text] = append(groups[text], r)
							}
						}
					}
					for _, tell := range p.Gives {
						if slices.Contains(c.tells, tell.Name) {
							groups["answers"] = append(groups["answers"], tell)
						}
					}
				}
			}
			for what, defs := range groups {
				if len(defs) < 2 {
					t.Fatalf("%s: %d to compare", what, len(defs))
				}
				study.Want = defs
				differ, held := 0, 0
				err := book.M.Study(context.Background(), study, func(first, n int, cols []*run.Col) error {
					for w := range n {
						v, _ := cols[0].At(0, w)
						if v != 0 {
							held++
						}
						for _, c := range cols[1:] {
							for r := range c.Rows {
								if x, mark := c.At(r, w); mark != 0 || math.Abs(x-v) > 1e-9*math.Abs(v) {
									differ++
								}
							}
						}
					}
					return nil
				})
				if err != nil {
					t.Fatal(err)
				}
				t.Logf("%s, %s: %d sheets, %d inputs, %d not nothing, %d differ", c.what, what, len(defs), rows, held, differ)
				if differ > 0 {
					t.Errorf("%s: %s differs in %d of %d", c.what, what, differ, rows)
				}
			}
		})
	}
}
