package library

import (
	"math"
	"slices"
	"strings"
	"testing"

	"railsum/calc/syntax"
)

// close reports whether two values agree to a part.
func agree(got, want, part float64) bool {
	return math.Abs(got-want) <= part*math.Abs(want)
}

func TestTables(t *testing.T) {
	for _, name := range Shipped().TableNames() {
		t.Run(name, func(t *testing.T) {
			text, err := files.ReadFile("tables/" + name + ".tsv")
			if err != nil {
				t.Fatal(err)
			}
			if _, err := parseTable(name, string(text)); err != nil {
				t.Fatal(err)
			}
			tab := Shipped().Table(name)
			if tab.Meaning == "" {
				t.Error("no meaning")
			}
			rows := len(tab.Node.Rows)
			if len(tab.Basis) != rows || len(tab.Source) != rows {
				t.Fatalf("%d rows, %d bases, %d sources", rows, len(tab.Basis), len(tab.Source))
			}
			if len(tab.Meant) != len(tab.Node.Heads) {
				t.Errorf("%d columns, %d meanings", len(tab.Node.Heads), len(tab.Meant))
			}
			labels := map[string]bool{}
			for i, row := range tab.Node.Rows {
				if labels[row.Label] {
					t.Errorf("two rows are called %s", row.Label)
				}
				labels[row.Label] = true
				checkBasis(t, row.Label, tab.Basis[i], tab.Source[i])
			}
			checkColumns(t, name, tab.Node)
		})
	}
}

// checkBasis holds a row to what DESIGN's bases promise: a source that can be
// followed up, or words that say there is none.
func checkBasis(t *testing.T, label, basis, source string) {
	t.Helper()
	switch basis {
	case "published", "memory", "computed":
		if len(source) < 6 {
			t.Errorf("row %s: the source %q cannot be followed up", label, source)
		}
	case "practice":
		if !strings.Contains(source, "common practice") {
			t.Errorf("row %s: practice does not say so in %q", label, source)
		}
	default:
		t.Errorf("row %s: basis %q", label, basis)
	}
}

// checkColumns wants every column in exactly one of the two views, complete.
func checkColumns(t *testing.T, name string, node *syntax.Table) {
	t.Helper()
	lib := Shipped()
	for _, head := range node.Heads {
		numbers, texts := lib.Numbers(name, head.Name.Text), lib.Texts(name, head.Name.Text)
		if (len(numbers) == len(node.Rows)) == (len(texts) == len(node.Rows)) {
			t.Errorf("column %s: %d numbers and %d texts for %d rows", head.Name.Text, len(numbers), len(texts), len(node.Rows))
		}
		for i, v := range numbers {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("column %s, row %d: %v", head.Name.Text, i+1, v)
			}
		}
	}
	if labels := lib.Texts(name, labelColumn); len(labels) != len(node.Rows) || labels[0] != node.Rows[0].Label {
		t.Errorf("%d labels from %q for %d rows from %q", len(labels), labels[0], len(node.Rows), node.Rows[0].Label)
	}
}

// value reads one cell of a shipped table, in SI.
func value(t *testing.T, table, label, column string) float64 {
	t.Helper()
	i := slices.Index(Shipped().Texts(table, labelColumn), label)
	numbers := Shipped().Numbers(table, column)
	if i < 0 || i >= len(numbers) {
		t.Fatalf("no %s.%q.%s", table, label, column)
	}
	return numbers[i]
}

func TestValues(t *testing.T) {
	for _, c := range []struct {
		table, label, column string
		want                 float64
		source               string
	}{
		{"conductors", "1.5 mm2", "area", 1.5e-6, "IEC 60228:2004 Table 1"},
		{"conductors", "1.5 mm2", "solid", 12.1e-3, "IEC 60228:2004 Table 1"},
		{"conductors", "1.5 mm2", "flexible", 13.3e-3, "IEC 60228:2004 Table 3"},
		{"conductors", "16 mm2", "flexible", 1.21e-3, "IEC 60228:2004 Table 3"},
		{"awg", "18", "diameter", 0.04030 * 0.0254, "Lessons in Electric Circuits vol. I, wire table"},
		{"awg", "4/0", "diameter", 0.4600 * 0.0254, "Lessons in Electric Circuits vol. I, wire table"},
		{"awg", "40", "diameter", 0.0031445 * 0.0254, "ASTM B258, formula"},
		{"awg", "4/0", "gauge", -3, "ASTM B258"},
		{"awg", "1/0", "gauge", 0, "ASTM B258"},
		{"swg", "7/0", "diameter", 0.0127, "BS 3737:1964"},
		{"swg", "0", "diameter", 8.2296e-3, "BS 3737:1964; 8.236 mm on one page is a misprint"},
		{"swg", "2/0", "gauge", -1, "as in awg"},
		{"swg", "50", "diameter", 25.4e-6, "BS 3737:1964"},
		{"copper", "annealed", "resistivity", 1.0 / 58e6, "IEC 60028"},
		{"copper", "annealed", "drift", 0.00393, "IEC 60028"},
		{"copper", "annealed", "density", 8890, "IEC 60028, from memory"},
		{"colours", "yellow", "digit", 4, "IEC 60062:2016 Table 1"},
		{"colours", "gold", "digit", -1, "IEC 60062:2016 Table 1: gold is no figure"},
		{"colours", "gold", "multiplier", 0.1, "IEC 60062:2016 Table 1"},
		{"colours", "gold", "tolerance", 0.05, "IEC 60062:2016 Table 1"},
		{"letters", "n", "multiplier", 1e-9, "IEC 60062:2016 clause 4, from memory"},
		{"tolerance_letters", "J", "tolerance", 0.05, "IEC 60062:2016, from memory"},
		{"ratings", "0.125 W", "rating", 0.125, "common practice, no source"},
		{"scales", "H0", "ratio", 87, "MOROP NEM 010"},
		{"scales", "S", "ratio", 64, "MOROP NEM 010; 1:60 is a misprint"},
		{"scales", "0", "ratio", 45, "MOROP NEM 010"},
		{"scales", "HO_us", "ratio", 87.1, "NMRA S-1.2"},
		{"scales", "II", "gauge", 0.064, "MOROP NEM 010"},
		{"coaches", "B", "length", 24.2, "MOROP NEM 103"},
		{"usual_stubs", "H0", "longest", 0.05, "common practice, no source"},
	} {
		if got := value(t, c.table, c.label, c.column); !agree(got, c.want, 5e-4) {
			t.Errorf("%s.%q.%s = %v, want %v (%s)", c.table, c.label, c.column, got, c.want, c.source)
		}
	}
}

// ASTM B258: a size is a step of a geometric series between 0.46 in (4/0) and
// 0.005 in (36).
func TestAWGFormula(t *testing.T) {
	lib := Shipped()
	gauge, diameter, area := lib.Numbers("awg", "gauge"), lib.Numbers("awg", "diameter"), lib.Numbers("awg", "area")
	if len(gauge) != 44 {
		t.Fatalf("%d sizes, want 44", len(gauge))
	}
	for i, n := range gauge {
		if n != float64(i-3) {
			t.Errorf("row %d has gauge %v", i+1, n)
		}
		d := 0.005 * 0.0254 * math.Pow(92, (36-n)/39)
		if !agree(diameter[i], d, 1e-6) || !agree(area[i], math.Pi/4*d*d, 1e-6) {
			t.Errorf("gauge %v: %v m, %v m2; the formula gives %v m", n, diameter[i], area[i], d)
		}
	}
}

// BS 3737: 57 sizes, each thinner than the one before.
func TestSWG(t *testing.T) {
	gauge, diameter := Shipped().Numbers("swg", "gauge"), Shipped().Numbers("swg", "diameter")
	if len(gauge) != 57 {
		t.Fatalf("%d sizes, want 57", len(gauge))
	}
	for i := 1; i < len(gauge); i++ {
		if gauge[i] != gauge[i-1]+1 || diameter[i] >= diameter[i-1] {
			t.Errorf("row %d: gauge %v, %v m after %v m", i+1, gauge[i], diameter[i], diameter[i-1])
		}
	}
}

// IEC 60063: from E48 on a value is 10^(i/n) to three figures, but for 9.20 in
// E192; a smaller series is every second value of the next, from E3 to E24 and
// from E48 to E192.
func TestPreferred(t *testing.T) {
	series := map[int][]float64{}
	members := Shipped().Numbers("preferred", "series")
	for i, v := range Shipped().Numbers("preferred", "value") {
		n := int(members[i])
		series[n] = append(series[n], v)
	}
	for n, values := range series {
		if len(values) != n {
			t.Fatalf("E%d has %d values", n, len(values))
		}
		for i, v := range values {
			if n >= 48 {
				want := math.Round(100*math.Pow(10, float64(i)/float64(n))) / 100
				if n == 192 && want == 9.19 {
					want = 9.20
				}
				if v != want {
					t.Errorf("E%d value %d is %v, want %v", n, i, v, want)
				}
			}
			if n != 192 && n != 24 && v != series[2*n][2*i] {
				t.Errorf("E%d value %d is %v, E%d has %v", n, i, v, 2*n, series[2*n][2*i])
			}
			// Below E48 the values are historical, but none is further from the series than half a step.
			if exact := math.Pow(10, float64(i)/float64(n)); math.Abs(math.Log10(v/exact)) > 0.5/float64(n)+0.01 {
				t.Errorf("E%d value %d is %v, far from %v", n, i, v, exact)
			}
		}
	}
	for _, n := range []int{3, 6, 12, 24, 48, 96, 192} {
		if series[n] == nil {
			t.Errorf("no E%d", n)
		}
	}
}

// NEM 010 with NEM 112: a scale's track stands for standard gauge, 1435 mm,
// within what the norm rounds and British compromises; narrow gauge for what its
// letter or its source says.
func TestScaleGauges(t *testing.T) {
	labels := Shipped().Texts("scales", labelColumn)
	ratio, gauge := Shipped().Numbers("scales", "ratio"), Shipped().Numbers("scales", "gauge")
	norm := Shipped().Texts("scales", "norm")
	for i, symbol := range labels {
		full, least, most := ratio[i]*gauge[i], 1.2, 1.7
		switch last := symbol[len(symbol)-1]; {
		case norm[i] == "NEM 010" && last == 'm':
			least, most = 0.85, 1.25
		case norm[i] == "NEM 010" && last == 'e':
			least, most = 0.65, 0.85
		case norm[i] == "NEM 010" && last == 'i':
			least, most = 0.4, 0.65
		case strings.Contains(Shipped().Table("scales").Source[i], "narrow gauge"):
			least, most = 0.6, 0.95
		}
		if full < least || full >= most {
			t.Errorf("%s stands for a gauge of %v m, not for %v to %v m", symbol, full, least, most)
		}
	}
	for _, typed := range []string{"HO", "O", "OO"} {
		if slices.Contains(labels, typed) {
			t.Errorf("%s is a scale, but its ratio differs from country to country", typed)
		}
	}
}

// Copper of a cable is never better than ideal copper of the nominal area
// (IEC 60228 against IEC 60028), and a larger size has less resistance.
func TestConductorsAgainstCopper(t *testing.T) {
	rho := value(t, "copper", "annealed", "resistivity")
	area, solid, flexible := Shipped().Numbers("conductors", "area"), Shipped().Numbers("conductors", "solid"), Shipped().Numbers("conductors", "flexible")
	for i, a := range area {
		if m := solid[i] * a / rho; m < 1.04 || m > 1.08 {
			t.Errorf("%v m2 solid has %.3f times ideal copper", a, m)
		}
		if m := flexible[i] * a / rho; m < 1.10 || m > 1.16 {
			t.Errorf("%v m2 flexible has %.3f times ideal copper", a, m)
		}
		if i > 0 && (a <= area[i-1] || solid[i] >= solid[i-1]) {
			t.Errorf("row %d is out of order", i+1)
		}
	}
}

// One fact stands in one place: no two tables have a row of the same numbers
// under the same label.
func TestNoFactTwice(t *testing.T) {
	seen := map[string]string{}
	for _, name := range Shipped().TableNames() {
		tab := Shipped().Table(name)
		for _, row := range tab.Node.Rows {
			for i, head := range tab.Node.Heads {
				lit, ok := row.Cells[i].Expr.(*syntax.Literal)
				if !ok || head.Name.Text == "gauge" && lit.Text == row.Label {
					continue // a gauge number is how its label reads
				}
				fact := row.Label + " " + head.Name.Text + " " + lit.Text
				if other := seen[fact]; other != "" && other != name {
					t.Errorf("%s stands in %s and in %s", fact, other, name)
				}
				seen[fact] = name
			}
		}
	}
}

func TestTableErrors(t *testing.T) {
	const heads = "# m\nsize\tarea as mm2\tbasis\tsource\n"
	for _, c := range []struct{ text, want string }{
		{"", "no rows"},
		{heads, "no rows"},
		{"# m\nsize\tarea\tsource\tbasis\nx\t1\tmemory\tnone\n", "basis and source"},
		{"# m\nsize\tbasis\tsource\nx\tmemory\tnone\n", "basis and source"},
		{heads + "x\t1\tmemory\n", "row 1"},
		{heads + "x\t1\tmemory\tnone\ny\t\tmemory\tnone\n", "row 2"},
		{heads + "x\t1\t2\tmemory\tnone\n", "row 1"},
		{heads + "x\t1 +\tmemory\tnone\n", ""},
		{heads + "x\tarea\tmemory\tnone\n", "not a number"},
		{"# m\nsize\tarea as mm7x\tbasis\tsource\nx\t1\tmemory\tnone\n", ""},
	} {
		if _, err := parseTable("t", c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: error %v, want one about %q", c.text, err, c.want)
		}
	}
}

func TestTableAsTyped(t *testing.T) {
	tab, err := parseTable("t", "# What it is\n# area: what area means\nsize\tarea as mm2\tcolour as text\tn\tbasis\tsource\n"+
		"1.5 mm2\t1.5\tso-called \"blue\"\t-1\tmemory\tsomewhere\n4/0\t3 mm2\tred\t1e3\tpractice\tcommon practice, no source\n")
	if err != nil {
		t.Fatal(err)
	}
	typed, incomplete := syntax.ParseLine("table t | area as mm2 | colour | n\n  1.5 mm2 | 1.5 | \"so-called \"\"blue\"\"\" | -1\n  4/0 | 3 mm2 | \"red\" | 1e3\nend")
	if incomplete || len(typed.Errors) > 0 {
		t.Fatal(typed.Errors)
	}
	got := syntax.Print(&syntax.Line{Node: tab.Node})
	if want := syntax.Print(typed); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if tab.Meaning != "What it is" || tab.Meant[0] != "what area means" || tab.Meant[1] != "" {
		t.Errorf("meaning %q, meant %q", tab.Meaning, tab.Meant)
	}
	if got := tab.numbers["area"]; !agree(got[0], 1.5e-6, 1e-15) || !agree(got[1], 3e-6, 1e-15) {
		t.Errorf("area %v", got)
	}
	if got := tab.numbers["n"]; got[0] != -1 || got[1] != 1000 {
		t.Errorf("n %v", got)
	}
	if got := tab.texts["colour"]; got[0] != `so-called "blue"` || got[1] != "red" {
		t.Errorf("colour %q", got)
	}
}

func TestNoSuchTable(t *testing.T) {
	lib := Shipped()
	if lib.Table("nothing") != nil || lib.Numbers("nothing", "x") != nil || lib.Texts("scales", "ratio") != nil || lib.Numbers("scales", "norm") != nil {
		t.Error("what is not there was found")
	}
}
