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
	if t.book == nil {
		t.book = calc.Open(syntax.ParseFile(t.text).Lines, lib)
	}
	return t.book
}

// SinceOpened says what has changed since the notebook was opened.
func (s *Session) SinceOpened() *answer.Comparison {
	return calc.Compare(s.opened.compute(s.library), s.book)
}

// SinceSaved says what has changed since it was saved last, or opened.
func (s *Session) SinceSaved() *answer.Comparison {
	return calc.Compare(s.saved.compute(s.library), s.book)
}
