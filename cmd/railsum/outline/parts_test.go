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
		listed := map[key]bool{}
		for _, n := range all.Sorted() {
			k := key{n.What, n.Spelled(units.Unit.String)}
			listed[k] = true
			if w, is := want[k]; !is {
				t.Errorf("%s, %s: %s that nobody has counted", k.what, k.keys, n.Amount())
			} else if n.Count != w[0] || math.Abs(n.Length-w[1]) > 1e-9 {
				t.Errorf("%s, %s: %v pieces and %v m, by hand %v and %v", k.what, k.keys, n.Count, n.Length, w[0], w[1])
			}
		}
		for k := range want {
			if !listed[k] {
				t.Errorf("%s, %s is missing", k.what, k.keys)
			}
		}
		for _, d := range all.Doubts {
			t.Error(d.Said())
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

// A run is listed once where a line says that it is in a cut list, and both where none does, with a word; a spare goes
// for all lengths of that part in the notebook, and for no other notebook's.
func TestPartsInOthers(t *testing.T) {
	const lines = `use drop for quay with length = 10 m, wire = 1 mm2
use drop for yard with length = 4 m, wire = 1 mm2
table runs | job | colour | area as mm2 | length as m | conductors
  quay | "quay" | "red" | 1 | quay.length | 2
end
use cut_list for loom with runs = runs, spare = 20 %, tail = 0.5 m
`
	told := func(books ...string) string {
		var all outline.Needs
		for _, text := range books {
			all.Add(calc.Open(syntax.ParseFile([]byte(text)).Lines, library.Shipped()), "")
		}
		var got []string
		for _, n := range all.Sorted() {
			got = append(got, n.Amount()+" "+strings.Join(n.Places, "/")+" "+n.Spare())
		}
		return strings.Join(append(got, all.Says(units.Unit.String)...), "; ")
	}
	for _, c := range []struct {
		books []string
		want  string
	}{
		{[]string{lines}, "33.6 m quay/yard with 20 % spare; 26.4 m loom (quay) with 20 % spare; " +
			"wire of quay and of loom are both reckoned from quay.length, and both are listed; if they are one, write `part wire of quay from loom`"},
		{[]string{lines + "part wire of quay from loom\n"}, "9.6 m yard with 20 % spare; 26.4 m loom (quay) with 20 % spare; " +
			"quay needs 20 m of wire, area 1 mm2: it is in that of loom, and not bought twice"},
		// What the other place has too little of, has of another size or has no answer for is listed all the same.
		{[]string{strings.Replace(lines, "quay.length | 2", "quay.length | 1", 1) + "part wire of quay from loom\n"},
			"33.6 m quay/yard with 20 % spare; 13.2 m loom (quay) with 20 % spare; " +
				"wire of quay is said to be in that of loom, which has 11 m of it for 20 m: it is listed all the same"},
		{[]string{strings.Replace(lines, "\"red\" | 1 |", "\"red\" | 0.5 |", 1) + "part wire of quay from loom\n"},
			"33.6 m quay/yard with 20 % spare; 26.4 m loom (quay) with 20 % spare; " +
				"wire of quay is said to be in that of loom, which has 0 m of it for 20 m: it is listed all the same"},
		{[]string{strings.Replace(lines, "quay.length | 2", "quay.length / 0 | 2", 1) + "part wire of quay from loom\n"},
			"33.6 m quay/yard with 20 % spare; wire of loom has no answer, or not all of it, and is not listed; " +
				"wire of quay is said to be in that of loom, which has 0 m of it for 20 m: it is listed all the same"},
		// Of two runs that it has not enough for, one is listed; another notebook has its own spare.
		{[]string{lines + "part wire of quay, yard from loom\n", "use drop for spur with length = 3 m, wire = 1 mm2\n"},
			"15.6 m yard/spur with 20 % spare, some without spare; 26.4 m loom (quay) with 20 % spare; " +
				"wire of yard is said to be in that of loom, which has 22 m of it for 28 m: it is listed all the same; " +
				"quay needs 20 m of wire, area 1 mm2: it is in that of loom, and not bought twice"},
	} {
		if got := told(c.books...); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}
