package syntax

import (
	"math"
	"testing"
)

// TestValues checks the value in SI of numbers as written. The values are the
// decimal numbers that the definitions give; Go's own constants round them
// correctly, so equality is exact.
func TestValues(t *testing.T) {
	for _, c := range []struct {
		src  string
		want float64
		form Form
		why  string
	}{
		{"0.1", 0.1, Plain, "a float64"},
		{"2e3", 2000, Plain, "a float64"},
		{"123456789012345678", 123456789012345678, Plain, "a float64, rounded"},
		{"5 %", 0.05, Quantity, "per cent is 0.01"},
		{"0.7 mm", 0.0007, Quantity, "milli is 1/1000, SI brochure table 7"},
		{"287.4 mm", 0.2874, Quantity, "milli is 1/1000, SI brochure table 7"},
		{"2.2 uF", 2.2e-6, Quantity, "micro, SI brochure table 7"},
		{"1.5 mm2", 1.5e-6, Quantity, "a square millimetre is 1e-6 m2"},
		{"13.3 ohm/km", 0.0133, Quantity, "kilo, SI brochure table 7"},
		{"1e-3 km", 1, Quantity, "kilo, SI brochure table 7"},
		{"1 in", 0.0254, Quantity, "yard and pound agreement 1959"},
		{"0.1 in", 0.00254, Quantity, "yard and pound agreement 1959"},
		{"1 mile", 1609.344, Quantity, "yard and pound agreement 1959"},
		{"1 lb", 0.45359237, Quantity, "yard and pound agreement 1959"},
		{"36 km/h", 10, Quantity, "an hour is 3600 s"},
		{"20 degC", 293.15, Quantity, "T/K = t/degC + 273.15, SI brochure 2.3.1"},
		{"-5 degC", 268.15, Quantity, "T/K = t/degC + 273.15, SI brochure 2.3.1"},
		{"-273.15 degC", 0, Quantity, "T/K = t/degC + 273.15, SI brochure 2.3.1"},
		{"32 degF", 273.15, Quantity, "the freezing point of water, by definition of the scale"},
		{"-40 degF", 233.15, Quantity, "-40 degC"},
		{"3/8 in", 0.009525, Fraction, "9.525 mm, by 25.4 mm to the inch"},
		{"2 3/8 in", 0.060325, Fraction, "60.325 mm, by 25.4 mm to the inch"},
		{"1/64 in", 0.000396875, Fraction, "25.4 mm / 64"},
		{"⅞ in", 0.022225, Fraction, "25.4 mm * 7 / 8"},
		{"2 ft 6 in", 0.762, Mixed, "762 mm, by 25.4 mm to the inch"},
		{"2 ft 6 3/8 in", 0.771525, Mixed, "30.375 in * 25.4 mm"},
		{"1 mile 1 yd 1 ft 1 in", 1609.344 + 0.9144 + 0.3048 + 0.0254, Mixed, "yard and pound agreement 1959"},
		{"1 lb 8 oz", 0.680388555, Mixed, "24/16 lb, yard and pound agreement 1959"},
		{"1 h 30 min", 5400, Mixed, "an hour is 60 min"},
		{"1 min 0.5 s", 60.5, Mixed, "a minute is 60 s"},
		{"1:87", 1.0 / 87, Ratio, "a quotient"},
		{"1:22.5", 1 / 22.5, Ratio, "a quotient"},
		{"87:1", 87, Ratio, "a quotient"},
		{"0x1F", 31, Bits, "base 16"},
		{"0b1010", 10, Bits, "base 2"},
		{"0x20000000000000", 1 << 53, Bits, "base 16"},
		{"4R7", 4.7, Code, "IEC 60062:2016 clause 4"},
		{"0R47", 0.47, Code, "IEC 60062:2016 clause 4 (R47)"},
		{"470R", 470, Code, "IEC 60062:2016 clause 4"},
		{"4K7", 4700, Code, "IEC 60062:2016 clause 4"},
		{"3k3", 3300, Code, "IEC 60062:2016 clause 4"},
		{"47K3", 47300, Code, "IEC 60062:2016 clause 4"},
		{"4M7", 4.7e6, Code, "IEC 60062:2016 clause 4"},
		{"1G0", 1e9, Code, "IEC 60062:2016 clause 4, from memory"},
		{"3p3", 3.3e-12, Code, "IEC 60062:2016 clause 4, from memory"},
		{"4n7", 4.7e-9, Code, "IEC 60062:2016 clause 4, from memory"},
		{"2µ2", 2.2e-6, Code, "IEC 60062:2016 clause 4, from memory"},
		{"470u", 470e-6, Code, "IEC 60062:2016 clause 4, from memory"},
	} {
		l, _ := ParseLine(c.src)
		q, ok := l.Node.(*Question)
		if !ok {
			t.Errorf("%s: %v", c.src, l.Errors)
			continue
		}
		lit, ok := q.Expr.(*Literal)
		switch {
		case !ok:
			t.Errorf("%s is a %T", c.src, q.Expr)
		case lit.Form != c.form:
			t.Errorf("%s has form %d, want %d", c.src, lit.Form, c.form)
		case lit.Value != c.want && math.Abs(lit.Value-c.want) > 0:
			t.Errorf("%s is %v, want %v (%s)", c.src, lit.Value, c.want, c.why)
		}
	}
}

// TestShortWay compares the short way to a value with exact arithmetic.
func TestShortWay(t *testing.T) {
	c := make(unitCache)
	for _, unit := range []string{"V", "mm", "mm2", "uF", "%", "ppm", "kohm", "ohm/km", "pF", "GHz"} {
		k := c.lookup(unit)
		if k == nil || !k.decimal {
			t.Errorf("%s has no short way", unit)
			continue
		}
		for _, text := range []string{"0.1", "0.7", "1", "3.3", "28.74", "287.35632", "123456789.123456789", "9007199254740993"} {
			d := decimal{text: text}
			if got, want := k.value(d), k.SI(d.rat()); got != want {
				t.Errorf("%s %s is %v the short way, want %v", text, unit, got, want)
			}
		}
	}
	for _, unit := range []string{"in", "degC", "h", "deg"} {
		if k := c.lookup(unit); k.decimal {
			t.Errorf("%s takes the short way and is no power of ten", unit)
		}
	}
}
