package quiz

import (
	"context"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
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
		q := &outline.Question{Name: name, Ask: g.Question, Right: g.Answer, Working: func() []answer.Step { return nil }}
		if len(g.Sets) == 0 {
			q.Slips = slipsOf(book, name)
			q.Working = func() []answer.Step { return workingOf(ctx, book, lib, name) }
		}
		all = append(all, q)
	}
	return all, nil
}

// slipsOf are the usual mistakes about an answer of a placed sheet.
func slipsOf(book *calc.Book, name string) []*answer.Slip {
	placed, answered, _ := strings.Cut(name, ".")
	var all []*answer.Slip
	for _, places := range book.C.Places {
		for _, p := range places {
			if p.Name != placed {
				continue
			}
			for _, s := range book.Lab().Slips(p) {
				if s.Name == answered {
					all = append(all, s)
				}
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
