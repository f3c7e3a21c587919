package check_test

import (
	"slices"
	"strings"
	"testing"

	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/library"
)

// opened checks a text with the sheets of the traps in sight.
func opened(text string) *check.Checked {
	return check.Check(syntax.ParseFile([]byte(text)).Lines, library.At("../../testdata/traps"))
}

// What is told and fits is taken; what the user has set, by any way, is not, and
// what is of another kind leaves the sheet's own default in place.
func TestTakenFromAnother(t *testing.T) {
	c := opened(`use "house.sums" for house
use drop for own from house with length = 3 m
own.supply = 12 V
use drop for alike like own from house
`)
	for _, want := range []struct {
		input            string
		taken, untouched bool
	}{
		{"own.supply", false, false}, {"own.wire", true, false}, {"own.joints", false, true}, {"own.trip", false, true},
		{"alike.supply", false, false}, {"alike.length", false, false}, {"alike.wire", true, false}, {"alike.joints", false, true},
	} {
		d := asked(t, c, want.input)
		if d.FromOther() != want.taken || d.Default != want.untouched || !d.OK() {
			t.Errorf("%s: taken %v, default %v, ok %v", want.input, d.FromOther(), d.Default, d.OK())
		}
	}
}

// What a house tells of its booster goes to inputs that are about a booster or the
// track, in every shipped sheet: never to a transformer's volts or a supply's amperes.
func TestBoosterStaysABooster(t *testing.T) {
	taken := 0
	for _, sheet := range library.Shipped().SheetNames() {
		c := opened("table house | track | rating | trip\n  here | 15 V | 4 A | 5 A\nend\nuse " + sheet + " for x from house\n")
		if len(c.Places[1]) == 0 {
			continue // it asks for none of them
		}
		p := c.Places[1][0]
		note := map[string]string{}
		for _, l := range p.Sheet.File.Lines {
			if a, is := l.Node.(*syntax.Ask); is {
				note["x."+a.Name.Text] = l.Note
			}
		}
		for _, d := range p.Asks {
			if !d.FromOther() {
				continue
			}
			taken++
			if !slices.ContainsFunc([]string{"booster", "track", "ahead", "guards", "cut"}, func(w string) bool { return strings.Contains(note[d.Name], w) }) {
				t.Errorf("%s takes %s from a booster: %s", sheet, d.Name, note[d.Name])
			}
		}
	}
	if taken < 30 {
		t.Errorf("only %d inputs are taken from a booster", taken)
	}
}

// An agreement reaches the input that it is about, and knows the edition.
func TestAgreementReachesItsInput(t *testing.T) {
	c := opened("use drop for north\nagree north.joints at 4, north.margin at 1.5 for edition 1\n")
	for _, name := range []string{"north.joints", "north.margin"} {
		if a := asked(t, c, name).Agreed; a == nil || a.Current || !a.Value.OK() {
			t.Errorf("%s: %+v", name, a)
		}
	}
	if a := asked(t, c, "north.joint").Agreed; a != nil {
		t.Error("joint is agreed to by a line about joints")
	}
}

// A case gives a study the very inputs that its line names, and no more.
func TestCaseIsWhatItsLineHolds(t *testing.T) {
	c := opened("a = 1\nb = no\ncase busy with a = 2, b = yes\nsuppose busy\nvary a from 1 to 2 by 1 show a\n")
	if s := c.Studies[3]; !s.OK || len(s.Axes) != 2 || s.Axes[0].X != c.Main[0] || s.Axes[1].X != c.Main[1] {
		t.Errorf("suppose busy puts in %v", s.Axes)
	}
	if s := c.Studies[4]; !s.OK || len(s.In) != 0 {
		t.Error("a vary line without a case is in one")
	}
}

func asked(t *testing.T, c *check.Checked, name string) *check.Def {
	t.Helper()
	for _, places := range c.Places {
		for _, p := range places {
			for _, d := range p.Asks {
				if d.Name == name {
					return d
				}
			}
		}
	}
	t.Fatalf("there is no %s", name)
	return nil
}
