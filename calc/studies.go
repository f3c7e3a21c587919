package calc

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/study"
	"railsum/calc/syntax"
)

// Lab gives the book's lines to put questions to.
func (b *Book) Lab() *study.Lab { return &study.Lab{View: b.View, Progress: b.progress} }

// OnProgress sets what is told how far a long study is.
func (b *Book) OnProgress(f func(share float64)) { b.progress = f }

// Study answers the study of line i, nil if the line is none or is in error.
// What only its values show to be wrong comes as Diags. The answer is kept
// until the book changes.
func (b *Book) Study(ctx context.Context, i int) (answer.Study, []syntax.Diag, error) {
	s := b.C.Studies[i]
	if s == nil || !s.OK {
		return nil, nil, nil
	}
	kept, ok := b.studies[i]
	if !ok {
		a := &asking{Asking: b.Lab().Ask(ctx, s), book: b}
		s.Node.Visit(a)
		var err error
		if kept.answer, kept.diags, err = a.Answer(); err != nil {
			return nil, nil, err
		}
		if a.worked != nil {
			kept.answer = a.worked
		}
		if b.studies == nil {
			b.studies = map[int]studied{}
		}
		b.studies[i] = kept
	}
	return kept.answer, kept.diags, nil
}

// asking answers a study: a working takes the whole book, all others its lines.
type asking struct {
	*study.Asking
	book   *Book
	worked answer.Study
}

// studied is the answer of a study with what is wrong with it.
type studied struct {
	answer answer.Study
	diags  []syntax.Diag
}
