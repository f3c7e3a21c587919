package calc

import (
	"context"
	"errors"
	"math"
	"slices"

	"railsum/calc/answer"
	"railsum/calc/run"
	"railsum/calc/study"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Lab gives the book's lines to put questions to.
func (b *Book) Lab() *study.Lab { return &study.Lab{View: b.View, Progress: b.progress} }

// Draw puts its pictures on the card of a sheet that a line places.
func (b *Book) Draw(l *syntax.Line, c *answer.Card) {
	for _, p := range b.C.Places[slices.Index(b.Lines(), l)] {
		if p.Scope != nil && p.Name == c.Name {
			c.Pictures = b.Lab().Drawn(p)
		}
	}
}

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
		b.M.Allow(mostWork)
		s.Node.Visit(a)
		var err error
		kept.answer, kept.diags, err = a.Answer()
		b.M.Allow(math.MaxInt64)
		switch {
		case errors.Is(err, run.ErrTooMuch):
			kept = studied{diags: []syntax.Diag{{Wrong: words.Say("this study takes more work than one may, and was left off").
				With("ask for fewer rows or a narrower range, or of fewer lines")}}}
		case err != nil:
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

// mostWork is the work of a study: some ten seconds of a core.
const mostWork = 2_000_000_000

// studied is the answer of a study with what is wrong with it.
type studied struct {
	answer answer.Study
	diags  []syntax.Diag
}
