package function

import (
	"bufio"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shelf is the Data of the tests: the tables that kernels ask for, as printed
// in the standards.
var shelf = newTables()

type tables struct {
	numbers map[string][]float64
	texts   map[string][]string
}

func (d *tables) Numbers(table, column string) []float64 { return d.numbers[table+" "+column] }
func (d *tables) Texts(table, column string) []string    { return d.texts[table+" "+column] }

func newTables() *tables {
	d := &tables{map[string][]float64{}, map[string][]string{}}
	d.colours()
	d.preferred()
	d.swg()
	for n := -3; n <= 40; n++ { // ASTM B258
		d.numbers["awg gauge"] = append(d.numbers["awg gauge"], float64(n))
		d.numbers["awg diameter"] = append(d.numbers["awg diameter"], 0.127e-3*math.Pow(92, float64(36-n)/39))
	}
	return d
}

// IEC 60062:2016 Table 1: digit, multiplier, tolerance in per cent.
const colourTable = `
pink   -1 1e-3 -1
silver -1 1e-2 10
gold   -1 1e-1 5
black  0  1    -1
brown  1  1e1  1
red    2  1e2  2
orange 3  1e3  0.05
yellow 4  1e4  0.02
green  5  1e5  0.5
blue   6  1e6  0.25
violet 7  1e7  0.1
grey   8  1e8  0.01
white  9  1e9  -1
none   -1 -1   20
`

func (d *tables) colours() {
	for line := range strings.Lines(strings.TrimSpace(colourTable)) {
		f := strings.Fields(line)
		d.texts["colours label"] = append(d.texts["colours label"], f[0])
		for i, column := range []string{"digit", "multiplier", "tolerance"} {
			v, err := strconv.ParseFloat(f[i+1], 64)
			if err != nil {
				panic(err)
			}
			if column == "tolerance" {
				v /= 100 // the library gives SI; its -1 % is as negative
			}
			d.numbers["colours "+column] = append(d.numbers["colours "+column], v)
		}
	}
}

// IEC 60063:2015. E24 and below are as printed; from E48 on the values are
// 10^(i/n) to three figures, with one exception: 9.20 in E192.
var e24 = []float64{1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1}

func members(n int) []float64 {
	var list []float64
	if n <= 24 {
		for i := 0; i < 24; i += 24 / n {
			list = append(list, e24[i])
		}
		return list
	}
	for i := range n {
		v := math.Round(100*math.Pow(10, float64(i)/float64(n))) / 100
		if n == 192 && v == 9.19 {
			v = 9.20
		}
		list = append(list, v)
	}
	return list
}

func (d *tables) preferred() {
	for _, n := range series {
		for _, v := range members(int(n)) {
			d.numbers["preferred series"] = append(d.numbers["preferred series"], n)
			d.numbers["preferred value"] = append(d.numbers["preferred value"], v)
		}
	}
}

// BS 3737:1964, Imperial Standard Wire Gauge, diameters in inches: some.
func (d *tables) swg() {
	for _, r := range [][2]float64{{-6, 0.5}, {-1, 0.348}, {0, 0.324}, {1, 0.3}, {18, 0.048}, {22, 0.028}, {36, 0.0076}, {50, 0.001}} {
		d.numbers["swg gauge"] = append(d.numbers["swg gauge"], r[0])
		d.numbers["swg diameter"] = append(d.numbers["swg diameter"], r[1]*0.0254)
	}
}

// What stands in code since it must be known before anything is looked up is
// held to the tables that ship.
func TestLettersAreThoseOfTheTables(t *testing.T) {
	for _, r := range shipped(t, "letters", "letter", "multiplier", "quantity") {
		l, ok := pointLetters[r[0][0]]
		unit := map[string]string{"resistance": "ohm", "capacitance": "F"}[r[2]]
		if m, _ := strconv.ParseFloat(r[1], 64); !ok || len(r[0]) != 1 || math.Abs(math.Pow10(l.power)-m) > 1e-15*m || l.unit != unit {
			t.Errorf("the letter %s is %s times %s in the table", r[0], r[1], unit)
		}
	}
	for _, r := range shipped(t, "tolerance_letters", "letter", "tolerance") {
		if v, _ := strconv.ParseFloat(r[1], 64); len(r[0]) != 1 || toleranceLetters[r[0][0]] != v {
			t.Errorf("the letter %s is %s %% in the table", r[0], r[1])
		}
	}
}

func TestSeriesAreThoseOfTheTable(t *testing.T) {
	got := map[float64][]float64{}
	for _, r := range shipped(t, "preferred", "series", "value") {
		n, _ := strconv.ParseFloat(r[0], 64)
		v, _ := strconv.ParseFloat(r[1], 64)
		got[n] = append(got[n], v)
	}
	if len(got) != len(series) {
		t.Errorf("the table has %d series, and the code %d", len(got), len(series))
	}
	for _, n := range series {
		if !slices.Equal(got[n], members(int(n))) {
			t.Errorf("series %g differs from IEC 60063:\n%v\n%v", n, got[n], members(int(n)))
		}
	}
}

func TestGaugesAreThoseOfTheTable(t *testing.T) {
	rule := Find("swg").Type
	least, most := 0.0, 0.0
	for _, r := range shipped(t, "swg", "gauge", "diameter") {
		n, _ := strconv.ParseFloat(r[0], 64)
		least, most = min(least, n), max(most, n)
		if _, err := rule(newCall(Find("swg"), in(r[0])).args); err != nil {
			t.Errorf("swg(%s): %v", r[0], err)
		}
	}
	if least != -6 || most != 50 {
		t.Errorf("the table goes from %g to %g", least, most)
	}
}

// ASTM B258 by its formula: all 44 sizes.
func TestAWGIsThatOfTheTable(t *testing.T) {
	rows := shipped(t, "awg", "gauge", "area")
	if len(rows) != 44 {
		t.Errorf("the table has %d sizes, want 44", len(rows))
	}
	for _, r := range rows {
		check(t, []row{{"awg", in(r[0]), "~" + r[1] + " mm2", "ASTM B258"}})
	}
}

// shipped reads columns of a table that ships.
func shipped(t *testing.T, table string, columns ...string) (rows [][]string) {
	t.Helper()
	file, err := os.Open("../../library/tables/" + table + ".tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var places []int
	for s := bufio.NewScanner(file); s.Scan(); {
		if strings.HasPrefix(s.Text(), "#") {
			continue
		}
		cells := strings.Split(s.Text(), "\t")
		if places == nil {
			for _, c := range columns {
				places = append(places, slices.IndexFunc(cells, func(head string) bool {
					name, _, _ := strings.Cut(head, " as ")
					return name == c
				}))
			}
			if slices.Contains(places, -1) {
				t.Fatalf("table %s lacks one of the columns %v", table, columns)
			}
			continue
		}
		r := make([]string, len(columns))
		for i, p := range places {
			r[i] = cells[p]
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		t.Fatalf("table %s has no rows", table)
	}
	return rows
}
