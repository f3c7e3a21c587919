package library

import (
	"math"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// open computes a notebook that sees the shipped library and fails the test on
// any error in it.
func open(t *testing.T, text string) *calc.Book {
	t.Helper()
	f := syntax.ParseFile([]byte(text))
	b := calc.Open(f.Lines, Shipped())
	for i, line := range f.Lines {
		for _, d := range b.Answer(i).Errors {
			t.Errorf("%s\n%v", line.Raw, d)
		}
	}
	return b
}

// card gives the card of the last use line of a notebook without an error.
func card(t *testing.T, text string) *answer.Card {
	t.Helper()
	return lastCard(t, open(t, text))
}

func lastCard(t *testing.T, b *calc.Book) *answer.Card {
	t.Helper()
	for i := len(b.Lines()) - 1; i >= 0; i-- {
		if a := b.Answer(i); len(a.Cards) > 0 {
			return a.Cards[0]
		}
	}
	t.Fatal("no card")
	return nil
}

// give finds an answer on a card.
func give(t *testing.T, c *answer.Card, name string) *answer.Value {
	t.Helper()
	for _, g := range c.Gives {
		if g.Name == name {
			if g.Value == nil {
				t.Fatalf("%s has no value: %s", name, g.Why)
			}
			return g.Value
		}
	}
	t.Fatalf("no answer %s on the card of %s", name, c.Sheet)
	return nil
}

func TestDefaultsAreClear(t *testing.T) {
	for _, name := range Shipped().SheetNames() {
		c := card(t, "use "+name+" for x\n")
		if c.Verdict != answer.Clear {
			t.Errorf("%s: %v", name, c.Verdict)
		}
		for _, r := range c.Rules {
			if r.Verdict != answer.Clear {
				t.Errorf("%s: %s: %v, %s %s", name, r.Cond.String(), r.Verdict, r.Figures(), r.Why)
			}
		}
		for _, line := range append(append([]answer.CardLine{}, c.Asks...), c.Gives...) {
			if line.Meaning == "" || line.Why != "" || line.Outside {
				t.Errorf("%s: %s: meaning %q, why %q, outside %v", name, line.Name, line.Meaning, line.Why, line.Outside)
			}
		}
	}
}

// The wire of the worked checks: 13.3 ohm/km flexible 1.5 mm2 is 1.1571 times
// ideal copper; 20 degC and no joints, as the table has it.
const (
	flexible = "allowance = 1.1571, temperature = 20 degC, joints = 0"
	ideal    = "allowance = 1, temperature = 20 degC, joints = 0"
)

const sample = "use drop for x with length = 9.5 m, load = 2.6 A, "

const club = `table fleet | count | moving | draw as A | stall as A
  engine | 8 | 6 | 0.4 | 1
end
use headroom for x with rating = 5 A, coaches = 20, axles = 100, capacitors = 10
x.engines = fleet
`

// Each value is worked by hand from the sheet's formulas, or printed in the
// named book; basis and source stand beside it.
var worked = []struct {
	lines  string
	answer string
	want   float64 // in SI
	part   float64 // how far off it may be, as a part
	source string
}{
	{"use loop for x\n", "resistance", 0.2417, 5e-4, "by hand"},
	{"use loop for x with " + flexible + ", length = 1 km\n", "resistance", 26.6, 1e-3, "IEC 60228:2004 Table 3: 13.3 ohm/km, twice"},
	{"use loop for x with " + ideal + ", length = 9.5 m\n", "resistance", 0.2184, 5e-4, "by hand"},
	{"use loop for x with length = 10 m, wire = awg(12), allowance = 0.9976, temperature = 20 degC, joints = 0\n", "resistance", 0.104, 5e-3, "open college physics text: 20.0 m of 12-gauge copper, 1.72e-8 ohm m"},

	{"use drop for x\n", "lost", 0.7252, 5e-4, "by hand"},
	{"use drop for x\n", "share", 0.0483, 2e-3, "by hand"},
	{"use drop for x\n", "fault", 31.56, 1e-3, "by hand"},
	{"use drop for x\n", "lasting", 7.5, 1e-9, "5 A/mm2, common practice"},
	{sample + ideal + "\n", "lost", 0.568, 1e-3, "by hand"},
	{sample + ideal + "\n", "share", 0.0379, 2e-3, "by hand"},
	{sample + flexible + "\n", "resistance", 0.2527, 5e-4, "by hand"},
	{sample + flexible + "\n", "lost", 0.657, 1e-3, "by hand"},
	{sample + flexible + "\n", "share", 0.0438, 1e-3, "by hand"},
	{sample + flexible + "\n", "heat", 1.708, 1e-3, "by hand"},
	{sample + flexible + "\n", "longest", 10.84, 1e-3, "by hand"},
	{sample + flexible + "\n", "least_wire", 1.314e-6, 1e-3, "by hand: 1.5 mm2 * 9.5 m / 10.84 m"},
	{sample + flexible + "\n", "next_wire", 1.5e-6, 1e-9, "IEC 60228"},
	{"use drop for x with length = 0 m, joints = 0\n", "lost", 0, 1e-12, "limiting case: no length loses nothing"},

	{"use scale for x\n", "model", 0.28736, 1e-4, "25 m at 1:87, by hand"},
	{"use scale for x with scale = scale_HO_us\n", "model", 0.28703, 1e-4, "25 m at 1:87.1, by hand"},
	{"use scale for x\n", "model_speed", 0.2554, 2e-4, "80 km/h at 1:87, by hand"},
	{"use scale for x with scale = scale_N\n", "model_speed", 0.1389, 2e-4, "80 km/h at 1:160, by hand"},
	{"use scale for x with scale = scale_0\n", "model_speed", 0.4938, 2e-4, "80 km/h at 1:45, by hand"},
	{"use scale for x\n", "time", 11.745, 1e-4, "3 m at 80 km/h, by hand"},
	{"use scale for x\n", "full_distance", 261, 1e-9, "3 m times 87"},
	{"use scale for x with distance = 3 m, timed = 11.745 s\n", "timed_speed", 80 / 3.6, 1e-4, "the way back"},
	{"use scale for x with full = 24.2 m, scale = scale_TT\n", "model", 0.202, 3e-3, "MOROP NEM 103 prints 202 mm"},
	{"use scale for x with full = 20 m, scale = scale_Z\n", "model", 0.091, 6e-3, "MOROP NEM 103 prints 91 mm"},
	{"use scale for x with full = 27.2 m, other = scale_S\n", "model_in_other", 0.425, 1e-9, "MOROP NEM 103 prints 425 mm"},
	{"use scale for x with full = 20 m, scale = scale_O_uk\n", "model", 0.460, 1e-3, "MOROP NEM 103 prints 460 mm"},

	{"use stub for x with fastest = 80 km/h at H0\n", "shortest", 0.0102, 2e-3, "by hand"},
	{"use stub for x\n", "longest", 0.038, 1e-9, "40 mm less two gaps of 1 mm, by hand"},
	{"use stub for x with ride = 2 s\n", "longest", 0.048, 1e-9, "and 2 s at 5 mm/s, by hand"},
	{"use stub for x with length = 38 mm\n", "fastest_allowed", 0.950, 1e-9, "by hand"},
	{"use stub for x with length = 50 mm, span = 35 mm\n", "dead", 3.4, 1e-9, "by hand"},
	{"use stub for x\n", "dead", 0, 1e-12, "limiting case: a stub shorter than the span is never dead"},
	{"use stub for x with scale = \"N\"\n", "usual", 0.030, 1e-9, "common practice, no source"},

	{"use input_resistor for x\n", "current", 4.18e-3, 1e-3, "by hand"},
	{"use input_resistor for x\n", "heat", 57.7e-3, 1e-3, "by hand"},
	{"use input_resistor for x\n", "loaded", 0.115, 5e-3, "by hand"},
	{"use input_resistor for x with high = 15 V, tolerance = 0 %\n", "rating", 115.4e-3, 1e-3, "by hand"},
	{"use input_resistor for x with high = 15 V, tolerance = 0 %\n", "next_rating", 0.125, 1e-9, "common practice: next standard part"},
	{"use input_resistor for x with high = 27 V, tolerance = 0 %\n", "greatest_heat", 201.7e-3, 1e-3, "by hand"},
	{"use input_resistor for x with high = 27 V, tolerance = 0 %\n", "rating", 403e-3, 2e-3, "by hand"},
	{"use input_resistor for x with resistor = 3400 ohm\n", "standard", 3300, 1e-9, "IEC 60063, E24"},
	{"use input_resistor for x with normal = 14.14 V, high = 14.14 V, forward = 0 V, resistor = 100 ohm\n", "current", 0.141, 5e-3, "open college physics text: 100 ohm, 2.0 W, 14.1 V, 0.141 A"},
	{"use input_resistor for x with normal = 14.14 V, high = 14.14 V, forward = 0 V, resistor = 100 ohm\n", "heat", 2.0, 5e-3, "open college physics text: the same"},

	{"use headroom for x\n", "total", 2.05, 1e-9, "by hand"},
	{"use headroom for x\n", "stalled", 2.65, 1e-9, "by hand"},
	{"use headroom for x\n", "restart", 1.05, 1e-9, "by hand"},
	{"use headroom for x\n", "supply_current", 2.0098, 1e-4, "2.05 A * 15 V / (18 V * 0.85), by hand"},
	{"use headroom for x with feed = \"AC\", feed_volts = 16 V\n", "supply_power", 59.04, 1e-4, "16 V * 1.8 * 2.05 A, by hand"},
	{"use headroom for x with track = 24 V\n", "limited", 100, 1e-9, "IEC 60950-1 Table 2B: 100 VA above 20 V"},
	{club, "total", 3.27, 1e-9, "by hand, common practice"},
	{club, "spare", 1.73, 1e-9, "by hand, common practice"},
	{club, "share", 0.346, 1e-9, "by hand, common practice"},
	{club, "inrush", 1.5, 1e-9, "10 capacitors, 100 ohm, 15 V, by hand"},
	{club, "restart", 2.37, 1e-9, "by hand, common practice"},
	{club, "boosters", 1, 1e-9, "3.27 A of 5 A less 20 %, by hand"},
	{club + "x.reserve = 40 %\n", "boosters", 2, 1e-9, "3.27 A of 5 A less 40 %, by hand"},
}

func TestWorked(t *testing.T) {
	for _, c := range worked {
		v := give(t, card(t, c.lines), c.answer)
		if got := v.Numbers[0]; math.Abs(got-c.want) > c.part*max(math.Abs(c.want), 1e-12) {
			t.Errorf("%s%s = %v, want %v (%s)", c.lines, c.answer, got, c.want, c.source)
		}
	}
}

func TestBands(t *testing.T) {
	v := give(t, card(t, "use input_resistor for x\n"), "marking")
	// IEC 60062 Table 1: 3, 3, times 100, 5 %.
	if got := strings.ReplaceAll(v.Texts[0], "-", " "); got != "orange orange red gold" {
		t.Errorf("the bands of 3k3 are %q", got)
	}
}

// Each rule turns when its subject does, and no other rule with it.
func TestRules(t *testing.T) {
	for _, c := range []struct {
		with    string
		rule    string // begins with this
		verdict answer.Verdict
	}{
		{"loop for x with joint = 50 mohm", "joint <= 20 mohm", answer.Caution},
		{"drop for x with wire = 1 mm2, length = 4 m, trip = 6 A", "trip <= lasting", answer.Danger},
		{"drop for x with length = 9.5 m", "share <= allowed", answer.Caution},
		{"drop for x with wire = 1 mm2, length = 34 m, load = 0.35 A, contact = 0.5 ohm", "fault >= trip * margin", answer.Danger},
		{"drop for x with load = 15 A, wire = 6 mm2, length = 1 m, joints = 0, joint = 0 ohm", "heat_per_metre <= 1 W/m", answer.Caution},
		{"scale for x with norm = \"not named\"", "norm != \"not named\"", answer.Caution},
		{"scale for x with norm = \"not named\", scale = scale_N", "", answer.Clear},
		{"stub for x with length = 39 mm", "length <= longest", answer.Danger},
		{"stub for x with fastest = 0.8 m/s", "length >= shortest", answer.Danger},
		{"stub for x with length = 55 mm, span = 80 mm", "length <= usual", answer.Caution},
		{"stub for x with length = 8 mm, fastest = 100 mm/s", "length >= 10 mm", answer.Caution},
		{"input_resistor for x with fitted = 0.25 W", "rating <= fitted", answer.Danger},
		{"input_resistor for x with fitted = 0.25 W, closed = 1 %", "rating <= fitted", answer.Danger},
		{"input_resistor for x with resistor = 10k, least = 2 mA", "least_current >= least", answer.Danger},
		{"input_resistor for x with resistor = 470R, fitted = 3 W", "greatest_current <= most", answer.Danger},
		{"input_resistor for x with leakage = 0.6 mA", "leakage < ", answer.Caution},
		{"headroom for x with rating = 2 A, reserve = 10 %", "total <= rating", answer.Danger},
		{"headroom for x with trip = 2.5 A", "stalled <= trip", answer.Danger},
		{"headroom for x with capacitors = 40", "restart <= trip", answer.Danger},
		{"headroom for x with reserve = 50 %", "share >= reserve", answer.Caution},
		{"headroom for x with rating = 8 A", "rating * track <= limited", answer.Caution},
	} {
		found := c.rule == ""
		card := card(t, "use "+c.with+"\n")
		if card.Verdict < c.verdict || c.rule == "" && card.Verdict != c.verdict {
			t.Errorf("%s: the card says %v", c.with, card.Verdict)
		}
		for _, r := range card.Rules {
			if c.rule != "" && strings.HasPrefix(r.Cond.String(), c.rule) {
				found = true
				if r.Verdict != c.verdict || r.Meaning == "" {
					t.Errorf("%s: %s: %v, %q", c.with, r.Cond.String(), r.Verdict, r.Meaning)
				}
			}
		}
		if !found {
			t.Errorf("%s: no rule %q", c.with, c.rule)
		}
	}
}

// No supply can push 20 A down 27.5 m of thin wire; what then reads as a loss is
// no answer to trust, and the rule says so.
func TestImpossibleLoad(t *testing.T) {
	c := card(t, "use drop for x with length = 27.5 m, wire = 1.5 mm2, load = 20 A, allowed = 10 %, joints = 0\n")
	if lost := give(t, c, "lost").Numbers[0]; lost < 15 {
		t.Fatalf("only %v V lost", lost)
	}
	if r := c.Rules[0]; r.Cond.String() != "lost < supply" || r.Verdict != answer.Danger {
		t.Errorf("%s: %v", r.Cond.String(), r.Verdict)
	}
}

// When the joints alone lose more than is allowed, no wire will do: the card
// has no size, and says so.
func TestNoWireWillDo(t *testing.T) {
	c := card(t, "use drop for x with joint = 100 mohm, joints = 40\n")
	if v := give(t, c, "next_wire").Numbers[0]; v != 0 {
		t.Errorf("next_wire is %v", v)
	}
	if v := give(t, c, "longest").Numbers[0]; v != 0 {
		t.Errorf("longest is %v", v)
	}
	if v := give(t, c, "least_wire").Numbers[0]; v != 1 {
		t.Errorf("least_wire is %v, want the square metre that stands for none", v)
	}
	if r := c.Rules[6]; r.Cond.String() != "next_wire > 0" || r.Verdict != answer.Caution {
		t.Errorf("%s: %v", r.Cond.String(), r.Verdict)
	}
}

// The sheet placed over a column answers with a column, and says what it says
// for each row alone.
func TestDropOverColumn(t *testing.T) {
	const table = "table runs | far | wire as mm2 | load as A\n  quay | 9.5 m | 1.5 | 2.6\n  yard | 3 m | 0.5 | 0.5\n  branch | 60 m | 1 | 0.35\nend\n"
	c := card(t, table+"use drop for x with length = runs.far, wire = runs.wire, load = runs.load\n")
	alone := []string{"length = 9.5 m, wire = 1.5 mm2, load = 2.6 A", "length = 3 m, wire = 0.5 mm2, load = 0.5 A", "length = 60 m, wire = 1 mm2, load = 0.35 A"}
	for _, g := range c.Gives {
		if g.Name == "lasting" || g.Value == nil {
			continue
		}
		if len(g.Value.Numbers) != len(alone) {
			t.Errorf("%s has %d rows", g.Name, len(g.Value.Numbers))
			continue
		}
		for i, with := range alone {
			one := give(t, card(t, "use drop for x with "+with+"\n"), g.Name)
			if !agree(g.Value.Numbers[i], one.Numbers[0], 1e-12) {
				t.Errorf("%s, row %d: %v, alone %v", g.Name, i+1, g.Value.Numbers[i], one.Numbers[0])
			}
		}
	}
	for _, r := range c.Rules {
		if r.Cond.String() == "trip <= lasting" && (r.Verdict != answer.Danger || strings.Join(r.Fails, " ") != "yard") {
			t.Errorf("%s: %v in %q", r.Cond.String(), r.Verdict, r.Fails)
		}
	}
}

// Checks that need no number to trust.
func TestMetamorphic(t *testing.T) {
	lost := func(with string) float64 {
		return give(t, card(t, "use drop for x with "+with+"\n"), "lost").Numbers[0]
	}
	one := lost("length = 5 m, joints = 0")
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"twice the length loses twice as much", lost("length = 10 m, joints = 0"), 2 * one},
		{"two equal runs side by side lose half", lost("length = 5 m, joints = 0, wire = 3 mm2"), one / 2},
		{"a run in two pieces adds up", lost("length = 2 m, joints = 1") + lost("length = 3 m, joints = 3"), lost("length = 5 m, joints = 4")},
	} {
		if !agree(c.got, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	share := func(with string) float64 {
		return give(t, card(t, "use drop for x with "+with+"\n"), "share").Numbers[0]
	}
	if a, b := share("supply = 10 V, load = 1 A"), share("supply = 20 V, load = 2 A"); !agree(a, b, 1e-12) {
		t.Errorf("the share is %v, and %v with volts and amperes doubled", a, b)
	}
}
