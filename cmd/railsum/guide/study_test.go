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
	for _, s := range syntax.Studies() {
		var out bytes.Buffer
		if err := About(&out, library.Shipped(), s.Word()); err != nil {
			t.Fatal(err)
		}
		kind := map[bool]string{true: "a study", false: "a line"}[syntax.IsReserved(s.Word())]
		if !strings.HasPrefix(out.String(), s.Word()+", "+kind+": ") {
			t.Errorf("about %s:\n%s", s.Word(), &out)
		}
		text := strings.Join(slices.Concat(setting, s.Help().Before, s.Help().Examples), "\n") + "\n"
		book := calc.Open(syntax.ParseFile([]byte(text)).Lines, library.Shipped())
		answered := 0
		for i, l := range book.Lines() {
			a, err := book.AnswerStudied(context.Background(), i)
			if err != nil || len(a.Errors)+len(a.Waiting) > 0 {
				t.Errorf("%s: %v %v", l.Raw, err, a.Errors)
			}
			if strings.HasPrefix(l.Raw, s.Word()+" ") && a.Study != nil {
				answered++
			}
		}
		if answered == 0 {
			t.Errorf("no example of %s has an answer", s.Word())
		}
	}
}
