package main

import (
	"context"

	"railsum/calc"
	"railsum/cmd/railsum/progress"
)

// carryOut answers every line of a book, its studies carried out. ok is false
// if a line is in error or a must fails; the error is that of the context.
func (a *app) carryOut(ctx context.Context, book *calc.Book) (answers []*calc.Answer, ok bool, err error) {
	answers, ok = book.Answers(), book.OK()
	row := a.progress()
	defer row.End()
	book.OnProgress(row.Tell)
	for i := range answers {
		study := book.Checked().Studies[i]
		if study == nil {
			continue
		}
		row.Begin("line %d, %s", answers[i].Line.Row, study.Node.Word())
		if answers[i], err = book.AnswerStudied(ctx, i); err != nil {
			return nil, false, err
		}
		ok = ok && len(answers[i].Errors) == 0
	}
	return answers, ok, nil
}

// progress is the row for standard error.
func (a *app) progress() *progress.Row { return progress.On(a.world.stderr, a.getenv) }
