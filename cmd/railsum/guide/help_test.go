package guide

import (
	"bytes"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

// runs works lines out and gives what the last of them says.
func runs(t *testing.T, example []string) string {
	t.Helper()
	lib := library.At("../../../testdata/traps") // for the files of examples
	book := calc.Open(syntax.ParseFile([]byte(strings.Join(example, "\n"))).Lines, lib)
	var said string
	for i := range book.Lines() {
		a, err := book.AnswerStudied(t.Context(), i)
		if err != nil || len(a.Errors)+len(a.Waiting) > 0 {
			t.Fatalf("%q: %v %v %v", a.Line.Raw, err, a.Errors, a.Waiting)
		}
		var out bytes.Buffer
		show.New(&out, show.Options{}).Answer(a, show.CardForm{})
		said = out.String()
	}
	return said
}

// Every example of the language runs, and says what stands below it.
func TestWords(t *testing.T) {
	for _, f := range language {
		said := runs(t, f.example)
		first, _, _ := strings.Cut(strings.TrimSpace(said), "\n")
		if f.answer != "" && first != f.answer {
			t.Errorf("%q says %q, not %q", f.example, first, f.answer)
		}
		last := f.example[len(f.example)-1]
		for _, name := range strings.Fields(f.names) {
			if !strings.Contains(strings.Join(f.example, "\n"), name) {
				t.Errorf("%s has no part in its example %q", name, last)
			}
		}
	}
}

// Every word of the language has a page, and every form a place in a topic.
func TestEveryWordHasAPage(t *testing.T) {
	for _, word := range append(syntax.SmallWords(), syntax.LineWords()...) {
		var out bytes.Buffer
		if err := About(&out, library.Shipped(), word); err != nil || !strings.Contains(out.String(), "for example") {
			t.Errorf("%s: %v\n%s", word, err, out.String())
		}
	}
	for _, f := range language {
		if _, ok := FindTopic(f.topic); !ok {
			t.Errorf("%s stands under no topic", f.written)
		}
	}
}

// A topic fits a screen of 80 by 24, with the line it was asked by and the next prompt.
func TestTopicsFitAScreen(t *testing.T) {
	for _, topic := range Topics {
		var out bytes.Buffer
		if err := topic.Write(show.New(&out, show.Options{Width: 80})); err != nil {
			t.Error(err)
		}
		if rows := strings.Count(out.String(), "\n"); rows > 22 {
			t.Errorf("%s takes %d rows:\n%s", topic.Name, rows, out.String())
		}
	}
}
