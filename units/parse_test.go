package units

import (
	"errors"
	"strings"
	"testing"
)

// What is typed, how it is kept and how it is shown.
func TestParse(t *testing.T) {
	for _, c := range []struct{ typed, file, shown string }{
		{"V", "V", "V"},
		{"mm²", "mm2", "mm²"},
		{"mm^2", "mm2", "mm²"},
		{"mm2", "mm2", "mm²"},
		{"in3", "in3", "in³"},
		{"m^4", "m^4", "m⁴"},
		{"s2", "s2", "s²"},
		{"A^2*s", "A^2*s", "A²·s"},
		{"A²·s", "A^2*s", "A²·s"},
		{"ohm", "ohm", "Ω"},
		{"\u03a9", "ohm", "Ω"},
		{"\u2126", "ohm", "Ω"},
		{"k\u2126", "kohm", "kΩ"},
		{"mohm", "mohm", "mΩ"},
		{"Mohm", "Mohm", "MΩ"},
		{"mW", "mW", "mW"},
		{"MW", "MW", "MW"},
		{"uF", "uF", "µF"},
		{"\u00b5F", "uF", "µF"},
		{"\u03bcF", "uF", "µF"},
		{"µΩ", "uohm", "µΩ"},
		{"degC", "degC", "°C"},
		{"°C", "degC", "°C"},
		{"\u2103", "degC", "°C"},
		{"\u2109", "degF", "°F"},
		{"°", "deg", "°"},
		{"deg/s", "deg/s", "°/s"},
		{"%", "%", "%"},
		{"‰", "permille", "‰"},
		{"%/K", "%/K", "%/K"},
		{"ppm/K", "ppm/K", "ppm/K"},
		{"W/(m*degC)", "W/(m*degC)", "W/(m·°C)"},
		{"N*m", "N*m", "N·m"},
		{"N·m", "N*m", "N·m"},
		{"N⋅m", "N*m", "N·m"},
		{"ohm/km", "ohm/km", "Ω/km"},
		{"W/(m*K)", "W/(m*K)", "W/(m·K)"},
		{"A*sqrt(s)/mm2", "A*sqrt(s)/mm2", "A·sqrt(s)/mm²"},
		{"A*s^0.5/mm2", "A*sqrt(s)/mm2", "A·sqrt(s)/mm²"},
		{"ohm*sqrt(s)", "ohm*sqrt(s)", "Ω·sqrt(s)"},
		{"V^1.5", "V^(3/2)", "V^(3/2)"},
		{"V^(2/4)", "sqrt(V)", "sqrt(V)"},
		{"1/m", "m^-1", "m⁻¹"},
		{"m^-1", "m^-1", "m⁻¹"},
		{"m⁻¹", "m^-1", "m⁻¹"},
		{"min^-1", "min^-1", "min⁻¹"},
		{"W*m^-2", "W/m2", "W/m²"},
		{"s^-0.5", "s^(-1/2)", "s^(-1/2)"},
		{"s^(-1/2)", "s^(-1/2)", "s^(-1/2)"},
		{"s^-12", "s^-12", "s⁻¹²"},
		{"1/degC", "degC^-1", "°C⁻¹"},
		{"1/(m*s)", "m^-1*s^-1", "m⁻¹·s⁻¹"},
		{"W/(m)", "W/m", "W/m"},
		{"kcmil", "kcmil", "kcmil"},
		{"l", "L", "L"},
		{"ml", "mL", "mL"},
		{"min", "min", "min"},
		{"in", "in", "in"},
		{"mph", "mph", "mph"},
	} {
		u, err := Parse(c.typed)
		if err != nil {
			t.Errorf("%s: %v", c.typed, err)
			continue
		}
		if u.String() != c.file || u.Shown() != c.shown {
			t.Errorf("%s: kept as %s, shown as %s, want %s and %s", c.typed, u.String(), u.Shown(), c.file, c.shown)
		}
		again := mustParse(t, u.String())
		if again != u || mustParse(t, u.Shown()) != u {
			t.Errorf("%s does not parse back to itself", c.typed)
		}
	}
}

// Each row is a spelling that is refused, with the words that must say so.
func TestErrors(t *testing.T) {
	for _, c := range []struct{ typed, message, cure string }{
		{"", "a unit is missing", ""},
		{"MV", "MV is not a unit here", "mV or kV?"},
		{"MA", "MA is not a unit here", "mA or kA?"},
		{"MF", "MF is not a unit here", "mF or uF?"},
		{"PF", "PF is not a unit here", "pF?"},
		{"KV", "KV is not a unit here", "kV?"},
		{"khz", "khz is not a unit here", "kHz?"},
		{"MV/m", "MV is not a unit here", "mV/m or kV/m?"},
		{"MM2", "MM is not a unit here", "mm2?"},
		{"C", "C is not a unit here", "degC for a temperature, As for a charge"},
		{"mil", "mil is not a unit here", "thou (0.001 in) or mm"},
		{"km/hr", "hr is not a unit here", "km/h?"},
		{"A/sqmm", "sqmm is not a unit here", "A/mm2?"},
		{"mph/hr", "hr is not a unit here", "mph/h?"},
		{"kmh", "kmh is not a unit here", "km/h?"},
		{"Nm", "Nm is not a unit here", "N*m?"},
		{"volts", "volts is not a unit here", "V?"},
		{"inches", "inches is not a unit here", "in?"},
		{"millimetres", "millimetres is not a unit here", "mm?"},
		{"V/x", "x is not a unit here", ""},
		{"foo", "foo is not a unit here", ""},
		{"W/m*K", "W/m*K can be read in two ways", "write W/(m*K) or W*K/m"},
		{"W/m/K", "W/m/K can be read in two ways", "write W/(m*K), with one / only"},
		{"N m", "units are one word", "write N*m"},
		{"A h", "units are one word", "write Ah"},
		{"kg m", "units are one word", "write kg*m"},
		{"A4", "A4 is not a unit here", "if a power is meant, write A^4"},
		{"K3", "K3 is not a unit here", "if a power is meant, write K^3"},
		{"m4", "m4 is not a unit here", "if a power is meant, write m^4"},
		{"degC2", "degC2 is not a unit here", ""},
		{"degC^2", "degC has no powers and no roots", "write K in place of degC"},
		{"sqrt(%)", "% has no powers and no roots", ""},
		{"%*%", "% has no powers and no roots", ""},
		{"m^-25", "the power of m is out of bounds", "powers go to 24, and down to twelfths"},
		{"m²3", "'3' cannot stand here in a unit", ""},
		{"m²⁻", "'-' cannot stand here in a unit", ""},
		{"degC^1", "degC has no powers and no roots", "write K in place of degC"},
		{"m⁻", "the power of m is not a number", "write it as m^2, m^0.5 or m^(1/3)"},
		{"m^25", "the power of m is out of bounds", "powers go to 24, and down to twelfths"},
		{"m^0", "the power of m is out of bounds", "powers go to 24, and down to twelfths"},
		{"m^(1/13)", "the power of m is out of bounds", "powers go to 24, and down to twelfths"},
		{"m^(1/0)", "the power of m is out of bounds", "powers go to 24, and down to twelfths"},
		{"m^0.333", "the power of m is not a number", "write it as m^2, m^0.5 or m^(1/3)"},
		{"m^n", "the power of m is not a number", "write it as m^2, m^0.5 or m^(1/3)"},
		{"W/(m*K", "the bracket in W/(m*K is not closed", "write W/(m*K)"},
		{"sqrt(W/(m*K", "the bracket in sqrt(W/(m*K is not closed", "write sqrt(W/(m*K))"},
		{"W)", "a bracket in W) was not opened", ""},
		{"(m)", "brackets in a unit are used only directly after /", "as in W/(m*K)"},
		{"W/((m)*K)", "brackets in a unit are used only directly after /", "as in W/(m*K)"},
		{"sqrt(sqrt(m))", "a root inside a root is not a unit", "as in sqrt(s) or s^0.5"},
		{"/m", "/m has a / too many", "as in kg/(m*s2), with one / only"},
		{"m*", "m* is not finished", "a unit must follow its last sign"},
		{"m\x1b[31m", `'\x1b' cannot stand here in a unit`, ""},
		{"m)\x1b[31m", "a bracket in m)\ufffd[31m was not opened", ""},
		{strings.Repeat("m*", 100) + "m", "this unit is longer than 128 characters", "take it apart and calculate"},
		{"A*A*A*A*A*A*A*A*A*A*A*A*A", "this unit has more than 12 parts", ""},
		{"m^20*m^20", "the exponents in this unit add up to more than 24", ""},
		{"GHz^24/us^10", "the exponents in this unit add up to more than 24", ""},
		{"nm^18", "this unit is too large or too small to compute with", ""},
	} {
		u, err := Parse(c.typed)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q gives %v, %v", c.typed, u, err)
			continue
		}
		if e.Message != c.message || e.Cure != c.cure {
			t.Errorf("%q: %q, %q\n want %q, %q", c.typed, e.Message, e.Cure, c.message, c.cure)
		}
	}
}

// Units that are spelled differently but are the same are equal; those that
// only have the same size are not.
func TestEquality(t *testing.T) {
	if mustParse(t, "mm²/m") != mustParse(t, "mm^2/m") {
		t.Error("two spellings of one unit differ")
	}
	if mustParse(t, "N*m") == mustParse(t, "J") || mustParse(t, "VA") == mustParse(t, "W") {
		t.Error("a unit was renamed unasked")
	}
	if mustParse(t, "VA").Dim() != mustParse(t, "W").Dim() {
		t.Error("VA and W have one dimension")
	}
	u := mustParse(t, "A*sqrt(s)/mm2")
	for i := range 2 * cacheSize { // the cache is emptied in between
		_, _ = Parse("m^" + strings.Repeat("0", i%90) + "2*V^" + strings.Repeat("0", i/90%90) + "1")
	}
	if mustParse(t, "A*sqrt(s)/mm2") != u {
		t.Error("a unit differs from itself after the cache was emptied")
	}
}

func TestZeroUnit(t *testing.T) {
	var u Unit
	if !u.IsZero() || u.String() != "" || u.Shown() != "" || !u.Dim().IsPlain() || u.Point() || u.Percent() || u.FromSI(3) != 3 {
		t.Error("the zero Unit is not that of a plain number")
	}
}

func TestPercent(t *testing.T) {
	for s, want := range map[string]bool{"%": true, "‰": true, "ppm": true, "%/K": false, "rad": false, "V": false} {
		if mustParse(t, s).Percent() != want {
			t.Errorf("%s: a share: %v", s, !want)
		}
	}
}
