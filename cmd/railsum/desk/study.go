package desk

import (
	"bytes"
	"context"
	"time"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/progress"
	"railsum/cmd/railsum/show"
)

// studied is the answer of line i, its study carried out. One that takes long
// shows how far it is, and Ctrl-C stops it; the line stays.
func (d *desk) studied(i int) *calc.Answer {
	began := time.Now()
	a, err := d.study(context.Background(), d.s.Book(), i)
	line := d.s.Lines()[i]
	d.slow[line.Raw] = err != nil || time.Since(began) > enough
	if err != nil {
		d.cut = true
		d.note("Stopped. The line is kept; `list %d` asks again.", line.Row)
	}
	return a
}

// study is studied within a context; the error is its own, or that of an
// interrupt.
func (d *desk) study(within context.Context, book *calc.Book, i int) (*calc.Answer, error) {
	line := book.Lines()[i]
	study, is := line.Node.(syntax.Study)
	if !is {
		return book.Answer(i), nil
	}
	row := progress.On(d.Stderr, d.Getenv)
	row.Begin("line %d, %s", line.Row, study.Word())
	book.OnProgress(row.Tell)
	var a *calc.Answer
	err := d.signals.during(within, func(ctx context.Context) (err error) {
		a, err = book.AnswerStudied(ctx, i)
		return err
	})
	row.End()
	return a, err
}

// short reports whether a line is a study with a short answer.
func short(l *syntax.Line) bool {
	_, study := l.Node.(syntax.Study)
	return study && !fills(l)
}

// fills reports whether a line is a study whose answer fills a screen.
func fills(l *syntax.Line) bool {
	switch l.Node.(type) {
	case *syntax.Vary, *syntax.Working:
		return true
	}
	return false
}

// long reports whether an answer is that of a study which fills a screen.
func long(a *calc.Answer) bool { return fills(a.Line) && len(a.Errors)+len(a.Waiting) == 0 }

// quick reports whether a study is answered in no time, so that it can be asked
// again after every change.
func quick(l *syntax.Line) bool {
	switch l.Node.(type) {
	case *syntax.Find, *syntax.Suppose:
		return true
	}
	return false
}

// askAgain carries out again the studies that take no time and shows those that
// have found something else than before, but for the lines just shown. One that was
// stopped or has proved to take long is asked again only when it is asked for.
func (d *desk) askAgain(shown map[int]bool) {
	began := time.Now()
	now := map[string]string{}
	for i, l := range d.s.Lines() {
		if !quick(l) {
			continue
		}
		before, known := d.found[l.Raw]
		left := enough - time.Since(began)
		if d.slow[l.Raw] || d.signals.stopped() || left <= 0 {
			if known {
				now[l.Raw] = before
			}
			continue
		}
		ctx, cancel := context.WithTimeout(context.Background(), left)
		a, err := d.study(ctx, d.s.Book(), i)
		cancel()
		if err != nil {
			if d.slow[l.Raw] = true; shown != nil {
				d.note("What line %d finds may be another now; that takes long, and `list %d` asks it.", l.Row, l.Row)
			}
			continue
		}
		now[l.Raw] = finding(a)
		if known && before != now[l.Raw] && !shown[i] {
			d.numbered(i, 0)
			d.answer(a)
		}
	}
	d.found = now
}

// enough is how long studies are asked again after a change. A test on a busy machine
// waits longer.
var enough = 300 * time.Millisecond

// finding is what a study has found, to be compared with what it found before:
// that the input is another now is no news.
func finding(a *calc.Answer) string {
	said := *a
	if f, is := a.Study.(*answer.Found); is {
		found := *f
		found.Current = nil
		if found.Grown {
			found.Looked = []*answer.Value{nil, nil}
		}
		said.Study = &found
	}
	var b bytes.Buffer
	p := show.New(&b, show.Options{})
	p.Answer(&said, show.CardForm{})
	p.Diags("", a.Line, a.Errors)
	return b.String()
}

// offerTake says, to somebody at the prompt, how what a find has found is taken
// over. The answer is no order and no question of its own: whoever types
// something else has left it.
func (d *desk) offerTake(a *calc.Answer) {
	d.taking = ""
	if a == nil || !d.ed.Interactive() {
		return
	}
	if f, is := a.Study.(*answer.Found); is && f.Take != "" {
		d.taking = f.Take
		d.note("    yes enters %s", d.taking)
	}
}

// takeOver enters the line that a find has found.
func (d *desk) takeOver(text string) error {
	d.ed.Remember(text)
	edit, err := d.s.Enter(text)
	if err != nil {
		return err
	}
	d.tell(edit, true)
	return nil
}
