package show

import (
	"bytes"
	"flag"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/outline"
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
func quantity(t testing.TB, x float64, in string) *answer.Value {
	u := unit(t, in)
	return &answer.Value{
		Type:    types.Type{Kind: types.Number, Dim: u.Dim()},
		Numbers: []float64{u.SI(new(big.Rat).SetFloat64(x))},
		Unit:    u,
	}
}

func typed(v *answer.Value, literal, tol string) *answer.Value {
	v.Literal, v.Tol = number(literal), number(tol)
	return v
}

// number is a number as typed, its unit behind a blank.
func number(text string) answer.Typed {
	if n, unit, ok := strings.Cut(text, " "); ok {
		if u, err := units.Parse(unit); err == nil {
			return answer.Typed{Number: n, Unit: u}
		}
	}
	return answer.Typed{Number: text}
}

// expr is an expression of the language, or what is none as it stands.
func expr(text string) answer.Expr {
	line, _ := syntax.ParseLine(text)
	if q, ok := line.Node.(*syntax.Question); ok {
		return answer.Expr{Expr: q.Expr}
	}
	return answer.Expr{Expr: &syntax.Literal{Text: text}}
}

// compared is a comparison such as "725 mV < 15 V".
func compared(t testing.TB, text string) *answer.Compared {
	c := &answer.Compared{}
	words := strings.Fields(text)
	side := func(x, unit string) *answer.Value {
		f, err := strconv.ParseFloat(x, 64)
		if err != nil {
			t.Fatal(err)
		}
		return quantity(t, f, unit)
	}
	c.Left, c.Sign, c.Right = side(words[0], words[1]), words[2], side(words[3], words[4])
	return c
}

func column(t testing.TB, of *types.Table, in string, xs ...float64) *answer.Value {
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
func busCard(t testing.TB) *answer.Card {
	c := &answer.Card{
		Name:  "north",
		Sheet: "drop", About: "volts lost along a two-wire copper run", Edition: 1,
		Verdict: answer.Danger,
		Asks: []answer.CardLine{
			{Name: "supply", Meaning: "voltage at the feed", Value: typed(quantity(t, 15, "V"), "15 V", "5 %"), From: expr("track")},
			{Name: "length", Meaning: "length of the run, one way", Value: typed(quantity(t, 120, "m"), "120 m", ""), Range: &answer.Range{Range: syntax.Range{From: expr("0.1 m").Expr, To: expr("100 m").Expr}}, Outside: true},
			{Name: "wire", Meaning: "area of one conductor", Value: typed(quantity(t, 1.5, "mm2"), "1.5 mm2", ""), State: answer.Default},
			{Name: "temperature", Value: typed(quantity(t, 303.15, "K"), "30 degC", ""), State: answer.Assumed},
			{Name: "engines", Meaning: "what runs here", Columns: []answer.CardLine{
				{Name: "count", Value: &answer.Value{Type: types.Type{Kind: types.Number, Of: fleet}, Numbers: []float64{2, 1}}},
				{Name: "draw", Value: column(t, fleet, "mA", 280, 450)},
			}},
		},
		Gives: []answer.CardLine{
			{Name: "lost", Meaning: "volts lost", Value: quantity(t, 725, "mV")},
			{Name: "each", Meaning: "volts lost to each engine", Value: column(t, fleet, "mV", 67.7, 108.8)},
			{Name: "spare", Meaning: "what is left over", Why: "a division by nothing"},
		},
		Rules: []answer.Judged{
			{Must: true, Cond: expr("lost < supply"), Holds: "the current can flow at all", Verdict: answer.Clear, Compared: compared(t, "725 mV < 15 V"), Nominal: true},
			{Cond: expr("share <= allowed"), Else: "trains at the end slow down", Cure: "thicken the wire", Verdict: answer.Caution, Compared: compared(t, "6.2 % <= 5 %")},
			{Must: true, Cond: expr("short >= trip"), Verdict: answer.Danger, Fails: []string{"a", "b", "c", "d", "e", "f", "g"}, Rows: 9},
			{Must: true, Cond: expr("spare > 0"), Verdict: answer.NoVerdict, Why: "a division by nothing"},
		},
		Hazards: []string{"a run that cannot trip its booster glows quietly: fuse it or thicken it"},
		Sources: []string{"IEC 60028, resistivity of copper"},
	}
	c.Count()
	return c
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
		got := written(c.o, func(p *Printer) { p.Card(busCard(t), CardForm{}) })
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
	plain := written(Options{Width: 80}, func(p *Printer) { p.Card(busCard(t), CardForm{}) })
	coloured := written(Options{Width: 80, Colour: true}, func(p *Printer) { p.Card(busCard(t), CardForm{}) })
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
	text := written(Options{Width: 40}, func(p *Printer) { p.Card(busCard(t), CardForm{}) })
	for _, row := range strings.Split(text, "\n") {
		if width(row) > 40 {
			t.Errorf("%d columns: %q", width(row), row)
		}
	}
}

func TestValues(t *testing.T) {
	truth := func(x float64) *answer.Value {
		return &answer.Value{Type: types.Type{Kind: types.Truth}, Numbers: []float64{x}}
	}
	text := func(s string) *answer.Value {
		return &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{s}}
	}
	faulty := column(t, fleet, "mA", 280, 0)
	faulty.Faults = []string{"", "a division by nothing"}
	for _, c := range []struct {
		name        string
		v           *answer.Value
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
	c := answer.Change{
		Deltas: []answer.Delta{
			answer.NewDelta("north.lost", 0, answer.Pair{quantity(t, 568, "mV"), quantity(t, 1.136, "V")}, 0),
			answer.NewDelta("fresh", 0, answer.Pair{1: quantity(t, 1, "V")}, 0),
		},
		Turns: []answer.Turn{{Name: "north", Cond: expr("share <= allowed"), Was: answer.Clear, Now: answer.Caution}},
		Moved: []answer.Rebound{{Line: 2, Was: -1, Now: 1}, {Line: 2, Was: 1, Now: -1}},
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
		{Line: line(3, "should lost <= 5 %"), Rule: &answer.Judged{Cond: expr("lost <= 5 %"), Verdict: answer.Caution, Compared: compared(t, "6 % <= 5 %")}},
		{Line: line(4, "1 V + 1 m"), Errors: []syntax.Diag{{At: syntax.Pos{Row: 4, Col: 5}, Wrong: words.Wrong{Message: "a voltage (V) and a length (m) cannot be added"}}}},
		{Line: line(5, "use drop for north"), Cards: []*answer.Card{busCard(t)}},
	}
	got := written(Options{Width: 100}, func(p *Printer) { p.Verdicts("gannet.sums", outline.Count(slices.All(answers))) })
	golden(t, "verdicts", got)
}

// Of a long line the ends are shown and the rows that are asked for; one row between is
// shown and not counted.
func TestNumberedRows(t *testing.T) {
	l := &syntax.Line{Row: 5, Raw: "table f | n\n  a | 1\n  b | 2\n  c | 3\n  d | 4\n  e | 5\n  f | 6\nend"}
	for _, c := range []struct {
		some []int
		want string
	}{
		{nil, "5. table f | n\n    and 6 rows\n12. end\n"},
		{[]int{7, 8}, "5. table f | n\n6.   a | 1\n7.   b | 2\n8.   c | 3\n    and 3 rows\n12. end\n"},
		{[]int{5, 10, 12}, "5. table f | n\n    and 4 rows\n10.   e | 5\n11.   f | 6\n12. end\n"},
	} {
		if got := written(Options{Width: 80}, func(p *Printer) { p.NumberedRows(l, c.some) }); got != c.want {
			t.Errorf("rows %v: got\n%swant\n%s", c.some, got, c.want)
		}
	}
}
