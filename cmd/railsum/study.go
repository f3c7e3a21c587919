package main

import (
	"context"
	"slices"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/progress"
)

// outline answers every line of a book, its studies carried out. The error is
// that of the context.
func (a *app) outline(ctx context.Context, name string, book *calc.Book) (*outline.Outline, error) {
	answers, ok := book.Answers(), book.OK()
	ok, err := a.study(ctx, book, answers, ok)
	if err != nil {
		return nil, err
	}
	return outline.Of(name, answers, ok), nil
}

// outlineOnly is outline for the lines about some names, none but their studies
// carried out. Found tells which of the names there are.
func (a *app) outlineOnly(ctx context.Context, name string, book *calc.Book, only []string,
	found map[string]bool) (*outline.Outline, error) {
	answers, ok := book.Answers(), book.OK()
	some, missing := outline.Only(answers, only)
	for _, name := range only {
		found[name] = found[name] || !slices.Contains(missing, name)
	}
	ok, err := a.study(ctx, book, some, ok)
	if err != nil {
		return nil, err
	}
	o := outline.Of(name, answers, ok)
	o.Keep(some)
	return o, nil
}

// study carries out the studies of some answers; it reports whether all is still
// well.
func (a *app) study(ctx context.Context, book *calc.Book, answers []*calc.Answer, ok bool) (bool, error) {
	row := a.progress()
	defer row.End()
	book.OnProgress(row.Tell)
	of := map[*syntax.Line]*calc.Answer{}
	for _, at := range answers {
		of[at.Line] = at
	}
	for i, l := range book.Lines() {
		study, at := book.C.Studies[i], of[l]
		if study == nil || at == nil {
			continue
		}
		row.Begin("line %d, %s", at.Line.Row, study.Node.Word())
		done, err := book.AnswerStudied(ctx, i)
		if err != nil {
			return ok, err
		}
		*at = *done
		ok = ok && len(at.Errors) == 0
	}
	return ok, nil
}

// progress is the row for standard error.
func (a *app) progress() *progress.Row {
	w := a.world.stderr
	if f, is := w.(*flushing); is && a.out.holds() {
		w = f.w // it is seen now, whatever waits for a pager
	}
	return progress.On(w, a.getenv)
}
