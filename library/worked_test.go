package library

import (
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// open computes a notebook that sees the shipped library and fails the test on
// any error in it.
func open(t *testing.T, text string) *calc.Book {
	t.Helper()
	f := syntax.ParseFile([]byte(text))
	b := calc.Open(f.Lines, Shipped())
	for i, line := range f.Lines {
		for _, d := range b.Answer(i).Errors {
			t.Errorf("%s\n%v", line.Raw, d)
		}
	}
	return b
}

// card gives the card of the last use line of a notebook without an error.
func card(t *testing.T, text string) *answer.Card {
	t.Helper()
	return lastCard(t, open(t, text))
}

func lastCard(t *testing.T, b *calc.Book) *answer.Card {
	t.Helper()
	for i := len(b.Lines()) - 1; i >= 0; i-- {
		if a := b.Answer(i); len(a.Cards) > 0 {
			return a.Cards[0]
		}
	}
	t.Fatal("no card")
	return nil
}

// give finds an answer on a card.
func give(t *testing.T, c *answer.Card, name string) *answer.Value {
	t.Helper()
	for _, g := range c.Gives {
		if g.Name == name {
			if g.Value == nil {
				t.Fatalf("%s has no value: %s", name, g.Why)
			}
			return g.Value
		}
	}
	t.Fatalf("no answer %s on the card of %s", name, c.Sheet)
	return nil
}

func TestDefaultsAreClear(t *testing.T) {
	for _, name := range Shipped().SheetNames() {
		c := card(t, "use "+name+" for x\n")
		if c.Verdict != answer.Clear {
			t.Errorf("%s: %v", name, c.Verdict)
		}
		for _, r := range c.Rules {
			if r.Verdict != answer.Clear {
				t.Errorf("%s: %s: %v, %s %s", name, r.Cond.String(), r.Verdict, r.Figures(), r.Why)
			}
		}
		for _, line := range append(append([]answer.CardLine{}, c.Asks...), c.Gives...) {
			if line.Meaning == "" || line.Why != "" || line.Outside {
				t.Errorf("%s: %s: meaning %q, why %q, outside %v", name, line.Name, line.Meaning, line.Why, line.Outside)
			}
		}
	}
}

// The sheet placed over a column answers with a column, and says what it says
// for each row alone.
func TestDropOverColumn(t *testing.T) {
	const table = "table runs | far | wire as mm2 | load as A\n  quay | 9.5 m | 1.5 | 2.6\n  yard | 3 m | 0.5 | 0.5\n  branch | 60 m | 1 | 0.35\nend\n"
	c := card(t, table+"use drop for x with length = runs.far, wire = runs.wire, load = runs.load\n")
	alone := []string{"length = 9.5 m, wire = 1.5 mm2, load = 2.6 A", "length = 3 m, wire = 0.5 mm2, load = 0.5 A", "length = 60 m, wire = 1 mm2, load = 0.35 A"}
	for _, g := range c.Gives {
		if g.Name == "lasting" || g.Value == nil {
			continue
		}
		if len(g.Value.Numbers) != len(alone) {
			t.Errorf("%s has %d rows", g.Name, len(g.Value.Numbers))
			continue
		}
		for i, with := range alone {
			one := give(t, card(t, "use drop for x with "+with+"\n"), g.Name)
			if !agree(g.Value.Numbers[i], one.Numbers[0], 1e-12) {
				t.Errorf("%s, row %d: %v, alone %v", g.Name, i+1, g.Value.Numbers[i], one.Numbers[0])
			}
		}
	}
	for _, r := range c.Rules {
		if r.Cond.String() == "trip <= lasting" && (r.Verdict != answer.Danger || strings.Join(r.Fails, " ") != "yard") {
			t.Errorf("%s: %v in %q", r.Cond.String(), r.Verdict, r.Fails)
		}
	}
}

// Checks that need no number to trust.
func TestMetamorphic(t *testing.T) {
	lost := func(with string) float64 {
		return give(t, card(t, "use drop for x with "+with+"\n"), "lost").Numbers[0]
	}
	one := lost("length = 5 m, joints = 0")
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"twice the length loses twice as much", lost("length = 10 m, joints = 0"), 2 * one},
		{"two equal runs side by side lose half", lost("length = 5 m, joints = 0, wire = 3 mm2"), one / 2},
		{"a run in two pieces adds up", lost("length = 2 m, joints = 1") + lost("length = 3 m, joints = 3"), lost("length = 5 m, joints = 4")},
	} {
		if !agree(c.got, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	share := func(with string) float64 {
		return give(t, card(t, "use drop for x with "+with+"\n"), "share").Numbers[0]
	}
	if a, b := share("supply = 10 V, load = 1 A"), share("supply = 20 V, load = 2 A"); !agree(a, b, 1e-12) {
		t.Errorf("the share is %v, and %v with volts and amperes doubled", a, b)
	}
}
