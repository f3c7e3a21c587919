package library_test

import (
	"math"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

// Every usual mistake that a shipped sheet knows comes to something else than the right answer, by 3 % and more, and
// the sheets have two of them on average.
func TestSlips(t *testing.T) {
	slips := 0
	for _, name := range library.Shipped().SheetNames() {
		book := calc.Open(syntax.ParseFile([]byte("use "+name+" for x\n")).Lines, library.Shipped())
		card := book.Answer(0).Cards[0]
		for _, s := range book.Lab().Slips(book.C.Places[0][0]) {
			slips++
			for i := range card.Gives {
				g := &card.Gives[i]
				if g.Name != s.Name || g.Value == nil || s.Wrong == nil {
					continue
				}
				switch {
				case !s.Wrong.Sound() || !g.Value.Sound():
					t.Errorf("%s: slip %s has no answer", name, s.Name)
				case g.Value.Column():
				case math.Abs(s.Wrong.Numbers[0]-g.Value.Numbers[0]) <= 0.03*math.Abs(g.Value.Numbers[0]):
					t.Errorf("%s: %s cannot be told from %s = %s", name, s.Wrong, g.Name, g.Value)
				}
				if s.Why == "" {
					t.Errorf("%s: slip %s says nothing", name, s.Name)
				}
			}
		}
	}
	if slips < 85 {
		t.Errorf("only %d", slips)
	}
}
