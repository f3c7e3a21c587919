package main

import (
	"context"

	"railsum/calc"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/progress"
)

// outline answers every line of a book, its studies carried out. The error is
// that of the context.
func (a *app) outline(ctx context.Context, name string, book *calc.Book) (o *outline.Outline, err error) {
	answers, ok := book.Answers(), book.OK()
	row := a.progress()
	defer row.End()
	book.OnProgress(row.Tell)
	for i := range answers {
		study := book.C.Studies[i]
		if study == nil {
			continue
		}
		row.Begin("line %d, %s", answers[i].Line.Row, study.Node.Word())
		if answers[i], err = book.AnswerStudied(ctx, i); err != nil {
			return nil, err
		}
		ok = ok && len(answers[i].Errors) == 0
	}
	return outline.Of(name, answers, ok), nil
}

// progress is the row for standard error.
func (a *app) progress() *progress.Row { return progress.On(a.world.stderr, a.getenv) }
