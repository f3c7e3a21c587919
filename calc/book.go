package calc

import (
	"context"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/view"
)

// A Book is a checked and computed notebook. It is for one goroutine at a time.
type Book struct {
	view.View
	lib  Library
	stop func() bool

	progress func(share float64)
	studies  map[int]studied       // answered since the last change
	faults   map[int][]syntax.Diag // found since the last change
	rippled  int                   // answers that the last change of one line has changed
}

// Open checks and computes the lines. It never fails: what is wrong stands in
// the answers, and the sound lines are answered.
func Open(lines []*syntax.Line, lib Library) *Book {
	return OpenUntil(func() bool { return false }, lines, lib)
}

// OpenUntil is Open with a question to ask from the start; see StopWhen.
func OpenUntil(stop func() bool, lines []*syntax.Line, lib Library) *Book {
	b := &Book{lib: lib, stop: stop}
	b.build(lines)
	return b
}

// StopWhen gives the book a question to ask while it checks and computes; when it
// answers yes that ends early, and the answers not reached are missing. What was
// not checked is so until the next Update.
func (b *Book) StopWhen(stop func() bool) {
	b.stop = stop
	b.M.StopWhen(stop)
	b.C.StopWhen(stop)
}

func (b *Book) build(lines []*syntax.Line) {
	lines = append([]*syntax.Line(nil), lines...)
	b.C, b.M = nil, nil // what has been is let go first: there is no room for two
	b.C = check.CheckUntil(b.stop, lines, b.lib)
	b.M = run.New(b.lib)
	b.M.StopWhen(b.stop)
	if !b.M.Load(b.C) {
		b.C = check.Unchecked(lines, b.lib)
		b.M = run.New(b.lib)
		b.M.StopWhen(b.stop)
	}
	b.M.Compute(0)
}

// Lines gives the lines the book is of. They must not be changed.
func (b *Book) Lines() []*syntax.Line { return b.C.Lines }

// Verdict is the worst of all rules of the notebook and of its placed sheets; an
// agreement that has lapsed is a caution.
func (b *Book) Verdict() answer.Verdict {
	worst := answer.NotJudged
	for i := range b.C.Lines {
		worst = max(worst, b.lineVerdict(i))
	}
	return worst
}

func (b *Book) lineVerdict(i int) answer.Verdict {
	worst := answer.NotJudged
	if d := b.C.Main[i]; d != nil && d.Role == check.Ruled {
		worst = b.RuleVerdict(d)
	} else if _, ok := b.C.Lines[i].Node.(*syntax.Rule); ok && d == nil {
		worst = answer.NoVerdict
	}
	for _, p := range b.C.Places[i] {
		worst = max(worst, b.CardVerdict(p))
	}
	if _, is := b.C.Lines[i].Node.(*syntax.Agree); is {
		study, _, _ := b.Study(context.Background(), i)
		if a, is := study.(*answer.Agreement); is && a.Lapsed() {
			worst = max(worst, answer.Caution) // what was settled is so no longer
		}
	}
	return worst
}

// OK is false if a line is in error, or if a must fails or has no verdict.
func (b *Book) OK() bool {
	if v := b.Verdict(); v >= answer.NoVerdict {
		return false
	}
	faults := b.faultLines()
	for i, l := range b.C.Lines {
		if len(faults[i]) > 0 || hasError(l.Errors) || hasError(b.diags(i)) {
			return false
		}
	}
	return true
}

func hasError(ds []syntax.Diag) bool {
	for _, d := range ds {
		if !d.Notice {
			return true
		}
	}
	return false
}

// diags gives what checking has to say about a line.
func (b *Book) diags(i int) []syntax.Diag {
	ds, _ := b.C.Said(i)
	return ds
}

// Names gives every name that could be typed in an expression, dotted ones
// included, for completion.
func (b *Book) Names() []string {
	return b.C.AllNames()
}
