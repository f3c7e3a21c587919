package units

import (
	"slices"
	"testing"
)

func TestComplete(t *testing.T) {
	for _, c := range compounds {
		if u, err := Parse(c); err != nil || u.String() != c {
			t.Errorf("%s is %s, %v", c, u, err)
		}
	}
	for _, c := range []struct{ word, last, one string }{{"m", "m", "mm2"}, {"km/", "", "h"}, {"oh", "oh", "ohm/km"}, {"A/mm", "mm", "mm2"}} {
		if all, last := Complete(c.word); last != c.last || !slices.Contains(all, c.one) {
			t.Errorf("%s: %q in place of %q, want %q among them in place of %q", c.word, all, last, c.one, c.last)
		}
	}
}

func TestUnlike(t *testing.T) {
	for _, c := range []struct {
		unit         string
		turns, angle bool
	}{{"rpm", true, false}, {"kHz", true, false}, {"rad/s", false, true}, {"deg", false, true}, {"degC", false, false}, {"s^-1", false, false}} {
		if u := Known(c.unit); u.Turns() != c.turns || u.Angle() != c.angle {
			t.Errorf("%s: turns %v, angle %v", u, u.Turns(), u.Angle())
		}
	}
	if why := Known("VA").Unlike(Known("W")); why != Known("W").Unlike(Known("VA")) || why == "" {
		t.Errorf("VA and W: %q", why)
	}
	if Known("W").Unlike(Known("kW")) != "" || !Known("V").Dim().Signed() || Known("mm").Dim().Signed() {
		t.Error("W is unlike kW, a voltage has no sign or a length has one")
	}
}

func TestMixed(t *testing.T) {
	for symbol := range links {
		l, ok := Mixed(symbol)
		if want := Known(symbol).Scale() / l.Least.Scale(); !ok || float64(l.Base) < want*(1-1e-12) || float64(l.Base) > want*(1+1e-12) {
			t.Errorf("%s is %d of %s, want %g", symbol, l.Base, l.Least, want)
		}
	}
}
