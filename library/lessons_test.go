package library_test

import (
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

// Every lesson stands as tidy has it and reads without an error; what it asks, what
// it leaves open and what is to be worked out alone have answers, and it has one
// picture at least, a guess, a working, one left open and something for the bench.
func TestLessons(t *testing.T) {
	if len(library.Lessons()) < 6 {
		t.Fatalf("%d lessons", len(library.Lessons()))
	}
	for i, l := range library.Lessons() {
		t.Run(l.Name, func(t *testing.T) {
			text, err := library.LessonText(l.Name)
			if err != nil {
				t.Fatal(err)
			}
			if l.Title == "" || l.Number == 0 || i > 0 && library.Lessons()[i-1].Number >= l.Number {
				t.Errorf("%+v", l)
			}
			f := syntax.ParseFile(text)
			if tidy := string(calc.Tidy(f, library.Shipped())); tidy != string(text) {
				t.Errorf("tidy has it as\n%s", tidy)
			}
			book := calc.Open(f.Lines, library.Shipped())
			has := map[string]int{}
			for i := range f.Lines {
				a, err := book.AnswerStudied(t.Context(), i)
				if err != nil || len(a.Errors)+len(a.Waiting)+len(a.Notices) > 0 {
					t.Errorf("%s: %v %v %v %v", a.Line.Raw, err, a.Errors, a.Waiting, a.Notices)
				}
				if a.Study != nil {
					has[a.Study.Word()]++
				}
				switch s := a.Study.(type) {
				case *answer.Guess:
					if !s.Answer.Sound() {
						t.Errorf("%s has no answer", a.Line.Raw)
					}
				case *answer.Picture:
					if s.None != "" {
						t.Errorf("%s: %s", a.Line.Raw, s.None)
					}
				case *answer.Working:
					for _, step := range s.Steps {
						if step.Blank {
							has["blank"]++
						}
						if step.Answer == nil || !step.Answer.Sound() {
							t.Errorf("%s: %s has no answer", a.Line.Raw, step.Name)
						}
					}
				case *answer.Exercise:
					if s.Seed == nil {
						t.Errorf("%s has another set every day", a.Line.Raw)
					}
				}
			}
			for _, word := range []string{"guess", "picture", "working", "blank", "exercise"} {
				if has[word] == 0 {
					t.Errorf("it has no %s", word)
				}
			}
			if !strings.Contains(string(text), "\n# At the bench: ") {
				t.Error("there is nothing to try at the bench")
			}
		})
	}
	if _, err := library.LessonText("../sheets/drop"); err == nil {
		t.Error("a lesson outside its folder")
	}
}
