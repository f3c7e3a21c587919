package outline_test

import (
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/library"
	"railsum/units"
)

const testdata = "../../../testdata/"

func needsOf(t *testing.T, all *outline.Needs, name, where string) {
	t.Helper()
	text, err := os.ReadFile(testdata + "layouts/" + name + ".sums")
	if err != nil {
		t.Fatal(err)
	}
	all.Add(calc.Open(syntax.ParseFile(text).Lines, library.At(testdata+"layouts")), where)
}

// What two layouts need is what a count by hand says; of both together it is the sum.
func TestNeeds(t *testing.T) {
	type key struct{ what, keys string }
	sum := map[key][2]float64{}
	check := func(all *outline.Needs, want map[key][2]float64) {
		for k, w := range want {
			found := false
			for _, n := range all.Sorted() {
				if n.What == k.what && n.Spelled(units.Unit.String) == k.keys {
					found = true
					if n.Count != w[0] || math.Abs(n.Length-w[1]) > 1e-9 {
						t.Errorf("%s, %s: %v pieces and %v m, by hand %v and %v", k.what, k.keys, n.Count, n.Length, w[0], w[1])
					}
				}
			}
			if !found {
				t.Errorf("%s, %s is missing", k.what, k.keys)
			}
		}
	}
	var both outline.Needs
	for _, name := range []string{"gannet_bay", "marrowby"} {
		rows, err := os.ReadFile(testdata + "parts/" + name + ".tsv")
		if err != nil {
			t.Fatal(err)
		}
		want := map[key][2]float64{}
		for _, row := range strings.Split(string(rows), "\n")[2:] {
			cells := strings.Split(row, "\t")
			if len(cells) < 4 {
				continue
			}
			count, _ := strconv.ParseFloat(cells[2], 64)
			length, _ := strconv.ParseFloat(cells[3], 64)
			k := key{cells[0], cells[1]}
			want[k] = [2]float64{count, length}
			sum[k] = [2]float64{sum[k][0] + count, sum[k][1] + length}
		}
		if len(want) < 4 {
			t.Fatalf("%s: %d rows", name, len(want))
		}
		var all outline.Needs
		needsOf(t, &all, name, "")
		check(&all, want)
		needsOf(t, &both, name, name+": ")
	}
	check(&both, sum)
}

// A part of the notebook's own counts; one of nothing does not, and a key for which nothing is made is told.
func TestOwnParts(t *testing.T) {
	var all outline.Needs
	all.Add(calc.Open(syntax.ParseFile([]byte(`table lamps | n | area as mm2
  quay | 3 | 0.5
  yard | 0 | 0.5
end
part lamp with volts = 12 V, count = lamps.n
part lamp with volts = 12 V, count = 2
part wire with area = 0.5 mm2, length = 3 m, count = 2
`)).Lines, library.Shipped()), "")
	var got []string
	for _, n := range all.Sorted() {
		got = append(got, n.What+" "+units.Format(n.Count)+" "+units.Format(n.Length)+" "+strings.Join(n.Places, "/"))
	}
	if s := strings.Join(got, "; "); s != "lamp 5 0 line 5 (quay)/line 6; wire 2 6 line 7" {
		t.Error(s)
	}
}
