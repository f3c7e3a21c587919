package units

import (
	"math"
	"testing"
)

func TestChoose(t *testing.T) {
	for _, c := range []struct {
		unit string // of the dimension
		si   []float64
		want string
	}{
		{"V", []float64{0.0008}, "uV"},
		{"V", []float64{0.75}, "mV"},
		{"V", []float64{-0.75}, "mV"},
		{"V", []float64{15}, "V"},
		{"V", []float64{999.9}, "V"},
		{"V", []float64{999.96}, "kV"},
		{"V", []float64{0.99994}, "mV"},
		{"V", []float64{0.99996}, "V"}, // not 1000 mV
		{"V", []float64{0.99995}, "V"}, // a half rounds up
		{"V", []float64{0, 0}, "V"},
		{"V", nil, "V"},
		{"V", []float64{0.001, 12, 0}, "V"}, // one for the whole column
		{"V", []float64{math.NaN(), 0.012, math.Inf(1)}, "mV"},
		{"A", []float64{909.8e-6}, "uA"},
		{"ohm", []float64{3300}, "kohm"},
		{"ohm", []float64{4e6}, "Mohm"},
		{"F", []float64{100e-9}, "nF"},
		{"H", []float64{47e-6}, "uH"},
		{"W", []float64{0.25}, "mW"},
		{"J", []float64{405}, "J"},
		{"As", []float64{0.0015}, "mAs"},
		{"As", []float64{3600 * 0.5}, "mAh"},
		{"As", []float64{3600 * 7}, "Ah"},
		{"m", []float64{0.2874}, "mm"},
		{"m", []float64{9.5}, "m"},
		{"m", []float64{2500}, "km"},
		{"m", []float64{0.00002}, "mm"},
		{"m", []float64{2e-6}, "um"},
		{"m", []float64{0}, "m"},
		{"m2", []float64{1.5e-6}, "mm2"},
		{"m2", []float64{0.0099}, "mm2"},
		{"m2", []float64{0.5}, "m2"},
		{"m3", []float64{5e-9}, "mm3"},
		{"m3", []float64{5e-5}, "cm3"},
		{"m3", []float64{0.005}, "L"},
		{"m/s", []float64{0.2554}, "mm/s"},
		{"m/s", []float64{22}, "m/s"},
		{"m/s2", []float64{0.05}, "m/s2"},
		{"s", []float64{58e-6}, "us"},
		{"s", []float64{0.2}, "ms"},
		{"s", []float64{999}, "s"},
		{"s", []float64{1000}, "min"},
		{"s", []float64{9000}, "h"},
		{"kg", []float64{0.3}, "g"},
		{"kg", []float64{1.2}, "kg"},
		{"N", []float64{0.4}, "mN"},
		{"Hz", []float64{8620}, "kHz"},
		{"ohm/m", []float64{0.0115}, "mohm/m"},
		{"ohm*m", []float64{1.7241e-8}, "ohm*mm2/m"},
		{"A/m2", []float64{5e6}, "A/mm2"},
		{"W/m", []float64{12}, "W/m"},
		{"V/m", []float64{0.3}, "mV/m"},
		{"1/K", []float64{0.00393}, "%/K"},
		{"1/K", []float64{17e-6}, "ppm/K"},
		{"K", []float64{15}, "K"},
		{"bit/s", []float64{16500}, "kbit/s"},
		{"%", []float64{0.05}, ""},
		{"rad", []float64{2}, ""},
		{"kg*m", []float64{2}, "m*kg"},
		{"V*m", []float64{2}, "V*m"},
		{"A*sqrt(s)/m2", []float64{143e6}, "A*sqrt(s)/mm2"},
	} {
		d := mustParse(t, c.unit).Dim()
		if got := Choose(d, c.si, nil); got.String() != c.want || got.Dim() != d {
			t.Errorf("%v in %s is shown in %q, want %q", c.si, c.unit, got, c.want)
		}
	}
}

func TestPreferredUnits(t *testing.T) {
	foot := mustParse(t, "ft").Scale()
	var prefer []Preferred
	for _, s := range []string{"in", "ft", "mph", "degC", "%", "VA", "ohm/km"} {
		prefer = append(prefer, Preferred{Unit: mustParse(t, s)})
	}
	prefer[0].Below = foot
	for _, c := range []struct {
		unit string
		si   float64
		want string
	}{
		{"m", 0.009525, "in"}, {"m", 0.762, "ft"}, {"m", 0, "in"}, {"m", foot * 0.999, "in"}, {"m", foot * 0.99999, "ft"}, {"m/s", 0.25, "mph"},
		{"m2", 0.001, "mm2"}, {"K", 5, "K"}, {"%", 0.05, ""}, {"W", 0.5, "VA"}, {"ohm/m", 0.01, "ohm/km"}, {"V", 3, "V"},
	} {
		if got := Choose(mustParse(t, c.unit).Dim(), []float64{c.si}, prefer); got.String() != c.want {
			t.Errorf("%v %s is shown in %q, want %q", c.si, c.unit, got, c.want)
		}
	}
}

// Every row of the table of quantities stands for a dimension of its own, and
// every rung of its ladder for that dimension, in rising order.
func TestQuantities(t *testing.T) {
	if len(byDim()) != len(quantities) {
		t.Errorf("%d rows for %d dimensions", len(quantities), len(byDim()))
	}
	for _, q := range quantities {
		base := mustParse(t, q.base)
		last := 0.0
		for _, s := range q.steps() {
			if s.unit.Dim() != base.Dim() {
				t.Errorf("%s: %v has another dimension than %s", q.name, s.unit, q.base)
			}
			if s.from <= last {
				t.Errorf("%s: %v is out of order", q.name, s.unit)
			}
			last = s.from
		}
	}
}

func TestPairsAreUnits(t *testing.T) {
	for _, h := range append(heads, tails...) {
		if !parses(h) {
			t.Errorf("%q is not a unit", h)
		}
	}
}
