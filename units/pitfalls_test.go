package units

import (
	"math"
	"math/big"
	"strings"
	"testing"
)

// What people have complained of in programs that know units, each as a test.
// Source: a survey of issue trackers; the figures are arithmetic.

func TestPitfallInexactEchoes(t *testing.T) {
	in, in2, mm := mustParse(t, "in"), mustParse(t, "in2"), mustParse(t, "mm")
	if x := in.FromSI(in.SI(big.NewRat(3, 8))); x != 0.375 {
		t.Errorf("3/8 in echoes as %v in", x)
	}
	if x := in2.FromSI(in.SI(big.NewRat(2, 1)) * in.SI(big.NewRat(3, 1))); math.Abs(x-6) > 1e-15*6 || Format(x) != "6" {
		t.Errorf("2 in * 3 in = %v in2", x)
	}
	if x := mm.FromSI(in.SI(big.NewRat(11, 10))); Format(x) != "27.94" {
		t.Errorf("1.1 in = %v mm", x)
	}
}

func TestPitfallTurnsAreNotRadians(t *testing.T) {
	if hz := mustParse(t, "Hz").FromSI(mustParse(t, "rpm").SI(big.NewRat(60, 1))); hz != 1 {
		t.Errorf("60 rpm = %v Hz", hz)
	}
}

func TestPitfallPrefixSoup(t *testing.T) {
	for _, w := range strings.Fields("pinch pin kb kmin cmin dday Pm am ag kHZ mdegC kdegF m% kin mmile fF nin uft") {
		if u, err := Parse(w); err == nil {
			t.Errorf("%q is %v", w, u)
		}
	}
	if mustParse(t, "min").Scale() != 60 || mustParse(t, "cd").Dim() == mustParse(t, "day").Dim() || mustParse(t, "ft").Scale() != 0.3048 {
		t.Error("a symbol was taken for a prefix and another symbol")
	}
}

// A unit beside a function of the same name is told apart by its place, and
// there is one: min. Another would be one too many to remember.
func TestPitfallUnitsNamedLikeFunctions(t *testing.T) {
	for _, w := range strings.Fields("max sum mean least most count abs sqrt sin cos tan exp ln log round floor ceil mod parallel awg preferred bands lookup between pi") {
		if _, err := Parse(w); err == nil {
			t.Errorf("%q is a function and a unit", w)
		}
	}
}

// The unit does not jump about when the value moves a little, and showing
// changes no value.
func TestPitfallResultUnits(t *testing.T) {
	w := mustParse(t, "W").Dim()
	if a, b := Choose(w, []float64{1000}, nil), Choose(w, []float64{1000.01}, nil); a != b || a.String() != "kW" {
		t.Errorf("1000 W is shown in %v, 1000.01 W in %v", a, b)
	}
	// a column keeps one unit, whatever the order of its rows
	v := mustParse(t, "V").Dim()
	if a, b := Choose(v, []float64{0.003, 14}, nil), Choose(v, []float64{14, 0.003}, nil); a != b || a.String() != "V" {
		t.Errorf("one column is shown in %v and in %v", a, b)
	}
}

func TestPitfallIntentIsKept(t *testing.T) {
	for _, s := range []string{"N*m", "VA", "mm2/m", "ohm*mm2/m", "km/h", "Wh/km", "A*h", "1/min"} {
		u := mustParse(t, s)
		if s == "1/min" {
			s = "min^-1"
		}
		if u.String() != s {
			t.Errorf("%s was rewritten as %v", s, u)
		}
	}
}

// A quotient of like units is a plain number, but its factor must not be lost.
func TestPitfallQuotientOfLikeUnits(t *testing.T) {
	u := mustParse(t, "s/ms")
	if !u.Dim().IsPlain() || u.IsZero() || u.Percent() || u.SI(big.NewRat(5, 1)) != 5000 {
		t.Errorf("5 s/ms = %v", u.SI(big.NewRat(5, 1)))
	}
	if p := mustParse(t, "%"); p.SI(big.NewRat(1, 1)) != 0.01 {
		t.Error("1 % is not 0.01")
	}
}

// Pasted signs: both code points of micro and ohm, superscripts, the single
// characters for the degrees.
func TestPitfallCodePoints(t *testing.T) {
	for a, b := range map[string]string{"\u00b5m": "\u03bcm", "\u2126": "\u03a9", "m²": "m2", "mm³": "mm3", "\u2103": "°C", "\u2109": "°F", "N\u00b7m": "N\u22c5m"} {
		if mustParse(t, a) != mustParse(t, b) {
			t.Errorf("%s and %s differ", a, b)
		}
	}
}
