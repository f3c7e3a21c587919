package quiz

import (
	"context"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
)

// Exercises are those of a notebook, in its order.
func Exercises(ctx context.Context, book *calc.Book) ([]*answer.Exercise, error) {
	var all []*answer.Exercise
	for i, l := range book.Lines() {
		if _, is := l.Node.(*syntax.Exercise); !is {
			continue
		}
		a, err := book.AnswerStudied(ctx, i)
		if err != nil {
			return nil, err
		}
		if e, ok := a.Study.(*answer.Exercise); ok {
			all = append(all, e)
		}
	}
	return all, nil
}

// Guesses are the guesses of a notebook as questions, with the values as they are.
func Guesses(ctx context.Context, book *calc.Book, lib calc.Library) ([]*outline.Question, error) {
	var all []*outline.Question
	for i, l := range book.Lines() {
		if _, is := l.Node.(*syntax.Guess); !is {
			continue
		}
		a, err := book.AnswerStudied(ctx, i)
		if err != nil {
			return nil, err
		}
		g, ok := a.Study.(*answer.Guess)
		if !ok || !g.Answer.Sound() {
			continue
		}
		name := g.Of.String()
		with := supposed(book, lib, g.Sets)
		all = append(all, &outline.Question{
			Name: name, Ask: g.Question, Right: g.Answer, Given: given(with, l, g),
			Slips: slipsOf(with, name), Working: func() []answer.Step { return workingOf(ctx, with, lib, name) },
		})
	}
	return all, nil
}

// supposed is a notebook in which values have been put in the place of others.
func supposed(book *calc.Book, lib calc.Library, sets []string) *calc.Book {
	if len(sets) == 0 {
		return book
	}
	lines := book.Lines()
	for _, text := range sets {
		line, _ := syntax.ParseLine(text)
		lines, _ = outline.With(lines, line)
	}
	return calc.Open(lines, lib)
}

// given is what the answer to a guess is worked out from. Where that has no words, it
// is what the notebook sets of the sheet that the answer is of.
func given(book *calc.Book, l *syntax.Line, g *answer.Guess) []outline.Given {
	at := slices.Index(book.Lines(), l)
	if at < 0 || book.C.Studies[at] == nil || len(book.C.Studies[at].Show) != 1 {
		return nil
	}
	d := book.C.Studies[at].Show[0]
	places := slices.Concat(book.C.Places...)
	all := known(places, d, 0)
	if placed, _, _ := strings.Cut(g.Of.String(), "."); len(all) == 0 {
		for _, p := range places {
			if p.Name == placed {
				all = slices.DeleteFunc(slices.Clone(p.Asks), func(d *check.Def) bool { return !d.Set() })
			}
		}
	}
	var out []outline.Given
	for _, k := range all {
		if v := book.Value(k); v != nil {
			out = append(out, outline.Given{Name: k.Name, Meaning: called(places, k), Value: v})
		}
	}
	return out
}

// slipsOf are the usual mistakes about an answer of a placed sheet.
func slipsOf(book *calc.Book, name string) []*answer.Slip {
	placed, answered, _ := strings.Cut(name, ".")
	var all []*answer.Slip
	for _, p := range slices.Concat(book.C.Places...) {
		if p.Name != placed {
			continue
		}
		for _, s := range book.Lab().Slips(p) {
			if s.Name == answered {
				all = append(all, s)
			}
		}
	}
	return all
}

// workingOf is how a value of a notebook arose; nothing where it is no name.
func workingOf(ctx context.Context, book *calc.Book, lib calc.Library, name string) []answer.Step {
	line, _ := syntax.ParseLine("working " + name)
	lines := append(book.Lines()[:len(book.Lines()):len(book.Lines())], line)
	a, err := calc.Open(lines, lib).AnswerStudied(ctx, len(lines)-1)
	if err != nil {
		return nil
	}
	if w, ok := a.Study.(*answer.Working); ok {
		return w.Steps
	}
	return nil
}
