package calc_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

// FuzzOpen puts arbitrary text through the whole way: it must neither panic nor
// leave a NaN in an answer, whatever stands in it.
func FuzzOpen(f *testing.F) {
	for _, name := range []string{"wrong.tsv", "right.tsv"} {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "traps", name))
		if err != nil {
			f.Fatal(err)
		}
		for _, row := range strings.Split(string(text), "\n") {
			lines, _, _ := strings.Cut(row, "\t")
			f.Add(strings.ReplaceAll(lines, " ; ", "\n"))
		}
	}
	layouts, err := filepath.Glob(filepath.Join("..", "testdata", "layouts", "*.sums"))
	if err != nil {
		f.Fatal(err)
	}
	for _, path := range layouts {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	lib := library.Shipped()
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			t.Skip()
		}
		book := calc.Open(syntax.ParseFile([]byte(text)).Lines, lib)
		for i, a := range book.Answers() {
			finite(t, a.Value)
			for _, c := range a.Cards {
				for _, line := range append(c.Asks, c.Gives...) {
					finite(t, line.Value)
				}
			}
			if sweep, ok := a.Line.Node.(*syntax.Vary); ok && len(sweep.Axes) > 1 {
				continue // may be long, and is nothing but a longer one of one axis
			}
			if _, err := book.AnswerStudied(context.Background(), i); err != nil {
				t.Fatal(err)
			}
		}
	})
}

func finite(t *testing.T, v *answer.Value) {
	if v == nil {
		return
	}
	for i, x := range v.Numbers {
		if x-x != 0 && (v.Faults == nil || v.Faults[i] == "") {
			t.Fatalf("%v is an answer", x)
		}
	}
}
