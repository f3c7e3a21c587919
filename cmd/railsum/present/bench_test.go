package present

import (
	"os"
	"testing"

	"railsum/cmd/railsum/show"
)

// BenchmarkStep lays out every step of marrowby for a screen of 60 by 18, and says how long one takes.
func BenchmarkStep(b *testing.B) {
	text, err := os.ReadFile("../../../testdata/layouts/marrowby.sums")
	if err != nil {
		b.Fatal(err)
	}
	c := config("marrowby", string(text))
	out, err := c.Outline(c.Book)
	if err != nil {
		b.Fatal(err)
	}
	d := newDeck(out, &c)
	n := 0
	for b.Loop() {
		s := d.steps[n%len(d.steps)]
		page(d.title, d.stepOf(n%len(d.steps)), s.heading, layOut(s.blocks, options(show.Options{}, 60), 18-frame)[0], "", 60, 18)
		n++
	}
}
