package library_test

import (
	"math"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

// Every usual mistake that a shipped sheet lists can be told from the right answer
// at the defaults: it is one value where the answer is one, and more than 3 % off.
func TestSlips(t *testing.T) {
	sheets, slips := map[string]bool{}, 0
	for _, name := range library.Shipped().SheetNames() {
		book := calc.Open(syntax.ParseFile([]byte("use "+name+" for x\n")).Lines, library.Shipped())
		if len(book.C.Places[0]) == 0 {
			t.Errorf("%s cannot be placed", name)
			continue
		}
		p := book.C.Places[0][0]
		listed := 0
		for _, l := range p.Sheet.File.Lines {
			if _, is := l.Node.(*syntax.Slip); is {
				listed++
			}
		}
		told := book.Lab().Slips(p)
		if len(told) != listed {
			t.Errorf("%s: %d of %d slips are worked out", name, len(told), listed)
		}
		for _, s := range told {
			slips++
			sheets[name] = true
			for _, d := range p.Gives {
				if d.Name != "x."+s.Name {
					continue
				}
				right := book.Value(d)
				switch {
				case s.Wrong == nil || !s.Wrong.Sound() || s.Wrong.Fault(0) != "":
					t.Errorf("%s: a slip about %s has no answer", name, s.Name)
				case right.Rows() != s.Wrong.Rows() || right.Column() != s.Wrong.Column():
					t.Errorf("%s: a slip about %s has %d values, the answer %d", name, s.Name, s.Wrong.Rows(), right.Rows())
				case right.Quantity() && math.Abs(right.Numbers[0]-s.Wrong.Numbers[0]) <= 0.03*math.Abs(right.Numbers[0]):
					t.Errorf("%s: %s is %s, and the slip cannot be told from it: %s", name, s.Name, right.Cell(0), s.Wrong.Cell(0))
				}
			}
		}
	}
	if len(sheets) < 48 || slips < 88 {
		t.Errorf("%d slips of %d sheets", slips, len(sheets))
	}
}
