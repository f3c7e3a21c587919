package function

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestInOrder(t *testing.T) {
	check(t, []row{
		{"running", in("[1 A, 2 A, 0.5 A]"), "1 A | 3 A | 3.5 A", ""}, {"running", in("[3 V, -5 V]"), "3 V | -2 V", ""},
		{"running", in("[1e16, 1, -1e16, 1]"), "1e16 | 10000000000000001 | 1 | 2", "nothing is lost beside a large one"},
		{"running", in("[1.7e308, 1.7e308]"), "fault: too large | fault: too large", ""},
		{"steps", in("[2 m, 5 m, 4 m]"), "2 m | 3 m | -1 m", ""}, {"steps", in("[-1.7e308, 1.7e308]"), "fault: too large", ""},
		{"row_number", in("['a', 'b', 'a']"), "1 | 2 | 3", ""}, {"row_number", in("[20 degC, 30 degC]"), "1 | 2", ""},
		{"first", in("[3 V, 1 V]"), "3 V", ""}, {"first", in("['b', 'a']"), "'b'", ""}, {"first", in("[]"), "fault: no rows", ""}, {"first", in("[20 degC, 30 degC]"), "20 degC", ""},
		{"last", in("[3 V, 1 V]"), "1 V", ""}, {"last", in("['b', 'a']"), "'a'", ""}, {"last", in("[]"), "fault: no rows", ""}, {"last", in("[no, yes]"), "yes", ""},
		{"is_ascending", in("[1 m, 2 m, 2 m]"), "yes", ""}, {"is_ascending", in("[1 m, 3 m, 2 m]"), "no", ""}, {"is_ascending", in("[]"), "yes", ""},
		{"is_ascending", in("[0.30000000000000004, 0.3]"), "yes", "LANGUAGE B0.7"}, {"is_ascending", in("[20 degC, 19 degC]"), "no", ""},
	})
	refuse(t, []refusal{
		{"running", in("=3 A"), 0, "running gathers a column; a is one value", "as in fleet.draw"},
		{"running", in("[20 degC]"), 0, "can be added up, and its rows hold temperatures", "`a - 0 degC`"},
		{"running", in("[yes]"), 0, "its rows hold yes or no", "`if a then 1 else 0`"},
		{"steps", in("['x']"), 0, "its rows hold a text", ""}, {"steps", in("[1]", "[2]"), -1, "steps takes one value and is given two", "`steps(column)`"},
		{"is_ascending", in("['x']"), 0, "its rows hold a text", ""}, {"first", in("3"), 0, "first gathers a column; 3 is one value", "as in fleet.draw"},
	})
}

func TestBins(t *testing.T) {
	check(t, []row{
		// By hand: 4 into 1, 3 into 2, 1 back into 1, which is full; 2 into 2, which
		// is full; 1 into 3.
		{"bin_of", in("[4 A, 3 A, 1 A, 2 A, 1 A]", "5 A"), "1 | 2 | 1 | 2 | 3", ""},
		{"bin_of", in("[7 A, 1 A, 9 A, 4 A]", "5 A"), "1 | 2 | 3 | 2", "the too large are alone"},
		{"bin_of", in("[5 A, 0 A, 1 A]", "5 A"), "1 | 1 | 2", "nothing fits a full bin"}, {"bin_of", in("[7 A, 0 A]", "5 A"), "1 | 2", ""},
		{"bin_of", in("[0.1, 0.2, 0.3]", "0.3"), "1 | 1 | 2", "full but for rounding"},
		// The worked example of first fit in many a textbook of operations research.
		{"bin_of", in("[4, 8, 5, 1, 7, 6, 1, 4, 2, 2]", "10"), "1 | 2 | 1 | 1 | 3 | 4 | 2 | 4 | 3 | 5", "from memory, by hand"},
		{"bin_of", in("[1, -1]", "5"), "fault: not defined", ""}, {"bin_of", in("[1, 1]", "=0"), "fault: not defined", ""},
	})
	refuse(t, []refusal{
		{"bin_of", in("=4 A", "5 A"), 0, "bin_of goes down a column; a is one value", "`bin_of(column, size)`"},
		{"bin_of", in("[4 A]", "5 V"), 1, "the column holds a current (A), and the size is a voltage (V)", ""},
		{"bin_of", in("[4 A]", "[5 A]"), 1, "all bins are of one size, and b is a column", "`least(…)`"},
		{"bin_of", in("[4]", "0"), 1, "a bin of size 0 holds nothing", ""},
		{"bin_of", in("[4 A]"), -1, "bin_of takes two values and is given one", "`bin_of(column, size)`"},
	})
}

// The tree finds what a walk along the bins finds.
func TestBinsAgainstAWalk(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		column := make([]float64, r.IntN(70))
		for i := range column {
			column[i] = float64(r.IntN(12))
		}
		got := make([]float64, len(column))
		if fault := firstFit(nil, column, []float64{10}, got); fault != Sound {
			t.Fatal(fault.Words())
		}
		var bins []float64
		for i, v := range column {
			bin := 0
			for bin < len(bins) && (v > 10 || bins[bin]+v > 10) {
				bin++
			}
			if bin == len(bins) {
				bins = append(bins, 0)
			}
			bins[bin] += v
			if got[i] != float64(bin+1) {
				t.Fatalf("row %d of %v is in bin %g, want %d", i, column, got[i], bin+1)
			}
		}
	}
}

func TestPairs(t *testing.T) {
	check(t, []row{
		// By hand in E24: 300 + 200, 390 + 110 and 470 + 30 are all 500; the first is
		// nearest to two alike.
		{"pair_in_series", in("500 ohm", "24"), "300 ohm", ""}, {"pair_rest_in_series", in("500 ohm", "24"), "200 ohm", ""},
		// In E12, 470 + 33 and 470 + 27 are 3 off, all others 10 and more.
		{"pair_in_series", in("500 ohm", "12"), "470 ohm", ""}, {"pair_rest_in_series", in("500 ohm", "12"), "33 ohm", ""},
		// By hand in E12: 820 beside 4700 is 698.19; next best 1000 beside 2200, 687.5.
		{"pair_in_parallel", in("700 ohm", "12"), "820 ohm", ""}, {"pair_rest_in_parallel", in("700 ohm", "12"), "4700 ohm", ""},
		{"pair_in_parallel", in("500 ohm", "24"), "1000 ohm", ""}, {"pair_rest_in_parallel", in("500 ohm", "24"), "1000 ohm", "two alike"},
		// Capacitors add up side by side.
		{"pair_in_parallel", in("500 uF", "24"), "300 uF", ""}, {"pair_rest_in_parallel", in("500 uF", "24"), "200 uF", ""},
		{"pair_in_series", in("700 uF", "12"), "820 uF", ""}, {"pair_rest_in_series", in("700 uF", "12"), "4700 uF", ""},
		{"pair_in_series", in("=0 ohm", "24"), "fault: not defined", ""}, {"pair_in_series", in("=1e300 ohm", "24"), "fault: not defined", ""},
		{"pair_in_parallel", in("5 ohm", "=7"), "fault: not defined", ""},
	})
	refuse(t, []refusal{
		{"pair_in_series", in("500", "24"), 0, "preferred values are for resistances", "`pair_in_series(500 ohm, 24)`"},
		{"pair_in_parallel", in("500 ohm", "25"), 1, "there is no series of 25", "3, 6, 12"},
	})
}

// No pair within a hundredfold comes nearer.
func TestPairsAgainstAll(t *testing.T) {
	w := &World{Data: shelf}
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		n := series[r.IntN(5)]
		x := math.Pow(10, r.Float64()*7-2)
		if r.IntN(4) == 0 {
			x = math.Round(x)
		}
		if x == 0 {
			continue
		}
		l, _ := ladderOf(w, n)
		for name, j := range map[string]joining{"series": addUp, "parallel": sideBySide} {
			least := math.Inf(1)
			for k := l.below(x) - 2*int(n); k <= l.below(x)+2*int(n); k++ {
				for m := k; (m-k)*j.away <= 2*int(n); m += j.away {
					least = min(least, math.Abs(j.total(l.at(k), l.at(m))-x))
				}
			}
			a, b := j.nearest(l, x, resistors)
			if off := math.Abs(j.total(a, b) - x); off > least+1e-11*x {
				t.Errorf("%g of series %g in %s: %g and %g are %g off, and %g is possible", x, n, name, a, b, off, least)
			}
		}
	}
}

// What the ladder rests on: each series in one piece, ascending, in order.
func TestTheTableIsALadder(t *testing.T) {
	rows := shipped(t, "preferred", "series", "value")
	d := newTables()
	if len(rows) != len(d.numbers["preferred series"]) {
		t.Fatalf("the table has %d rows", len(rows))
	}
	for i, r := range rows {
		a, b := literalOf(r[0]), literalOf(r[1])
		if a != d.numbers["preferred series"][i] || b != d.numbers["preferred value"][i] {
			t.Errorf("row %d is series %g value %g", i, a, b)
		}
	}
}

func literalOf(text string) float64 {
	_, v := literalArg(text)
	return v[0]
}

func BenchmarkPair(b *testing.B) {
	w := &World{Data: shelf}
	f := Find("pair_in_parallel")
	for b.Loop() {
		f.Two(w, 1234, 24)
	}
}
