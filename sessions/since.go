package sessions

import (
	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// state is the notebook as it was once. Its answers are made when somebody asks
// for them, or when a sheet that they rest on changes.
type state struct {
	text []byte
	book *calc.Book
}

func (t *state) compute(lib calc.Library) *calc.Book {
	return t.computeUntil(func() bool { return false }, lib)
}

// computeUntil is nil where the question says yes before all is computed.
func (t *state) computeUntil(stop func() bool, lib calc.Library) *calc.Book {
	if t.book == nil {
		book := calc.OpenUntil(stop, syntax.ParseFileUntil(stop, t.text).Lines, lib)
		if stop() {
			return nil
		}
		book.StopWhen(func() bool { return false }) // it is kept
		t.book = book
	}
	return t.book
}

// SinceOpened says what has changed since the notebook was opened, nil if that was
// stopped.
func (s *Session) SinceOpened() *answer.Comparison { return s.since(&s.opened) }

// SinceSaved says what has changed since it was saved last, or opened, nil if that was
// stopped.
func (s *Session) SinceSaved() *answer.Comparison { return s.since(&s.saved) }

func (s *Session) since(was *state) *answer.Comparison {
	book := was.computeUntil(s.options.Stop, s.library)
	if book == nil {
		return nil
	}
	return calc.Compare(book, s.book)
}
