package units

import "testing"

// LANGUAGE.md B2, rule 3: what follows a number, and the unit read from it.
func TestLongestPrefix(t *testing.T) {
	for _, c := range []struct {
		after string
		unit  string // "" for none
		n     int
		word  string
	}{
		{"m/3 s", "m", 1, "m/3"},
		{"V/8 ohm", "V", 1, "V/8"},
		{"V*2", "V", 1, "V*2"},
		{"V·2", "V", 1, "V·2"},
		{"m/s/3", "m/s", 3, "m/s/3"},
		{"m2/4", "m2", 2, "m2/4"},
		{"mm²/4", "mm2", 4, "mm²/4"},
		{"J/(kg*K)", "J/(kg*K)", 8, "J/(kg*K)"},
		{"m/(a + b)", "m", 1, "m/(a"},
		{"m/(3 s)", "m", 1, "m/(3"},
		{"A*sqrt(s)/mm2", "A*sqrt(s)/mm2", 13, "A*sqrt(s)/mm2"},
		{"A*s^0.5/mm2", "A*sqrt(s)/mm2", 11, "A*s^0.5/mm2"},
		{"A*sqrt(s)/mm2*3", "A*sqrt(s)/mm2", 13, "A*sqrt(s)/mm2*3"},
		{"V/x", "", 0, "V/x"},
		{"W/m*K", "", 0, "W/m*K"},
		{"V)", "V", 1, "V"},
		{"V, 3 V)", "V", 1, "V"},
		{"m^2", "m2", 3, "m^2"},
		{"m^n", "", 0, "m^n"},
		{"m^-1 + 2", "m^-1", 4, "m^-1"},
		{"m⁻¹ + 2", "m^-1", 6, "m⁻¹"},
		{"s^(-1/2)*3", "s^(-1/2)", 8, "s^(-1/2)*3"},
		{"V-2", "V", 1, "V"},
		{"V+2", "V", 1, "V"},
		{"V-2", "V", 1, "V"},
		{"% of x", "%", 1, "%"},
		{"k3", "", 0, "k3"},
		{"1/m", "m^-1", 3, "1/m"},
		{" m", "", 0, ""},
		{"", "", 0, ""},
		{"MV", "", 0, "MV"},
	} {
		u, n := LongestPrefix(c.after)
		if u.String() != c.unit || n != c.n || c.after[:WordLength(c.after)] != c.word {
			t.Errorf("%q: %q of %d bytes, word %q", c.after, u, n, c.after[:WordLength(c.after)])
		}
	}
}
