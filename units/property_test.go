package units

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// anyUnit draws a compound of one to four symbols of the list.
func anyUnit(t *rapid.T) Unit {
	symbol := rapid.SampledFrom(symbols().all)
	power := rapid.SampledFrom([]string{"", "", "", "^2", "³", "^0.5", "^(2/3)"})
	part := func() string {
		s := symbol.Draw(t, "symbol")
		if s.kind == degrees || s.kind == share {
			return s.file
		}
		p := power.Draw(t, "power")
		if p == "^0.5" && rapid.Bool().Draw(t, "root") {
			return "sqrt(" + s.shown + ")"
		}
		return s.file + p
	}
	parts := func(n int) string {
		var ps []string
		for range n {
			ps = append(ps, part())
		}
		return strings.Join(ps, rapid.SampledFrom([]string{"*", "·"}).Draw(t, "times"))
	}
	s := parts(rapid.IntRange(1, 2).Draw(t, "above"))
	switch n := rapid.IntRange(0, 2).Draw(t, "below"); n {
	case 1:
		s += "/" + parts(1)
	case 2:
		s += "/(" + parts(2) + ")"
	}
	u, err := Parse(s)
	if err != nil {
		t.Skip(err)
	}
	return u
}

func TestEveryUnitParsesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit(t)
		for _, s := range []string{u.String(), u.Shown(), strings.ReplaceAll(u.Shown(), "µ", "μ")} {
			if v, err := Parse(s); err != nil || v != u {
				t.Fatalf("%s: %v, %v", s, v, err)
			}
		}
	})
}

func TestChoiceParsesBackAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyUnit(t).Dim()
		x := rapid.Float64Range(-1e12, 1e12).Draw(t, "x")
		u := Choose(d, []float64{x, x / 3}, nil)
		if d.IsPlain() != u.IsZero() || u.Dim() != d {
			t.Fatalf("%s is shown in %q", d.Words(), u)
		}
		for _, s := range []string{u.String(), u.Shown(), d.String()} {
			if s == "" {
				continue
			}
			if v, err := Parse(s); err != nil || v.Dim() != d {
				t.Fatalf("%s: %v, %v", s, v, err)
			}
		}
	})
}

// What is shown in engineering units is 1 to 999, never 1000.
func TestEngineeringRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.SampledFrom([]string{"V", "ohm", "F", "H", "W", "Hz"}).Draw(t, "unit")
		lowest := map[string]float64{"V": 1e-9, "ohm": 1e-6, "F": 1e-12, "H": 1e-9, "W": 1e-9, "Hz": 1}[base]
		highest := map[string]float64{"V": 1e6, "ohm": 1e12, "F": 1e3, "H": 1e3, "W": 1e9, "Hz": 1e12}[base]
		x := lowest * math.Pow(highest/lowest, rapid.Float64Range(0.001, 0.999).Draw(t, "x"))
		u := Choose(Known(base).Dim(), []float64{x}, nil)
		n, err := strconv.ParseFloat(Format(u.FromSI(x)), 64)
		if err != nil || n < 1 || n >= 1000 {
			t.Fatalf("%v %s is shown as %v %s", x, base, n, u)
		}
	})
}

func TestFormatIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64().Draw(t, "x")
		s := Format(x)
		y, err := strconv.ParseFloat(s, 64)
		if err != nil && !strings.Contains(err.Error(), "range") {
			t.Fatal(err)
		}
		if math.Abs(y-x) > 0.00051*math.Abs(x) && math.Abs(x) > 1e-300 && !math.IsInf(y, 0) {
			t.Fatalf("%v is shown as %s", x, s)
		}
		if again := Format(y); again != s && !math.IsInf(y, 0) {
			t.Fatalf("%v is shown as %s, and that as %s", x, s, again)
		}
	})
}

// SI is the nearest float64 to the exact product, and FromSI undoes it.
func TestSIIsCorrectlyRounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit(t)
		x := big.NewRat(rapid.Int64Range(-1e9, 1e9).Draw(t, "num"), rapid.Int64Range(1, 1e6).Draw(t, "den"))
		si := u.SI(x)
		if u.Point() {
			return
		}
		f, _ := x.Float64()
		if back := u.FromSI(si); math.Abs(back-f) > 4e-16*math.Abs(f) {
			t.Fatalf("%v %s comes back as %v", f, u, back)
		}
		exact := new(big.Rat).Mul(x, u.factor())
		if want, _ := exact.Float64(); want != si {
			t.Fatalf("%v %s is %v in SI, want %v", f, u, si, want)
		}
	})
}

func TestParseIsSafeForConcurrentUse(t *testing.T) {
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 200 {
				for _, s := range []string{"V", "ohm/km", "A*sqrt(s)/mm2", "MV", "degC"} {
					u, _ := Parse(s)
					_ = Choose(u.Dim(), []float64{1}, nil)
				}
			}
		})
	}
	wg.Wait()
}

// Any dimension within bounds has a unit that parses back to it.
func TestEveryDimensionHasAUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var d Dim
		for i := range d.exp {
			n := rapid.OneOf(rapid.Just(0), rapid.IntRange(-4, 4), rapid.IntRange(-288, 288)).Draw(t, "num")
			if e, ok := newExponent(n, rapid.SampledFrom([]int{1, 1, 2, 3, 11, 12}).Draw(t, "den")); ok {
				d.exp[i] = e
			}
		}
		if d.IsPlain() {
			t.Skip()
		}
		if u, err := Parse(d.String()); err != nil || u.Dim() != d {
			t.Fatalf("%q: %v, %v", d.String(), u, err)
		}
		if u, err := Parse(Choose(d, []float64{2}, nil).Shown()); err != nil || u.Dim() != d {
			t.Fatalf("%v, %v", u, err)
		}
		// and it can stand behind a number, as all units can
		if s := d.String(); s != "" {
			if u, n := LongestPrefix(s + " + 1"); n != len(s) || u.Dim() != d {
				t.Fatalf("%q: %d bytes are read", s, n)
			}
			if s[0] >= '0' && s[0] <= '9' {
				t.Fatalf("%q begins with a digit", s)
			}
		}
	})
}
