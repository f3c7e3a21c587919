package library_test

import (
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

// dangers are what each lesson has in it for people to find; all else in a lesson is
// clear, or a caution.
var dangers = map[string][]string{
	"coin":                     {"branch: a short at the far end might not trip it"},
	"before_an_input":          {"eye: the resistor gets too hot"},
	"one_booster_many_trains":  {"bay: one stalled engine cuts out everybody", "bay: it never comes back after a short"},
	"who_trips_first":          {"shed: the train stands at the joint"},
	"seen_or_not_seen":         {"fish: the last vehicle is not seen"},
	"the_fuse_guards_the_wire": {"lamps: the wire is spoiled before it blows"},
}

// Every lesson stands as tidy has it and reads without an error; what it asks, what
// it leaves open and what is to be worked out alone have answers, and it has one
// picture at least, a guess, a working, one left open and something for the bench.
func TestLessons(t *testing.T) {
	if len(library.Lessons()) != 12 {
		t.Fatalf("%d lessons", len(library.Lessons()))
	}
	for i, l := range library.Lessons() {
		t.Run(l.Name, func(t *testing.T) {
			text, err := library.LessonText(l.Name)
			if err != nil {
				t.Fatal(err)
			}
			if l.Title == "" || l.Number != i+1 {
				t.Errorf("%+v", l)
			}
			f := syntax.ParseFile(text)
			if tidy := string(calc.Tidy(f, library.Shipped())); tidy != string(text) {
				t.Errorf("tidy has it as\n%s", tidy)
			}
			book := calc.Open(f.Lines, library.Shipped())
			has := map[string]int{}
			var found []string
			for i := range f.Lines {
				a, err := book.AnswerStudied(t.Context(), i)
				if err != nil || len(a.Errors)+len(a.Waiting)+len(a.Notices) > 0 {
					t.Errorf("%s: %v %v %v %v", a.Line.Raw, err, a.Errors, a.Waiting, a.Notices)
				}
				for _, c := range a.Cards {
					for _, r := range c.Rules {
						if r.Verdict > answer.Caution {
							found = append(found, c.Name+": "+r.Sentence())
						}
					}
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
					has["question"] += s.Count
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
			if has["question"] != 3 {
				t.Errorf("it has %d questions", has["question"])
			}
			if !slices.Equal(found, dangers[l.Name]) {
				t.Errorf("its dangers are %q", found)
			}
			safe, bench := strings.Index(string(text), "\n\n# Safe first: "), strings.Index(string(text), "\n# At the bench: ")
			if safe < 0 || strings.Count(string(text)[:safe], "\n") != 2 || bench < safe {
				t.Error("it does not begin with what is to be minded and end at the bench")
			}
		})
	}
	if _, err := library.LessonText("../sheets/drop"); err == nil {
		t.Error("a lesson outside its folder")
	}
}
