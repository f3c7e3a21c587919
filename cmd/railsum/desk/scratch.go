package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/sessions"
)

// A desk without a file is scratch paper: leaving it asks nothing. What was on it
// stays in its journal, the next desk without a file mentions it in a row, and
// recover takes it up.

// keptScratch is how many of such papers are kept.
const keptScratch = 9

// welcome says, to somebody at the prompt of an empty notebook, what can be done
// here. The header stands below it, so that the first prompt explains itself.
func (d *desk) welcome() {
	if !d.ed.Interactive() {
		return
	}
	d.out.Say("railsum, a notebook of sums. `help`, `sheets`, Tab. Try 25 m at H0 as mm")
	d.mention()
	for i := range d.s.Lines() {
		d.numbered(i, 0)
	}
}

// leftovers gives what was left of notebooks without a file, latest first, and
// gives up what is older than what is kept. They must be released.
func (d *desk) leftovers() []*sessions.Recovery {
	left, old := latest(sessions.Leftovers(d.options()))
	for _, r := range old {
		d.refuse(r.Discard())
	}
	return slices.DeleteFunc(left, func(r *sessions.Recovery) bool {
		if r.Aside != "" {
			d.note("Notes without a file were left with a journal that is damaged: no line could be read. It is kept as %s.",
				r.Aside)
		}
		return r.Aside != ""
	})
}

// latest divides what was left into what is kept and the scratch papers before that.
func latest(all []*sessions.Recovery) (left, old []*sessions.Recovery) {
	papers := 0
	for _, r := range all {
		if r.Path == "" && r.Aside == "" {
			papers++
		}
		if papers > keptScratch && r.Path == "" && !r.Damaged {
			old = append(old, r)
		} else {
			left = append(left, r)
		}
	}
	return left, old
}

func release(left []*sessions.Recovery) {
	for _, r := range left {
		r.Release()
	}
}

// mention says in a row what has been left, if this desk has no file.
func (d *desk) mention() {
	if d.s.Name() != "" {
		return
	}
	left := d.leftovers()
	defer release(left)
	switch len(left) {
	case 0:
	case 1:
		d.note("left %s: `recover`", leftover(left[0], time.Now()))
	default:
		d.note("left %s: `recover`; and %d before it: `recover 2`", leftover(left[0], time.Now()), len(left)-1)
	}
}

// leftover says when something was left and how much it is.
func leftover(r *sessions.Recovery, now time.Time) string {
	text := string(r.Text())
	n := 0
	for _, l := range syntax.ParseFile([]byte(text)).Lines {
		if _, header := l.Node.(*syntax.Header); !header && strings.TrimSpace(l.Raw) != "" {
			n++
		}
	}
	lines := fmt.Sprintf("%d lines", n)
	if n == 1 {
		lines = "1 line"
	}
	if r.Path != "" {
		lines += " of " + r.Path
	}
	return day(r.When, now) + ", " + lines
}

// day names the day of a time in the past.
func day(when, now time.Time) string {
	when = when.In(now.Location())
	switch when.Format(time.DateOnly) {
	case now.Format(time.DateOnly):
		return "at " + when.Format("15:04")
	case now.AddDate(0, 0, -1).Format(time.DateOnly):
		return "yesterday"
	}
	return "on " + when.Format(time.DateOnly)
}

// recover takes up what was left of a notebook without a file.
func (d *desk) recover(args string) error {
	n := 1
	if args != "" {
		var err error
		if n, err = strconv.Atoi(args); err != nil || n < 1 {
			return misuse("recover")
		}
	}
	left := d.leftovers()
	defer release(left)
	switch {
	case len(left) == 0:
		return refusal("nothing was left behind")
	case n > len(left):
		return refusal("there is no %d among what was left", n).With(fmt.Sprintf("`recover %d` takes up the oldest", len(left)))
	}
	r := left[n-1]
	s, err := sessions.Recovered(r, d.options())
	if err != nil {
		return err
	}
	if err := d.part(); err != nil {
		return errors.Join(err, s.Close())
	}
	if r.Damaged {
		d.note("The journal is damaged: this is what could be read before the damage. The journal itself is kept.")
	}
	d.adopt(s)
	return d.list("")
}

// ask answers a question beside the lines of the notebook, without keeping it.
func (d *desk) ask(text string) error {
	d.ed.Remember("? " + text)
	line, open := syntax.ParseLineAt(text, d.s.NextRow())
	if !open {
		d.unkept = true
		var taken bool
		line, taken = d.listen(line, d.s.Lines())
		d.unkept = false
		if !taken {
			return nil
		}
	}
	if mistaken(line) {
		for _, e := range line.Errors {
			d.err.Complaint(line, e)
		}
		return nil
	}
	if open || !isQuestion(line.Node) {
		return refusal("only a question can be asked without being kept").
			With("leave out the question mark, and undo takes the line back")
	}
	book := calc.Open(append(d.s.Lines()[:len(d.s.Lines()):len(d.s.Lines())], line), d.s.Library())
	book.StopWhen(d.signals.stopped)
	a, err := d.study(context.Background(), book, len(d.s.Lines()))
	if err != nil {
		return refusal("stopped")
	}
	if len(a.Waiting) > 0 {
		for _, e := range a.Errors {
			d.err.Complaint(line, e)
		}
		return nil
	}
	d.answer(a)
	return nil
}

// isQuestion reports whether a line names nothing: what it says is gone with it.
func isQuestion(n syntax.Node) bool {
	switch n := n.(type) {
	case *syntax.Question, *syntax.Rule, syntax.Study:
		return true
	case *syntax.Use:
		return len(n.Names) == 0
	}
	return false
}
