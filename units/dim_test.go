package units

import (
	"strings"
	"testing"
)

func TestWords(t *testing.T) {
	for _, c := range []struct{ unit, words string }{
		{"kV", "a voltage (V)"},
		{"mA", "a current (A)"},
		{"kohm", "a resistance (ohm)"},
		{"VA", "a power (W)"},
		{"Wh", "an energy (J)"},
		{"in", "a length (m)"},
		{"cmil", "an area (m2)"},
		{"L", "a volume (m3)"},
		{"mph", "a speed (m/s)"},
		{"m/s2", "an acceleration (m/s2)"},
		{"h", "a time (s)"},
		{"lb", "a mass (kg)"},
		{"lbf", "a force (N)"},
		{"rpm", "a frequency (Hz)"},
		{"uF", "a capacitance (F)"},
		{"uH", "an inductance (H)"},
		{"mAh", "a charge (As)"},
		{"K", "a temperature difference (K)"},
		{"A/mm2", "a current density (A/mm2)"},
		{"ohm/km", "a resistance per length (ohm/m)"},
		{"ohm*cmil/ft", "a resistivity (ohm*m)"},
		{"W/m", "a power per length (W/m)"},
		{"lm", "a luminous intensity (cd)"},
		{"lx", "an illuminance (lx)"},
		{"byte", "an amount of data (bit)"},
		{"%", "a plain number"},
		{"deg", "a plain number"},
		{"kg*m", "a quantity in m*kg"},
	} {
		if got := mustParse(t, c.unit).Dim().Words(); got != c.words {
			t.Errorf("%s is %s, want %s", c.unit, got, c.words)
		}
	}
}

func TestDimArithmetic(t *testing.T) {
	v, a, m := mustParse(t, "V").Dim(), mustParse(t, "A").Dim(), mustParse(t, "m").Dim()
	if v.Mul(a) != mustParse(t, "W").Dim() || v.Div(a) != mustParse(t, "ohm").Dim() || !v.Div(v).IsPlain() {
		t.Error("products of dimensions are wrong")
	}
	area, err := m.Pow(2, 1)
	if err != nil {
		t.Fatal(err)
	}
	if root, err := area.Pow(1, 2); err != nil || root != m {
		t.Errorf("the root of an area is %v, %v", root, err)
	}
	if same, err := area.Pow(-3, -6); err != nil || same != m {
		t.Errorf("an exponent of -3/-6 is not reduced: %v, %v", same, err)
	}
	if d, err := v.Pow(0, 5); err != nil || !d.IsPlain() {
		t.Errorf("V^0 is %v, %v", d, err)
	}
	for _, p := range [][2]int{{25, 1}, {-25, 1}, {1, 13}, {1, 0}, {1 << 62, 3}, {3, 1 << 62}, {-1 << 63, 1}} {
		if d, err := m.Pow(p[0], p[1]); err == nil {
			t.Errorf("m^(%d/%d) is %v", p[0], p[1], d)
		}
	}
	if d, err := (Dim{}).Pow(1<<62, 3); err != nil || !d.IsPlain() {
		t.Errorf("a plain number to any power is plain, not %v, %v", d, err)
	}
}

// Squaring over and over must end in Beyond, never in a dimension gone round.
func TestBeyond(t *testing.T) {
	d := mustParse(t, "m").Dim()
	for range 70 {
		d = d.Mul(d)
	}
	if !d.Beyond() || d.IsPlain() || d.String() != "" || !strings.Contains(d.Words(), "beyond") {
		t.Errorf("m^(2^70) is %v", d)
	}
	if !d.Div(d).Beyond() {
		t.Error("what is beyond comes back")
	}
	if u := Choose(d, []float64{1}, nil); !u.IsZero() {
		t.Errorf("shown in %v", u)
	}
}

func TestLength(t *testing.T) {
	for _, c := range []struct {
		unit     string
		num, den int
		only     bool
	}{
		{"in", 1, 1, true}, {"mm2", 2, 1, true}, {"L", 3, 1, true}, {"km/h", 1, 1, true}, {"m/s2", 1, 1, true},
		{"sqrt(m)", 1, 2, true}, {"s", 0, 1, true}, {"1/m", -1, 1, true}, {"V", 2, 1, false}, {"%", 0, 1, true},
	} {
		num, den, only := mustParse(t, c.unit).Dim().Length()
		if num != c.num || den != c.den || only != c.only {
			t.Errorf("%s: %d/%d, %v", c.unit, num, den, only)
		}
	}
}
