package units

import (
	"math"
	"math/big"
	"testing"
)

// Factors to SI against NIST SP 811 (2008), Appendix B.8, unless another
// source is named. within is the relative uncertainty of the printed value: 0
// where the definition is exact and the float64 must be the nearest.
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		unit   string
		si     float64
		within float64
		source string
	}{
		{"in", 0.0254, 0, "SP 811"},
		{"ft", 0.3048, 0, "SP 811"},
		{"yd", 0.9144, 0, "SP 811"},
		{"thou", 25.4e-6, 0, "SP 811, mil"},
		{"mile", 1609.344, 0, "SP 811"},
		{"in2", 6.4516e-4, 0, "SP 811"},
		{"ft2", 0.09290304, 0, "SP 811"},
		{"yd2", 0.83612736, 0, "SP 811"},
		{"in3", 16.387064e-6, 0, "SP 811"},
		{"ft3", 2.8316846592e-2, 0, "SP 811, 2.831 685 E-02; exact by the inch"},
		{"cmil", 5.067075e-10, 1e-7, "SP 811"},
		{"kcmil", 0.5067075e-6, 1e-7, "SP 811"},
		{"cmil", 5.06707479e-10, 1e-9, "pi/4 * (0.0254 mm)^2"},
		{"lb", 0.45359237, 0, "SP 811"},
		{"oz", 0.028349523125, 0, "SP 811"},
		{"t", 1000, 0, "SP 811"},
		{"g", 0.001, 0, "SI Brochure"},
		{"lbf", 4.4482216152605, 0, "SP 811"},
		{"ozf", 0.27801385, 1e-8, "SP 811, 2.780 139 E-01"},
		{"kgf", 9.80665, 0, "SP 811"},
		{"gf", 9.80665e-3, 0, "SP 811, kilopond"},
		{"ft*lbf", 1.3558179483, 1e-10, "SP 811"},
		{"kWh", 3.6e6, 0, "SP 811"},
		{"Wh", 3600, 0, "SP 811"},
		{"hp", 745.69987158227, 1e-13, "SP 811, horsepower (550 ft lbf/s)"},
		{"psi", 6894.757, 1e-7, "SP 811"},
		{"psi", 6894.757293168, 1e-12, "lbf/in2"},
		{"bar", 1e5, 0, "SP 811"},
		{"mbar", 100, 0, "SP 811"},
		{"ft/s", 0.3048, 0, "SP 811"},
		{"mph", 0.44704, 0, "SP 811"},
		{"mile/h", 0.44704, 0, "SP 811"},
		{"km/h", 0.27777777777777777778, 0, "SP 811, 1/3.6"},
		{"deg", 0.017453292519943, 1e-13, "SP 811, pi/180"},
		{"rpm", 1. / 60, 0, "1 turn in 60 s"},
		{"degF", 5. / 9, 0, "SP 811, interval"},
		{"Ah", 3600, 0, "SP 811"},
		{"mAh", 3.6, 0, "SP 811"},
		{"ohm*cmil/ft", 1.662426e-9, 1e-6, "SP 811"},
		{"L", 1e-3, 0, "SI Brochure, table 8"},
		{"min", 60, 0, "SI Brochure, table 8"},
		{"h", 3600, 0, "SI Brochure, table 8"},
		{"day", 86400, 0, "SI Brochure, table 8"},
		{"byte", 8, 0, "IEC 80000-13"},
		{"%", 0.01, 0, "ISO 80000-1"},
		{"‰", 0.001, 0, "ISO 80000-1"},
		{"ppm", 1e-6, 0, "SP 811, section 7.10"},
		{"ohm*mm2/m", 1e-6, 0, "IEC 60028 states copper in it: 1/58 ohm*mm2/m"},
		{"A*sqrt(s)/mm2", 1e6, 0, "IEC 60364-5-54 states k in it"},
		{"g/cm3", 1000, 0, "SP 811"},
		{"A/mm2", 1e6, 0, "SI Brochure"},
	} {
		u, err := Parse(c.unit)
		if err != nil {
			t.Errorf("%s: %v", c.unit, err)
			continue
		}
		got := u.SI(big.NewRat(1, 1))
		if u.Point() {
			got = u.Scale()
		}
		if math.Abs(got-c.si) > c.within*c.si || got != u.Scale() {
			t.Errorf("1 %s = %.17g, want %.17g within %g (%s)", c.unit, got, c.si, c.within, c.source)
		}
	}
}

// A number in an exact unit becomes the float64 nearest to its SI value, and
// comes back without dirt. The first three rows are those that go wrong where
// factors are floats.
func TestThereAndBack(t *testing.T) {
	for _, c := range []struct {
		number, unit string
		si           float64
		back         string
	}{
		{"3/8", "in", 0.009525, "0.375"},
		{"1.1", "in", 0.02794, "1.1"},
		{"6", "in2", 0.00387096, "6"},
		{"25.4", "mm", 0.0254, "25.4"},
		{"0.3", "mA", 0.0003, "0.3"},
		{"80", "km/h", 80 / 3.6, "80"},
		{"68", "degF", 293.15, "68"},
		{"20", "degC", 293.15, "20"},
		{"-40", "degC", 233.15, "-40"},
		{"-40", "degF", 233.15, "-40"},
		{"-273.15", "degC", 0, "-273.2"},
		{"5", "%", 0.05, "5"},
		{"25", "‰", 0.025, "25"},
		{"3930", "ppm/K", 0.00393, "3930"},
		{"0.393", "%/degC", 0.00393, "0.393"},
		{"4.5", "A", 4.5, "4.5"},
	} {
		u := mustParse(t, c.unit)
		x, _ := new(big.Rat).SetString(c.number)
		si := u.SI(x)
		if math.Abs(si-c.si) > 1e-15*math.Abs(c.si) {
			t.Errorf("%s %s = %.17g in SI, want %.17g", c.number, c.unit, si, c.si)
		}
		if got := Format(u.FromSI(si)); got != c.back {
			t.Errorf("%s %s comes back as %s, want %s", c.number, c.unit, got, c.back)
		}
	}
}

// Temperatures by (degF - 32)/1.8 and + 273.15, NIST SP 811 Appendix B.8.
func TestTemperaturePoints(t *testing.T) {
	c, f := mustParse(t, "degC"), mustParse(t, "degF")
	for _, row := range []struct{ c, f int64 }{{0, 32}, {100, 212}, {20, 68}, {-40, -40}, {70, 158}, {155, 311}} {
		k := c.SI(big.NewRat(row.c, 1))
		if got := f.FromSI(k); math.Abs(got-float64(row.f)) > 1e-12*k {
			t.Errorf("%d degC = %v degF, want %d", row.c, got, row.f)
		}
		if got := f.SI(big.NewRat(row.f, 1)); got != k {
			t.Errorf("%d degF = %v K, want %v", row.f, got, k)
		}
	}
	if !c.Point() || !f.Point() || mustParse(t, "K").Point() {
		t.Error("degC and degF alone are points, K is not")
	}
	for _, s := range []string{"W/(m*degC)", "%/degC", "1/degC", "degC/s"} {
		if u := mustParse(t, s); u.Point() {
			t.Errorf("%s is a point", s)
		}
	}
	if k := mustParse(t, "W/degF").Scale(); math.Abs(k-1.8) > 1e-15 {
		t.Errorf("a difference of 1 degF is 5/9 K, so 1 W/degF is 1.8 W/K, not %v", k)
	}
}

func mustParse(t testing.TB, s string) Unit {
	t.Helper()
	u, err := Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return u
}
