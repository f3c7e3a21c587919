package guide

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

// TestStudyExamples carries out the examples of every study: none is in error
// and each has an answer.
func TestStudyExamples(t *testing.T) {
	for _, s := range studies {
		var out bytes.Buffer
		if err := About(&out, library.Shipped(), s.word); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(out.String(), s.word+", a study: ") {
			t.Errorf("about %s:\n%s", s.word, &out)
		}
		text := strings.Join(slices.Concat(setting, s.examples), "\n") + "\n"
		book := calc.Open(syntax.ParseFile([]byte(text)).Lines, library.Shipped())
		answered := 0
		for i, l := range book.Lines() {
			a, err := book.AnswerStudied(context.Background(), i)
			if err != nil || len(a.Errors)+len(a.Waiting) > 0 {
				t.Errorf("%s: %v %v", l.Raw, err, a.Errors)
			}
			if strings.HasPrefix(l.Raw, s.word+" ") && a.Study != nil {
				answered++
			}
		}
		if answered == 0 {
			t.Errorf("no example of %s has an answer", s.word)
		}
	}
}

// TestEveryStudyIsExplained: the words that the language opens studies with are
// those that have a page.
func TestEveryStudyIsExplained(t *testing.T) {
	for _, text := range []string{
		"find x so x = 1", "vary x from 1 to 2 by 1 show x", "suppose x = 1 show x", "spread x", "working x", "measured x = 1",
	} {
		word, _, _ := strings.Cut(text, " ")
		if l, _ := syntax.ParseLine(text); len(l.Errors) > 0 {
			t.Errorf("%s: %s", text, l.Errors[0].Message)
		}
		if err := About(&bytes.Buffer{}, library.Shipped(), word); err != nil {
			t.Errorf("about %s: %v", word, err)
		}
	}
}
