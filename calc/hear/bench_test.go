package hear_test

import (
	"testing"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/library"
)

// BenchmarkStrict is what a line costs that strict accepts, with hearing at hand
// and without it: the same.
func BenchmarkStrict(b *testing.B) {
	const line = "5 % of 15 V"
	read := func() (*calc.Book, *syntax.Line) {
		l, _ := syntax.ParseLine(line)
		return calc.Open([]*syntax.Line{l}, library.Shipped()), l
	}
	b.Run("without", func(b *testing.B) {
		for b.Loop() {
			read()
		}
	})
	b.Run("with", func(b *testing.B) {
		for b.Loop() {
			if hear.Listens(read()) {
				b.Fatal(line)
			}
		}
	})
}

// BenchmarkHear is what hearing costs where strict refuses, the first refusal's
// index left out; under two milliseconds each.
func BenchmarkHear(b *testing.B) {
	for _, line := range []string{"12 volts x 2 Amps", "60 mph HO scale in inches per second", "10k || 4k7 + 1k", "12 votls * 2 A",
		"led 16 V 2 V 10 mA", "how long will a 7.4 V 2200 mAh battery last at 0.8 amps", "helix"} {
		b.Run(line, func(b *testing.B) {
			hear.Beside(nil, library.Shipped(), index).Hear(line)
			for b.Loop() {
				hear.Beside(nil, library.Shipped(), index).Hear(line)
			}
		})
	}
}

// BenchmarkIndex is the index, made once where a line is first refused.
func BenchmarkIndex(b *testing.B) {
	for b.Loop() {
		hear.Beside(nil, library.Shipped(), hear.NewIndex(library.Shipped(), nil)).Hear("helix")
	}
}
