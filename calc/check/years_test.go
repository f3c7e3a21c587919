package check_test

import (
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
