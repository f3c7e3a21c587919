package main

import (
	"context"

	"railsum/calc"
	"railsum/calc/syntax"
)

// carryOut answers every line of a book, its studies carried out. ok is false
// if a line is in error or a must fails; the error is that of the context.
func (a *app) carryOut(ctx context.Context, book *calc.Book) (answers []*calc.Answer, ok bool, err error) {
	answers, ok = book.Answers(), book.OK()
	p := a.progress()
	defer p.end()
	book.OnProgress(p.tell)
	for i := range answers {
		if book.Checked().Studies[i] == nil {
			continue
		}
		p.begin("line %d, %s", answers[i].Line.Row, studyWord(answers[i].Line.Node))
		if answers[i], err = book.AnswerStudied(ctx, i); err != nil {
			return nil, false, err
		}
		ok = ok && len(answers[i].Errors) == 0
	}
	return answers, ok, nil
}

// studyWord is the word that opens a study.
func studyWord(n syntax.Node) string {
	switch n.(type) {
	case *syntax.Find:
		return "find"
	case *syntax.Vary:
		return "vary"
	case *syntax.Suppose:
		return "suppose"
	case *syntax.Spread:
		return "spread"
	case *syntax.Working:
		return "working"
	case *syntax.Measured:
		return "measured"
	}
	return ""
}
