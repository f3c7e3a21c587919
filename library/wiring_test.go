package library

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// wiring lists the sheets of the group and the pieces that they rest on.
var wiring = []string{
	"fault", "bus", "rails", "cut_list", "fuse", "supply", "smoothing", "accessories", "crossing", "proof",
	"short", "guard", "feed", "limited",
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
