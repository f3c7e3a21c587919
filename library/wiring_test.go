package library

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// wiring lists the sheets of the group and the pieces that they rest on.
var wiring = []string{
	"fault", "bus", "rails", "cut_list", "fuse", "supply", "smoothing", "accessories", "crossing", "proof",
	"short", "feed", "limited",
}

// Each rule of the wiring sheets turns when its subject does.
func TestWiringRules(t *testing.T) {
	const way = "table way | length as m | area as mm2\n  bus | 8 | %s\nend\nuse fault for x with %s\nx.path = way\n"
	const list = "table cuts | job | colour | area as mm2 | length as m | conductors\n  a | \"bus\" | \"red\" | 1.5 | 3 | 1\n  b | \"%s\" | \"red\" | 1.5 | %s | 1\nend\nuse cut_list for x\nx.runs = cuts\n"
	const taken = "table taken | distance as m | load as A\n  a | %s | 1\n  b | %s | 1\nend\nuse bus for x with %s\nx.loads = taken\n"
	for _, c := range []struct {
		lines   string
		rule    string // begins with this
		verdict answer.Verdict
	}{
		{fmt.Sprintf(way, "1.5", "contact = 1 ohm, rail_length = 10 m"), "fault >= ", answer.Danger},
		{fmt.Sprintf(way, "0.5", "trip = 2 A, trip_time = 8 s"), "lasts >= ", answer.Danger},
		{fmt.Sprintf(way, "0.5", "trip = 5 A"), "lasting >= ", answer.Danger},
		{fmt.Sprintf(way, "6", "trip_time = 6 s"), "trip_time <= ", answer.Caution},
		{fmt.Sprintf(taken, "3", "2", "joints = 2"), "is_ascending", answer.Danger},
		{fmt.Sprintf(taken, "3", "12", `ends = "both"`), "ends = ", answer.Danger},
		{fmt.Sprintf(taken, "3", "9", "needed = 14.9 V"), "lowest > ", answer.Danger},
		{fmt.Sprintf(taken, "3", "90", "joints = 2"), "fault >= ", answer.Danger},
		{fmt.Sprintf(taken, "3", "9", "wire = 0.75 mm2"), "trip <= ", answer.Danger},
		{fmt.Sprintf(taken, "3", "25", "joints = 2"), "share <= ", answer.Caution},
		{"use rails for x with load = 10 A, tail = 5 m, own = 2 ohm/m\n", "max(midway, at_tail) < ", answer.Danger},
		{"use rails for x with bus = 2 ohm\n", "fault >= ", answer.Danger},
		{"use rails for x with spacing = 5 m\n", "midway <= ", answer.Caution},
		{"use rails for x with joiner = 50 mohm\n", "both_open <= ", answer.Caution},
		{"use rails for x with tail = 2 m\n", "at_tail <= ", answer.Caution},
		{"use rails for x with rail = \"code 125\"\n", "known = ", answer.Caution},
		{fmt.Sprintf(list, "signals", "3"), "lookup(", answer.Danger},
		{fmt.Sprintf(list, "bus", "-3"), "runs.length >= ", answer.Danger},
		{"use cut_list for x with spare = 5 %\n", "spare >= ", answer.Caution},
		{"use fuse for x with load = 2.1 A\n", "load <= ", answer.Danger},
		{"use fuse for x with wire = 0.7 mm2\n", "blows <= ", answer.Danger},
		{"use fuse for x with wire = 0.5 mm2, kind = \"blade\", fitted = 3 A\n", "fitted <= ", answer.Danger},
		{"use fuse for x with supply = 48 V\n", "supply <= ", answer.Danger},
		{"use fuse for x with greatest = 100 A\n", "greatest <= ", answer.Danger},
		{"use fuse for x with prospective = 9 A\n", "prospective >= ", answer.Caution},
		{"use fuse for x with trip = 6 A\n", "trip <= ", answer.Caution},
		{"use supply for x with rating = 50 VA\n", "rating >= power", answer.Danger},
		{"use supply for x with regulated = no, volts = 24 V\n", "highest <= ", answer.Danger},
		{"use supply for x with isolating = no\n", "isolating", answer.Danger},
		{"use supply for x with joined = yes\n", "not joined", answer.Danger},
		{"use supply for x with rating = 60 VA\n", "rating >= with_spare", answer.Caution},
		{"use supply for x with rating = 100 VA\n", "rating <= limited_power", answer.Caution},
		{"use supply for x with volts = 12 V, rating = 60 VA, spare = 0 %\n", "kind != ", answer.Caution},
		{"use smoothing for x with needed = 20 V\n", "trough >= ", answer.Danger},
		{"use smoothing for x with rated_volts = 25 V\n", "rated_volts >= ", answer.Danger},
		{"use smoothing for x with rated_ripple = 5 A\n", "rated_ripple >= ", answer.Danger},
		{"use smoothing for x with bleed_rating = 3 W\n", "bleed_rating >= ", answer.Danger},
		{"use smoothing for x with capacitor = 15 mF\n", "share <= ", answer.Caution},
		{"use smoothing for x with bleed = 330R\n", "discharge <= ", answer.Caution},
		{"use accessories for x with rating = 0.6 A\n", "total <= rating", answer.Danger},
		{"use accessories for x with needed = 11.9 V\n", "left >= ", answer.Danger},
		{"table some | count | holding as mA | operating as mA | at_once\n  a | 2 | 10 | 100 | 3\nend\nuse accessories for x\nx.devices = some\n", "devices.at_once <= ", answer.Danger},
		{"use accessories for x with rating = 0.8 A\n", "total <= rating * ", answer.Caution},
		{"use accessories for x with own_supply = no\n", "own_supply", answer.Caution},
		{"use crossing for x with in_step = no\n", "in_step", answer.Danger},
		{"use crossing for x with common = no\n", "common", answer.Danger},
		{"use crossing for x with second_volts = 12 V\n", "current <= ", answer.Danger},
		{"use crossing for x with second_volts = 13.8 V\n", "difference <= ", answer.Caution},
		{"use proof for x with loaded = 15.1 V\n", "loaded < ", answer.Danger},
		{"use proof for x with loaded = 10 V\n", "fault >= ", answer.Danger},
		{"use proof for x with load = 20 A, loaded = 13.4 V\n", "lost < ", answer.Danger},
		{"use proof for x with coin = \"does not trip\"\n", "coin != \"does not trip\"", answer.Danger},
		{"use proof for x with loaded = 14 V\n", "resistance <= ", answer.Caution},
		{"use proof for x with coin = \"not tried\"\n", "coin != \"not tried\"", answer.Caution},
	} {
		rules := card(t, c.lines).Rules
		i := slices.IndexFunc(rules, func(r answer.Judged) bool { return strings.HasPrefix(r.Cond.String(), c.rule) })
		switch {
		case i < 0:
			t.Errorf("%sno rule %q", c.lines, c.rule)
		case rules[i].Verdict != c.verdict:
			t.Errorf("%s%s: %v, %s %s", c.lines, rules[i].Cond.String(), rules[i].Verdict, rules[i].Figures(), rules[i].Why)
		}
	}
}

// A column for any input gives columns for answers, each row what the sheet
// says of it alone. A sheet that works through a table of its own takes columns
// only where they do not meet that table.
func TestWiringOverColumns(t *testing.T) {
	for _, name := range wiring {
		if slices.Contains([]string{"fault", "bus", "cut_list"}, name) {
			continue
		}
		sheet, err := Shipped().Sheet(name, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range sheet.File.Lines {
			ask, ok := line.Node.(*syntax.Ask)
			if !ok {
				continue
			}
			ends := []syntax.Expr{ask.Tail.From, ask.Tail.To}
			if ask.Tail.From == nil {
				ends = ask.Tail.Among[:2]
			}
			low, high := syntax.PrintExpr(ends[0]), syntax.PrintExpr(ends[1])
			both := card(t, fmt.Sprintf("table t | v\n  low | %s\n  high | %s\nend\nuse %s for x with %s = t.v\n", low, high, name, ask.Name.Text))
			for row, end := range []string{low, high} {
				alone := card(t, fmt.Sprintf("use %s for x with %s = %s\n", name, ask.Name.Text, end))
				for i, g := range both.Gives {
					compareRow(t, fmt.Sprintf("%s with %s = %s: %s", name, ask.Name.Text, end, g.Name), g.Value, alone.Gives[i].Value, row)
				}
			}
		}
	}
}

// compareRow holds a row of an answer to the answer for that row alone.
func compareRow(t *testing.T, what string, both, alone *answer.Value, row int) {
	t.Helper()
	if both == nil || alone == nil || !both.Sound() || !alone.Sound() {
		t.Errorf("%s: no answer", what)
		return
	}
	if !both.Column() {
		row = 0 // what the input does not reach is one value
	}
	switch {
	case both.Texts != nil && both.Texts[row] == alone.Texts[0]:
	case both.Texts == nil && agree(both.Numbers[row], alone.Numbers[0], 1e-12):
	default:
		t.Errorf("%s: %s, alone %s", what, both.Cell(row), alone.Cell(0))
	}
}

// ISO 3: a rating of the series R10 is the tenth root of ten times the one
// before it, rounded by no more than a fiftieth.
func TestFuseSeries(t *testing.T) {
	n := 0
	for _, rating := range Shipped().Numbers("fuses", "miniature") {
		if rating == 0 {
			continue
		}
		if exact := 0.1 * math.Pow(10, float64(n)/10); !agree(rating, exact, 0.02) {
			t.Errorf("rating %d is %v A, want about %v A", n, rating, exact)
		}
		n++
	}
	if n != 21 {
		t.Errorf("%d ratings from 0.1 to 10 A, want 21", n)
	}
	for _, column := range []string{"miniature", "blade"} {
		made := slices.DeleteFunc(slices.Clone(Shipped().Numbers("fuses", column)), func(x float64) bool { return x == 0 })
		if !slices.IsSorted(made) {
			t.Errorf("%s fuses are out of order: %v", column, made)
		}
	}
}
