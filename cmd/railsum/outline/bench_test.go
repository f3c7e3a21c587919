package outline_test

import (
	"os"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/library"
)

// BenchmarkItems makes the items of marrowby from its answers.
func BenchmarkItems(b *testing.B) {
	text, err := os.ReadFile(testdata + "layouts/marrowby.sums")
	if err != nil {
		b.Fatal(err)
	}
	book := calc.Open(syntax.ParseFile(text).Lines, library.At(testdata+"layouts"))
	answers := book.Answers()
	for i := range answers {
		if book.C.Studies[i] != nil {
			if answers[i], err = book.AnswerStudied(b.Context(), i); err != nil {
				b.Fatal(err)
			}
		}
	}
	for b.Loop() {
		outline.Of("marrowby", answers, book.OK())
	}
}
