package calc_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/library"

	"context"
)

// spelled is all that a book has to say, as text to compare.
func spelled(b *calc.Book) string {
	var s strings.Builder
	for i, a := range b.Answers() {
		fmt.Fprintf(&s, "%d %s", i, a.Name)
		if a.Value != nil {
			for r := range a.Value.Numbers {
				fmt.Fprintf(&s, " [%s]", a.Value.Cell(r))
			}
		}
		if a.Rule != nil {
			fmt.Fprintf(&s, " %v %v %s", a.Rule.Verdict, a.Rule.Fails, a.Rule.Figures())
		}
		for _, c := range a.Cards {
			fmt.Fprintf(&s, " card %v", c.Verdict)
			for _, g := range append(c.Asks, c.Gives...) {
				if g.Value != nil && len(g.Value.Numbers) > 0 {
					fmt.Fprintf(&s, " %s=%s/%v", g.Name, g.Value.Cell(0), g.State)
				}
			}
		}
		for _, d := range append(a.Errors, a.Notices...) {
			fmt.Fprintf(&s, " (%s)", d.Message)
		}
		s.WriteString("\n")
	}
	fmt.Fprintf(&s, "%v %v", b.Verdict(), b.OK())
	return s.String()
}

// A book that has been edited line by line says what one says that is opened
// afresh, whichever way the edit took.
func TestUpdateEqualsOpen(t *testing.T) {
	start := []string{
		"track = 15 V", "length = 9 m", "use drop for north", "north.length = length", "north.supply = track",
		"must north.lost <= 1 V", "north.left", "that / 2", "table t | a | b", "", "share = 5 %", "k = north.share + share",
	}
	start[8] = "table t | a | b\n  one | 1 V | 2 A\n  two | track | 3 A\nend"
	pool := append([]string{
		"track = 12 V", "track = 18 V +- 5 %", "length = 20 m", "length = track / 1 A * 1 m", "length = 30 ft", "north.length = 2 * length",
		"north.length = 4 m", "north.load = t.b", "x = t.a / t.b", "t.c = t.a * t.b", "sum(t.b)", "use stub for s with length = 30 mm",
		"should north.lost <= 2 % of track", "share = 7 %", "share = 0", "length = nowhere", "nowhere = 3 m", "1 / (track - 12 V)", "prefer ft",
		"# a note", "track =", "use drop for south like north", "use drop for other like south with length = 3 m", "south.lost", "x = 5 W as VA", "0 V +- 5 %", "use drop for north", "must t.a > 14 V", "that", "north.supply = 14 V", "assume length = 3 m",
	}, start...)
	rng := rand.New(rand.NewPCG(1, 2))
	lib := library.Shipped()
	parse := func(s string) *syntax.Line { l, _ := syntax.ParseLine(s); return l }
	for round := range 40 {
		var lines []*syntax.Line
		for _, s := range start {
			lines = append(lines, parse(s))
		}
		book := calc.Open(lines, lib)
		for step := range 25 {
			edit := append([]*syntax.Line(nil), book.Lines()...)
			text := pool[rng.IntN(len(pool))]
			at := rng.IntN(len(edit))
			switch rng.IntN(4) {
			case 0:
				edit = append(edit, parse(text))
			case 1:
				edit = append(edit[:at], edit[at+1:]...)
			case 2:
				edit[at] = parse(text)
			case 3:
				edit[1] = parse([]string{"length = 9 m", "length = 12 m", "length = 15 m"}[rng.IntN(3)])
			}
			if len(edit) < 4 {
				break
			}
			book.Update(edit)
			if got, want := spelled(book), spelled(calc.Open(edit, lib)); got != want {
				t.Fatalf("round %d step %d, %q:\ngot  %s\nwant %s", round, step, text, got, want)
			}
		}
	}
}

func TestUpdateTellsWhatChanged(t *testing.T) {
	book := openText("track = 15 V\nload = 3 A\nuse drop for north with supply = track, load = load\nshould north.lost <= 1 V\n7 m\nx = that * 2\n")
	change := book.Update(replaceLine(book, 1, "load = 5 A"))
	deltas := map[string]string{}
	for _, d := range change.Deltas {
		deltas[d.Name] = d.Old().String() + " -> " + d.New().String()
	}
	for name, want := range map[string]string{"load": "3 A -> 5 A", "north.load": "3 A -> 5 A", "north.lost": "725.2 mV -> 1.209 V"} {
		if deltas[name] != want {
			t.Errorf("%s: %s, want %s", name, deltas[name], want)
		}
	}
	if _, told := deltas["north.resistance"]; told {
		t.Error("the resistance has not changed and was told")
	}
	turned := false
	for _, turn := range change.Turns {
		turned = turned || turn.Cond.String() == "north.lost <= 1 V" && turn.Was == answer.Clear && turn.Now == answer.Caution
	}
	if !turned {
		t.Errorf("the rule has turned and was not told: %+v", change.Turns)
	}

	lines := append([]*syntax.Line(nil), book.Lines()...)
	l, _ := syntax.ParseLine("9 m")
	lines = append(lines[:5], append([]*syntax.Line{l}, lines[5:]...)...)
	change = book.Update(lines)
	if len(change.Moved) != 1 || change.Moved[0] != (answer.Rebound{Line: 6, Was: 4, Now: 5}) {
		t.Errorf("moved %+v", change.Moved)
	}
}

// The study of a million rows and the single answer are one compiled form; a
// hand-written loop of the same formulas has to agree with both.
func TestDropAgreesWithHand(t *testing.T) {
	book := openText("use drop for d\nd.length = 8 m\nd.load = 3 A\n")
	c := book.C
	place := c.Places[0][0]
	want := append(append(place.Gives[:0:0], place.Gives...), place.Rules...)
	const rows = 5000
	length := func(i int) float64 { return 1 + float64(i)/250 }
	load := func(i int) float64 { return 0.25 + float64(i%7)/2 }
	study := run.Study{Rows: rows, Want: want}
	study.Replace(c.Main[1], func(first int, dst []float64) {
		for i := range dst {
			dst[i] = length(first + i)
		}
	})
	study.Replace(c.Main[2], func(first int, dst []float64) {
		for i := range dst {
			dst[i] = load(first + i)
		}
	})
	seen := 0
	err := book.M.Study(context.Background(), study, func(first, n int, cols []*run.Col) error {
		var hand [17]float64
		for i := range n {
			dropRow(15, length(first+i), load(first+i), &hand)
			for j, col := range cols {
				got, mk := col.At(0, i)
				if mk != 0 || !run.Equal(got, hand[j]) && math.Abs(got-hand[j]) > 1e-9*math.Abs(hand[j]) {
					t.Fatalf("row %d, %s: %v (%v), by hand %v", first+i, want[j].Name, got, mk.Fault(), hand[j])
				}
			}
			seen++
		}
		return nil
	})
	if err != nil || seen != rows {
		t.Fatal(err, seen)
	}
	if got := book.Answer(1).Value.String(); got != "8 m" {
		t.Errorf("the study has left its mark: %s", got)
	}
}

// What a line was is told as it was typed, not as the new one is.
func TestUpdateTellsTheOldSpelling(t *testing.T) {
	book := openText("gap = 2 ft 6 in +- 5 %\n")
	for _, c := range [][2]string{{"gap = 3 ft 1 in +- 2 %", "2 ft 6 in +- 5 % -> 3 ft 1 in +- 2 %"}, {"gap = 1 m", "3 ft 1 in +- 2 % -> 1 m"}} {
		for _, d := range book.Update(replaceLine(book, 0, c[0])).Deltas {
			if got := d.Old().String() + " -> " + d.New().String(); got != c[1] {
				t.Errorf("told %s, want %s", got, c[1])
			}
		}
	}
}

// What a sheet hands on to the pieces it places is its own matter.
// Where a second card takes a name away from the first, nothing of the first has
// changed.
func TestUpdateTellsNothingOfANameShared(t *testing.T) {
	book := openText("use drop\nuse led\n")
	l, _ := syntax.ParseLine("use drop")
	change := book.Update(append(append([]*syntax.Line(nil), book.Lines()...), l))
	if len(change.Deltas)+len(change.Turns) > 0 {
		t.Errorf("told: %+v", change)
	}
}

func TestUpdateTellsNothingPrivate(t *testing.T) {
	book := openText("l = 8 m\nuse drop for north with length = l\n")
	for _, d := range book.Update(replaceLine(book, 0, "l = 9 m")).Deltas {
		if strings.Count(d.Name, ".") > 1 {
			t.Errorf("told %s", d.Name)
		}
	}
}
