package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/show"
	"railsum/sessions"
)

// rowNumber reads the number of a row, with or without its full stop.
func (d *desk) rowNumber(word string) (int, error) {
	n, err := strconv.Atoi(strings.TrimSuffix(word, "."))
	if err != nil {
		return 0, refusal("%s is no number of a line", word).With("`list` shows the numbers")
	}
	if n < 1 || n >= d.s.NextRow() {
		return 0, refusal("there is no line %d", n).With("`list` shows the lines")
	}
	return n, nil
}

// strike takes lines out, and rows of tables.
func (d *desk) strike(args string) error {
	if table, label, ok := d.rowNamed(args); ok {
		edit, err := d.s.StrikeRow(table, label)
		return d.done(edit, err)
	}
	spans, err := d.spans(args)
	if err != nil {
		return err
	}
	if len(spans) == 0 {
		return misuse("strike")
	}
	var whole []int
	for _, s := range spans {
		lines, err := d.linesOf(s)
		if err != nil && len(spans) == 1 && s.from == s.to {
			i, within := d.s.At(s.from)
			return d.strikeRow(i, within, s.from)
		} else if err != nil {
			return err
		}
		whole = append(whole, lines...)
	}
	gone := d.rowsOf(whole)
	edit, err := d.s.Strike(false, whole...)
	var r *sessions.Refusal
	if errors.As(err, &r) && r.Force && d.ed.Interactive() {
		d.say(err)
		if answer, _ := d.question("Strike it all the same? yes or no: ", "yes", "no"); answer != "yes" {
			return refusal("nothing was struck")
		}
		edit, err = d.s.Strike(true, whole...)
	}
	if err == nil {
		d.firstRows(gone, mostStruck)
	}
	return d.done(edit, err)
}

// mostStruck is how many of the rows that have been struck are shown.
const mostStruck = 5

// rowsOf are the rows of lines, as a difference shows those that are gone.
func (d *desk) rowsOf(lines []int) []string {
	var rows []string
	for _, i := range lines {
		l := d.s.Lines()[i]
		rows = append(rows, different(l.Row, strings.Split(l.Raw, "\n"), nil)...)
	}
	return rows
}

// strikeRow takes a row out of a table.
func (d *desk) strikeRow(i, within, n int) error {
	rows := strings.Split(d.s.Lines()[i].Raw, "\n")
	if within == len(rows)-1 {
		return refusal("line %d is the end of a table", n).
			With(fmt.Sprintf("`strike %d` takes out the whole table", n-within))
	}
	return d.replace(i, append(rows[:within:within], rows[within+1:]...))
}

// change changes a line, or one row of a table.
func (d *desk) change(args string) error {
	word, text, _ := strings.Cut(args, " ")
	if word == "" {
		return misuse("change")
	}
	n, err := d.rowNumber(word)
	if err != nil {
		return err
	}
	i, within := d.s.At(n)
	rows := strings.Split(d.s.Lines()[i].Raw, "\n")
	switch {
	case text != "" && (within > 0 || len(rows) == 1):
		rows[within] = indented(text, rows[within])
		return d.replace(i, rows)
	case text != "":
		return refusal("line %d is the head of a table", n).
			With(fmt.Sprintf("`change %d` without a text offers its rows one after the other", n))
	case !d.ed.Edits():
		return refusal("a line cannot be offered for editing here").
			With(fmt.Sprintf("write `change %d` and the new text", n))
	case within == 0 && len(rows) > 1:
		rows, err = d.retype(rows, n)
	default:
		rows[within], err = d.reoffer(rows[within], n, n)
	}
	var diag syntax.Diag
	if errors.As(err, &diag) {
		return err
	}
	if err != nil {
		return unchanged(err)
	}
	return d.replace(i, rows)
}

// reoffer offers a row to be edited; n is its number and at the one it will have.
// What holds characters that could act on the terminal is not offered: without
// them it would be another row.
func (d *desk) reoffer(row string, n, at int) (string, error) {
	row = untabbed(strings.TrimSuffix(row, "\r"))
	if show.Safe(row) != row {
		return "", refusal("line %d holds what cannot be shown, and is not offered for editing: %s", n, row).
			With(fmt.Sprintf("write `change %d` and the new text", n))
	}
	return d.prompt(d.number(at), row)
}

// indented gives a row the blanks that another begins with, unless it has some.
func indented(row, like string) string {
	if strings.HasPrefix(row, " ") {
		return row
	}
	return like[:len(like)-len(strings.TrimLeft(like, " \t"))] + row
}

// retype offers the rows of a table one after the other. A row that is emptied
// is left out; before the end more rows may be written.
func (d *desk) retype(rows []string, n int) ([]string, error) {
	var out []string
	for i, row := range rows[:len(rows)-1] {
		text, err := d.reoffer(row, n+i, n+len(out))
		if err != nil {
			return nil, err
		}
		if strings.TrimSpace(text) != "" {
			out = append(out, text)
		}
	}
	for {
		text, err := d.prompt(d.number(n+len(out)), "end")
		if err != nil {
			return nil, err
		}
		out = append(out, text)
		if strings.TrimSpace(text) == "end" {
			return out, nil
		}
	}
}

func unchanged(err error) error {
	if errors.Is(err, lineedit.ErrTooLong) {
		return tooLong()
	}
	return refusal("the line is as it was")
}

// replace puts a new text in a line's place.
func (d *desk) replace(i int, rows []string) error {
	text := strings.Join(rows, "\n")
	line, open := syntax.ParseLineUntil(d.signals.stopped, text, d.s.RowOf(i))
	if d.signals.stopped() {
		return sessions.ErrStopped
	}
	if open {
		return refusal("the table has no end; it is as it was")
	}
	line, taken := d.listen(line, d.without(i))
	if !taken {
		return refusal("the line is as it was")
	}
	text = line.Raw
	if mistaken(line) {
		for _, e := range line.Errors {
			d.err.Complaint(line, e)
		}
		d.remember(line)
		if len(rows) == 1 {
			d.ed.Suggest(fmt.Sprintf("change %d %s", d.s.RowOf(i), text))
		}
		return refusal("the line is as it was")
	}
	edit, err := d.s.Change(i, text)
	return d.done(edit, err)
}

// move puts lines before another.
func (d *desk) move(args string) error {
	if row, before, ok := strings.Cut(args, " before "); ok {
		if table, label, ok := d.rowNamed(row); ok {
			return d.moveRow(table, label, before)
		}
	}
	what, where, is := strings.Cut(args, " before ")
	if !is {
		return misuse("move")
	}
	spans, err := d.spans(what)
	if err != nil {
		return err
	}
	if len(spans) != 1 {
		return misuse("move")
	}
	lines, err := d.linesOf(spans[0])
	if err != nil {
		return err
	}
	to, err := d.before(where)
	if err != nil {
		return err
	}
	edit, err := d.s.Move(lines[0], lines[len(lines)-1], to)
	return d.done(edit, err)
}

// keep names the last question.
func (d *desk) keep(name string) error {
	if name == "" || strings.ContainsAny(name, " =") {
		return misuse("keep")
	}
	edit, err := d.s.Keep(name)
	return d.done(edit, err)
}

// rename gives another name to what has one.
func (d *desk) rename(args string) error {
	if row, to, ok := strings.Cut(args, " to "); ok {
		if table, label, ok := d.rowNamed(row); ok && !d.columnNamed(row) {
			return d.renameRow(table, label, to)
		}
	}
	words := strings.Fields(args)
	if len(words) != 3 || words[1] != "to" {
		return misuse("rename")
	}
	edit, err := d.s.Rename(words[0], words[2])
	return d.done(renamed(edit), err)
}

// undo takes the last change back.
func (d *desk) undo(args string) error {
	if err := bare("undo", args); err != nil {
		return err
	}
	what := d.s.CanUndo()
	edit, err := d.s.Undo()
	if what == "rename" {
		edit = renamed(edit)
	}
	return d.done(edit, err)
}

// redo does again what undo took back.
func (d *desk) redo(args string) error {
	if err := bare("redo", args); err != nil {
		return err
	}
	what := d.s.CanRedo()
	edit, err := d.s.Redo()
	if what == "rename" {
		edit = renamed(edit)
	}
	return d.done(edit, err)
}

// renamed is an edit without the values that are only gone from their old name.
func renamed(edit sessions.Edit) sessions.Edit {
	edit.Deltas = slices.DeleteFunc(edit.Deltas, func(d answer.Delta) bool { return d.New() == nil })
	return edit
}

// done shows what an edit of the whole notebook has brought.
func (d *desk) done(edit sessions.Edit, err error) error {
	if err != nil {
		return err
	}
	d.tell(edit, true)
	d.lookForWaiting()
	return nil
}
