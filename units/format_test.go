package units

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {1, "1"}, {-1.5, "-1.5"}, {0.375, "0.375"}, {9.525, "9.525"},
		{287.35632, "287.4"}, {762, "762"}, {12345, "12345"}, {12345.678, "12346"}, {99999.5, "100000"},
		{0.1 + 0.2, "0.3"}, {27.939999999999998, "27.94"}, {1234.5, "1235"}, {-1234.5, "-1235"}, {1.00005, "1"}, {0.99995, "1"}, {2.5, "2.5"},
		{1e14, "100000000000000"}, {123456789012345, "123456789012345"}, {1e15, "1e15"}, {1.23456e17, "1.235e17"},
		{1e-9, "0.000000001"}, {1.2344e-9, "0.000000001234"}, {9.9999e-10, "1e-9"}, {1.2344e-12, "1.234e-12"}, {-5e-300, "-5e-300"},
		{0.0999996, "0.1"}, {999.96, "1000"}, {math.NaN(), "?"}, {math.Inf(-1), "?"}, {100, "100"}, {0.05, "0.05"}, {1e3, "1000"},
		{math.MaxFloat64, "1.798e308"}, {math.SmallestNonzeroFloat64, "4.941e-324"},
	} {
		if got := Format(c.x); got != c.want {
			t.Errorf("Format(%v) = %s, want %s", c.x, got, c.want)
		}
	}
}

// A number with all its digits is what strconv makes of it.
func TestAppendFull(t *testing.T) {
	same := func(x float64) {
		for _, x := range []float64{x, -x} {
			if got, want := string(AppendFull([]byte("x"), x)), "x"+strconv.FormatFloat(x, 'g', -1, 64); got != want {
				t.Fatalf("%s, want %s", got, want)
			}
		}
	}
	for _, x := range []float64{0, 1, 10, 100000, 999999, 1e6, 999999.9999999999, 1e-4, 0.00012, 0.001, 0.1, 0.5, 12.5, 120, 99999.9, math.Inf(1), math.NaN(), math.MaxFloat64, math.SmallestNonzeroFloat64} {
		for _, x := range []float64{x, math.Nextafter(x, 0), math.Nextafter(x, math.Inf(1))} {
			same(x)
		}
	}
	r := rand.New(rand.NewPCG(3, 4))
	for range 100_000 {
		same(math.Pow(10, 14*r.Float64()-6))
		same(float64(r.IntN(2_000_000)) / []float64{1, 8, 10, 1000}[r.IntN(4)])
	}
}
