package units

import (
	"strings"
	"testing"
)

// Any text is a unit that parses back, or an error that is safe to print.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "V", "mm²", "A*sqrt(s)/mm2", "W/(m*K)", "W/m*K", "MV", "1/m", "m^(1/3)", "N m", "℃", "kΩ·µF", "m^^2", "sqrt(sqrt(m))", "\xff", "%/K", "m2.5"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		u, err := Parse(s)
		if err != nil {
			if e := err.Error(); strings.ContainsFunc(e, func(r rune) bool { return r < ' ' || 0x7f <= r && r < 0xa0 }) {
				t.Errorf("%q: a control character in %q", s, e)
			}
			for _, n := range nearSymbols(s) {
				if !parses(n) {
					t.Errorf("%q is told to be %q", s, n)
				}
			}
		} else {
			for _, back := range []string{u.String(), u.Shown()} {
				if v, err := Parse(back); err != nil || v != u {
					t.Errorf("%q: %q gives %v, %v", s, back, v, err)
				}
			}
		}
		if v, n := LongestPrefix(s); n > len(s) || n > 0 != !v.IsZero() {
			t.Errorf("%q: %v of %d bytes", s, v, n)
		}
	})
}
