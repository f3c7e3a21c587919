package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
	"railsum/sessions"
)

// number is the prompt for a row of the notebook.
func (d *desk) number(row int) string { return fmt.Sprintf("%d. ", row) }

// enter takes a line into the notebook and says what came of it. A line that
// strict refuses is listened to.
func (d *desk) enter(text string) error {
	if strings.TrimSpace(text) == "" && d.ed.Interactive() && !d.ed.More() {
		return nil // Enter, pressed in passing; in a paste an empty row is kept
	}
	line, err := d.block(text, d.s.NextRow())
	if err != nil {
		return err
	}
	line, taken := d.listen(line, d.s.Lines())
	if !taken {
		return nil
	}
	if o, args := orderIn(line.Raw); o != nil && d.ed.Interactive() && mistaken(line) && o.talk(args) {
		return misuse(o.word) // it was no question either
	}
	if mistaken(line) {
		d.refuse(d.s.DropDraft())
		return d.giveBack(line)
	}
	if wrong := d.wrongForSheet(line); wrong != nil {
		d.refuse(d.s.DropDraft())
		d.remember(line)
		for _, w := range wrong {
			d.err.Complaint(line, w)
		}
		return nil
	}
	d.remember(line)
	edit, err := d.s.Enter(line.Raw)
	if err != nil {
		return err
	}
	d.tell(edit, edit.Replaced || edit.Filled)
	return nil
}

// wrongForSheet gives what is wrong with a line that puts a sheet to work, or sets an
// input of one, as it stands beside the others: at a prompt such a line is not taken,
// for a card without it would be of another case. In a paste the sheet may come later.
func (d *desk) wrongForSheet(line *syntax.Line) []syntax.Diag {
	if !d.ed.Interactive() || d.ed.More() {
		return nil
	}
	switch n := line.Node.(type) {
	case *syntax.Use:
	case *syntax.Define:
		if len(n.Target.Parts) < 2 {
			return nil
		}
	default:
		return nil
	}
	lines := append(slices.Clone(d.s.Lines()), line)
	return calc.Open(lines, d.s.Library()).Answer(len(lines) - 1).Errors
}

// seldom is the row of a table from which on only a row that can end it is
// looked at together with all before it.
const seldom = 200

// block collects the rows of a line: one, or a table up to its end.
func (d *desk) block(text string, row int) (*syntax.Line, error) {
	rows := strings.Split(text, "\n")
	line, open, err := d.parsed(rows, row)
	if err != nil {
		return nil, err
	}
	on := record{desk: d, rows: slices.Clone(rows[min(len(rows), len(d.s.Drafted())):])}
	for open {
		if err := on.settle(); err != nil {
			d.back = append(rows, d.back...)
			return nil, err
		}
		more, err := d.prompt(d.number(row+len(rows))+"  ", d.offer())
		if err != nil && d.signals.code() == 0 {
			d.refuse(d.s.DropDraft())
		}
		switch {
		case errors.Is(err, lineedit.ErrInterrupted):
			return nil, refusal("the table was not taken")
		case errors.Is(err, lineedit.ErrTooLong):
			return nil, tooLong()
		case err != nil && d.signals.code() != 0:
			return nil, on.now()
		case err != nil:
			return nil, refusal("the table has no end and was not taken").With("write `end` on a row of its own")
		}
		rows, on.rows = append(rows, more), append(on.rows, more)
		if len(rows) > seldom && (strings.Contains(more, "|") || holdsValues(more)) {
			continue
		}
		if line, open, err = d.parsed(rows, row); err != nil {
			return nil, err
		}
	}
	return line, nil
}

// record puts the rows of a table that is being typed on record. A paste is put
// there by the handful, and so is what comes through a pipe without a pause.
type record struct {
	*desk
	rows []string // that are not there yet
	last time.Time
}

const (
	handful = 50
	pause   = 100 * time.Millisecond
)

func (r *record) settle() error {
	if r.ed.More() && len(r.rows) < handful && time.Since(r.last) < pause {
		return nil
	}
	return r.now()
}

func (r *record) now() error {
	err := r.s.Draft(r.rows...)
	if err == nil {
		r.rows, r.last = r.rows[:0], time.Now()
	}
	return err
}

// goOn shows rows that were typed of a table when a desk died, and asks for the
// others.
func (d *desk) goOn(rows []string) error {
	d.note("A table was being typed; it goes on here.")
	for i, row := range rows {
		d.note("%s%s", d.number(d.s.NextRow()+i), untabbed(row))
	}
	return d.enter(strings.Join(rows, "\n"))
}

// mistaken reports whether a line's form is in error.
func mistaken(l *syntax.Line) bool {
	if _, broken := l.Node.(*syntax.Broken); broken {
		return true
	}
	for _, e := range l.Errors {
		if !e.Notice {
			return true
		}
	}
	return false
}

// giveBack shows what is wrong with a line. A table is offered again, row by row;
// a line of one row is brought back by Up, or, out of a paste, offered when that is
// over. A row that ended a table by not being one is taken by itself if it can be.
func (d *desk) giveBack(line *syntax.Line) error {
	d.remember(line)
	for _, e := range line.Errors {
		d.err.Complaint(line, e)
	}
	if !d.ed.Interactive() {
		d.code = max(d.code, codeWrong)
	}
	rows := strings.Split(line.Raw, "\n")
	last := rows[len(rows)-1]
	if len(rows) > 1 && strings.TrimSpace(last) != "end" {
		if alone, _ := syntax.ParseLine(last); !mistaken(alone) {
			d.back = append(d.back, rows[:len(rows)-1]...)
			return d.take(last)
		}
	}
	if len(rows) == 1 && !d.ed.More() {
		return nil
	}
	if len(rows) > 1 && d.ed.Edits() {
		d.note("The table is offered again row by row: Enter takes a row as it stands.")
	}
	d.back = append(d.back, rows...)
	if len(d.back) > maxBack {
		d.back = d.back[:maxBack]
	}
	return nil
}

// maxBack is how many rows of a paste are offered again; the others are in the
// history.
const maxBack = 500

func (d *desk) remember(line *syntax.Line) {
	for _, row := range strings.Split(line.Raw, "\n") {
		d.ed.Remember(row)
	}
}

// tell shows what an edit has brought: the answer of each line that is new or
// another now, and what else has changed by it. Unless a line has just been typed
// where it stands, it is shown with its number.
func (d *desk) tell(edit sessions.Edit, numbered bool) {
	d.again = numbered
	defer func() { d.again = false }()
	mine := map[int]bool{}
	var last *calc.Answer
	for n, i := range edit.Lines {
		mine[i] = true
		if n == mostTold {
			d.note("and %d lines more", len(edit.Lines)-n)
		}
		if n >= mostTold {
			continue
		}
		if numbered {
			d.brought(i, edit.Rows)
		}
		last = d.studied(i)
		d.answer(last)
	}
	rest := edit.Change
	rest.Deltas = nil
	for _, delta := range edit.Deltas {
		if !mine[delta.Line] || delta.Old() != nil {
			rest.Deltas = append(rest.Deltas, delta)
		}
	}
	d.out.Change(rest, d.s.Lines())
	d.arrived(mine)
	d.askAgain(mine)
	d.offerTake(last)
	if d.signals.stopped() {
		d.note("Stopped. What was entered is kept; undo and redo compute what is missing.")
	}
}

// mostTold is how many lines of one edit are shown.
const mostTold = 20

// answer shows what a line has to say, errors with their place. A line that
// waits for a name is not in error for it.
func (d *desk) answer(a *calc.Answer) { d.answerAs(a, d.form(a)) }

// answerAs is the same with its cards in a form.
func (d *desk) answerAs(a *calc.Answer, cards show.CardForm) {
	if len(a.Waiting) > 0 {
		d.waits[a.Line.Raw] = true
	}
	for _, e := range a.Errors {
		if len(a.Waiting) == 0 || !unknownName(e, a.Waiting) {
			d.err.Complaint(a.Line, e)
		} else if strings.HasPrefix(e.Cure, "did you mean") {
			d.note("%s", show.Sentence(e.Cure))
		}
	}
	for _, e := range a.Notices {
		d.err.Complaint(a.Line, e)
	}
	if outline.Repeats(a) || len(a.Waiting) == 0 && len(a.Errors) > 0 && !hasAnswer(a) {
		return
	}
	d.out.Answer(a, cards)
}

// form is how the cards of a line are shown: as a screen, or with verdicts and
// figures alone where the line is shown once more.
func (d *desk) form(a *calc.Answer) show.CardForm {
	use, ok := a.Line.Node.(*syntax.Use)
	switch {
	case !ok:
		return show.CardForm{}
	case d.again:
		return show.CardForm{Length: show.Brief}
	}
	name := strconv.Itoa(a.Line.Row)
	if len(use.Names) > 0 {
		name = use.Names[0].Text
	}
	return show.CardForm{More: "`list " + name + " whole`: every check, meaning and source"}
}

// hasAnswer reports whether there is more to show than what is wrong.
func hasAnswer(a *calc.Answer) bool {
	if a.Value != nil {
		return a.Value.Sound() || a.Value.Type.Of != nil
	}
	return a.Rule != nil || a.Study != nil || len(a.Cards) > 0
}

// unknownName reports whether an error says no more than that a name is not
// known yet.
func unknownName(e syntax.Diag, waiting []string) bool {
	for _, name := range waiting {
		if strings.HasPrefix(e.Message, name+" is not defined") {
			return true
		}
	}
	return false
}

// arrived shows the lines that have waited and do so no longer, but for those
// that have been shown.
func (d *desk) arrived(shown map[int]bool) {
	if len(d.waits) == 0 {
		return
	}
	for i, l := range d.s.Lines() {
		if !d.waits[l.Raw] {
			continue
		}
		if a := d.s.Book().Answer(i); len(a.Waiting) == 0 {
			delete(d.waits, l.Raw)
			if !shown[i] {
				d.numbered(i, 0)
				d.answer(d.studied(i))
			}
		}
	}
}

// lookForWaiting notes which lines wait, after more than one line has changed.
func (d *desk) lookForWaiting() {
	d.waits = map[string]bool{}
	for i, l := range d.s.Lines() {
		if len(d.s.Book().Waits(i)) > 0 {
			d.waits[l.Raw] = true
		}
	}
}
