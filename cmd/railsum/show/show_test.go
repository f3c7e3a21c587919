package show

import (
	"bytes"
	"flag"
	"math/big"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

var update = flag.Bool("update", false, "write the golden files")

func unit(t testing.TB, s string) units.Unit {
	t.Helper()
	u, err := units.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// quantity is a value of one row, given in its unit.
func quantity(t testing.TB, x float64, in string) *calc.Value {
	u := unit(t, in)
	return &calc.Value{
		Type:    types.Type{Kind: types.Number, Dim: u.Dim()},
		Numbers: []float64{u.SI(new(big.Rat).SetFloat64(x))},
		Unit:    u,
	}
}

func typed(v *calc.Value, literal, tol string) *calc.Value {
	v.Literal, v.Tol = literal, tol
	return v
}

func column(t testing.TB, of *types.Table, in string, xs ...float64) *calc.Value {
	v := quantity(t, 1, in)
	v.Type.Of = of
	v.Numbers = nil
	for _, x := range xs {
		v.Numbers = append(v.Numbers, v.Unit.SI(new(big.Rat).SetFloat64(x)))
	}
	return v
}

// written is what a Printer writes.
func written(o Options, write func(p *Printer)) string {
	var b bytes.Buffer
	write(New(&b, o))
	return b.String()
}

var fleet = &types.Table{Name: "fleet", Labels: []string{"dock shunter", "railcar"}}

// busCard is a card with one of everything.
func busCard(t testing.TB) *calc.Card {
	return &calc.Card{
		Name:    "north",
		Sheet:   &calc.Sheet{Name: "drop", Meaning: "volts lost along a two-wire copper run", Edition: 1},
		Verdict: calc.Danger,
		Asks: []calc.CardLine{
			{Name: "supply", Meaning: "voltage at the feed", Value: typed(quantity(t, 15, "V"), "15 V", "5 %"), From: "track"},
			{Name: "length", Meaning: "length of the run, one way", Value: typed(quantity(t, 120, "m"), "120 m", ""), Range: "0.1 m to 100 m", Outside: true},
			{Name: "wire", Meaning: "area of one conductor", Value: typed(quantity(t, 1.5, "mm2"), "1.5 mm2", ""), State: calc.Default},
			{Name: "temperature", Value: typed(quantity(t, 303.15, "K"), "30 degC", ""), State: calc.Assumed},
			{Name: "engines", Meaning: "what runs here", Columns: []calc.CardLine{
				{Name: "count", Value: &calc.Value{Type: types.Type{Kind: types.Number, Of: fleet}, Numbers: []float64{2, 1}}},
				{Name: "draw", Value: column(t, fleet, "mA", 280, 450)},
			}},
		},
		Gives: []calc.CardLine{
			{Name: "lost", Meaning: "volts lost", Value: quantity(t, 725, "mV")},
			{Name: "each", Meaning: "volts lost to each engine", Value: column(t, fleet, "mV", 67.7, 108.8)},
			{Name: "spare", Meaning: "what is left over", Why: "a division by nothing"},
		},
		Rules: []calc.Judged{
			{Must: true, Text: "lost < supply", Meaning: "the current can flow at all", Verdict: calc.Clear, Sides: "725 mV < 15 V", Tolerance: true},
			{Text: "share <= allowed", Meaning: "trains at the end should not slow down", Verdict: calc.Caution, Sides: "6.2 % <= 5 %"},
			{Must: true, Text: "short >= trip", Verdict: calc.Danger, Fails: []string{"a", "b", "c", "d", "e", "f", "g"}, Rows: 9},
			{Must: true, Text: "spare > 0", Verdict: calc.NoVerdict, Why: "a division by nothing"},
		},
		Hazards: []string{"a run that cannot trip its booster glows quietly: fuse it or thicken it"},
		Sources: []string{"IEC 60028, resistivity of copper"},
	}
}

// TestCards compares whole cards with what was looked over by eye.
func TestCards(t *testing.T) {
	for _, c := range []struct {
		file string
		o    Options
	}{
		{"wide", Options{Width: 100}},
		{"narrow", Options{Width: 40}},
		{"ascii", Options{Width: 80, ASCII: true}},
		{"coloured", Options{Width: 80, Colour: true}},
	} {
		got := written(c.o, func(p *Printer) { p.Card(busCard(t)) })
		golden(t, "card_"+c.file, got)
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: got\n%s\nwant\n%s", name, got, want)
	}
}

// TestColourOnlyBesideWords takes the colours away and must find the plain
// card: a colour never says something that no word says.
func TestColourOnlyBesideWords(t *testing.T) {
	plain := written(Options{Width: 80}, func(p *Printer) { p.Card(busCard(t)) })
	coloured := written(Options{Width: 80, Colour: true}, func(p *Printer) { p.Card(busCard(t)) })
	if !strings.Contains(coloured, "\x1b[") {
		t.Fatal("no colour at all")
	}
	if strings.Contains(plain, "\x1b") {
		t.Error("a colour where none is wanted")
	}
	if got := sgr.ReplaceAllString(coloured, ""); got != plain {
		t.Errorf("without its colours the card reads\n%s\nand should read\n%s", got, plain)
	}
	for _, row := range strings.Split(coloured, "\n") {
		if depth := nesting(row); depth > 1 {
			t.Errorf("colours nested: %q", row)
		}
	}
}

// TestNarrowRows: at 40 columns nothing is wider unless one word is.
func TestNarrowRows(t *testing.T) {
	text := written(Options{Width: 40}, func(p *Printer) { p.Card(busCard(t)) })
	for _, row := range strings.Split(text, "\n") {
		if width(row) > 40 {
			t.Errorf("%d columns: %q", width(row), row)
		}
	}
}

func TestValues(t *testing.T) {
	truth := func(x float64) *calc.Value {
		return &calc.Value{Type: types.Type{Kind: types.Truth}, Numbers: []float64{x}}
	}
	text := func(s string) *calc.Value {
		return &calc.Value{Type: types.Type{Kind: types.Text}, Texts: []string{s}}
	}
	faulty := column(t, fleet, "mA", 280, 0)
	faulty.Faults = []string{"", "a division by nothing"}
	for _, c := range []struct {
		name        string
		v           *calc.Value
		want, ascii string
	}{
		{"a length", quantity(t, 287.35632, "mm"), "287.4 mm", "287.4 mm"},
		{"an area", quantity(t, 1.5, "mm2"), "1.5 mm²", "1.5 mm2"},
		{"a resistance", quantity(t, 3300, "ohm"), "3300 Ω", "3300 ohm"},
		{"a typed area", typed(quantity(t, 1.5, "mm2"), "1.5 mm2", ""), "1.5 mm²", "1.5 mm2"},
		{"a typed length", typed(quantity(t, 30, "in"), "2 ft 6 in", ""), "2 ft 6 in", "2 ft 6 in"},
		{"a typed code", typed(quantity(t, 3300, "ohm"), "3k3", "1 %"), "3k3 +- 1 %", "3k3 +- 1 %"},
		{"a tolerance in a unit", typed(quantity(t, 20, "uF"), "20 uF", "2 uF"), "20 µF +- 2 µF", "20 uF +- 2 uF"},
		{"a truth", truth(1), "yes", "yes"},
		{"an untruth", truth(0), "no", "no"},
		{"a text", text(`the "long" siding`), `"the ""long"" siding"`, `"the ""long"" siding"`},
		{"a column", column(t, fleet, "mA", 280, 450), "280 mA, 450 mA", "280 mA, 450 mA"},
		{"a column with a fault", faulty, "280 mA, no answer: a division by nothing", "280 mA, no answer: a division by nothing"},
		{"nothing", nil, "no answer", "no answer"},
		{"no rows", column(t, &types.Table{Name: "none"}, "mA"), "no rows", "no rows"},
	} {
		for _, ascii := range []bool{false, true} {
			want := c.want
			if ascii {
				want = c.ascii
			}
			p := New(&bytes.Buffer{}, Options{ASCII: ascii})
			if got := p.Value(c.v); got != want {
				t.Errorf("%s, ascii %v: got %s, want %s", c.name, ascii, got, want)
			}
		}
	}
}

func TestColumns(t *testing.T) {
	v := column(t, fleet, "mA", 280, 1450)
	wide := written(Options{Width: 80}, func(p *Printer) { p.Column(v, "    ") })
	if want := "    dock shunter    280 mA\n    railcar        1450 mA\n"; wide != want {
		t.Errorf("wide: got\n%s\nwant\n%s", wide, want)
	}
	narrow := written(Options{Width: 40}, func(p *Printer) { p.Column(v, "    ") })
	if want := "    dock shunter: 280 mA\n    railcar: 1450 mA\n"; narrow != want {
		t.Errorf("narrow: got\n%s\nwant\n%s", narrow, want)
	}
	stacked := written(Options{Width: 80, Stacked: true}, func(p *Printer) { p.Column(v, "    ") })
	if stacked != narrow {
		t.Errorf("stacked: got\n%s\nwant\n%s", stacked, narrow)
	}
}

// TestWideLabels: a wide character takes two columns, so the values stand
// under one another on the screen and not in the bytes.
func TestWideLabels(t *testing.T) {
	of := &types.Table{Name: "t", Labels: []string{"漢", "Ωx"}}
	got := written(Options{Width: 80}, func(p *Printer) { p.Column(column(t, of, "V", 1, 2), "") })
	if want := "漢   1 V\nΩx   2 V\n"; got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestChange(t *testing.T) {
	lines := []*syntax.Line{{Row: 2, Raw: "table t | a\nx | 1\nend"}, {Row: 5, Raw: "1 m + 1 m"}, {Row: 6, Raw: "that * 2"}}
	c := calc.Change{
		Deltas: []calc.Delta{
			{Name: "north.lost", Old: quantity(t, 568, "mV"), New: quantity(t, 1.136, "V")},
			{Name: "fresh", New: quantity(t, 1, "V")},
		},
		Turns: []calc.Turn{{Name: "north", Text: "share <= allowed", Old: calc.Clear, New: calc.Caution}},
		Moved: []calc.Rebound{{Line: 2, Was: -1, Now: 1}, {Line: 2, Was: 1, Now: -1}},
	}
	got := written(Options{ASCII: true, Width: 80}, func(p *Printer) { p.Change(c, lines) })
	want := `    north.lost: 568 mV -> 1.136 V
    fresh: no answer -> 1 V
    north, share <= allowed: clear -> caution
    that on line 6 now means line 5, 1 m + 1 m
    that on line 6 now means nothing
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestVerdicts(t *testing.T) {
	line := func(row int, raw string) *syntax.Line { return &syntax.Line{Row: row, Raw: raw} }
	answers := []*calc.Answer{
		{Line: line(2, "track = 15 V"), Value: quantity(t, 15, "V")},
		{Line: line(3, "should lost <= 5 %"), Rule: &calc.Judged{Text: "lost <= 5 %", Verdict: calc.Caution, Sides: "6 % <= 5 %"}},
		{Line: line(4, "1 V + 1 m"), Errors: []syntax.Diag{{At: syntax.Pos{Row: 4, Col: 5}, Wrong: words.Wrong{Message: "a voltage (V) and a length (m) cannot be added"}}}},
		{Line: line(5, "use drop for north"), Cards: []*calc.Card{busCard(t)}},
	}
	got := written(Options{Width: 100}, func(p *Printer) { p.Verdicts("gannet.sums", answers) })
	golden(t, "verdicts", got)
}
