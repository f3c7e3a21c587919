package desk

import (
	"fmt"
	"strings"

	"railsum/sessions"
	"railsum/units/words"
)

// reload reads the notebook's file, and the sheets and tables beside it, again, and
// takes in what has been changed there.
func (d *desk) reload(args string) error {
	if err := bare("reload", args); err != nil {
		return err
	}
	if d.s.Name() == "" {
		return refusal("the notebook has no file to read again").With("`save NAME` gives it one")
	}
	m, err := d.s.Meanwhile()
	if err != nil {
		return err
	}
	if m == nil {
		d.note("%s is as it was read.", d.s.Name())
		return nil
	}
	d.note("%s has been changed since it was read.", d.s.Name())
	return d.mergeIn(m)
}

// mergeIn shows what somebody else has done to the file and takes it in, after
// asking for rows that both have changed.
func (d *desk) mergeIn(m *sessions.Merge) error {
	d.news(m)
	if err := d.settleConflicts(m, "the file's"); err != nil {
		return err
	}
	edit, err := d.s.MergeIn(m)
	if err != nil {
		return err
	}
	if d.s.Dirty() {
		d.note("The notebook has the file's changes and its own now; `undo` takes the file's out again.")
	}
	return d.done(edit, nil)
}

// mostDifferent is how many rows of a difference are shown.
const mostDifferent = 40

// news shows the rows that the file has and the notebook has not.
func (d *desk) news(m *sessions.Merge) {
	rows := []string{}
	for i := range m.Parts {
		if p := &m.Parts[i]; p.News() && !p.Conflict() {
			rows = append(rows, different(p.Row, p.Ours, p.Theirs)...)
		}
	}
	d.different(rows)
}

// different are the rows that one text has in the place of another's, as they are
// shown.
func different(row int, was, now []string) []string {
	var rows []string
	for i, text := range was {
		rows = append(rows, fmt.Sprintf("- %d. %s", row+i, text))
	}
	for _, text := range now {
		rows = append(rows, "+    "+text)
	}
	return rows
}

func (d *desk) different(rows []string) {
	d.firstRows(rows, mostDifferent)
}

// firstRows shows rows of a text, and how many there are beyond the first ones.
func (d *desk) firstRows(rows []string, most int) {
	if len(rows) == most+1 {
		most++
	}
	for _, row := range rows[:min(len(rows), most)] {
		d.out.Hanging("  " + untabbed(strings.TrimSuffix(row, "\r")))
	}
	if more := len(rows) - most; more > 0 {
		d.out.Say("  and %d rows more", more)
	}
}

// conflict shows a place that both have changed.
func (d *desk) conflict(p *sessions.Part, theirs string) {
	d.note("Both have changed line %d. The notebook has:", p.Row)
	d.different(different(p.Row, nil, p.Ours))
	d.note("%s:", "And "+theirs)
	d.different(different(p.Row, nil, p.Theirs))
}

// settleConflicts asks whose rows are to be taken where both have changed them.
func (d *desk) settleConflicts(m *sessions.Merge, theirs string) error {
	conflicts := m.Conflicts()
	if len(conflicts) == 0 {
		return nil
	}
	where := make([]string, len(conflicts))
	for i, p := range conflicts {
		where[i] = fmt.Sprint(p.Row)
	}
	if !d.ed.Interactive() {
		line := "line"
		if len(where) > 1 {
			line = "lines"
		}
		return refusal("the notebook and the file have both changed %s %s", line, words.And(where)).
			With("at a terminal `reload` asks whose is taken; `save OTHER.sums` writes this notebook beside the file")
	}
	for _, p := range conflicts {
		d.conflict(p, theirs)
		answer, err := d.question("Whose? ours, theirs or both: ", "ours", "theirs", "both")
		switch {
		case err != nil || answer == "":
			return refusal("nothing was taken; the notebook is as it was")
		case answer == "ours":
			p.Choice = sessions.TakeOurs
		case answer == "theirs":
			p.Choice = sessions.TakeTheirs
		default:
			p.Choice = sessions.TakeBoth
		}
	}
	return nil
}

// saveChanged saves a notebook whose file has become another since it was read.
func (d *desk) saveChanged(refused error) error {
	d.say(plain(refused))
	m, err := d.s.Meanwhile()
	if err != nil || m == nil || !m.News() {
		return d.replaceFile() // it has gone, or cannot be read as a notebook
	}
	d.news(m)
	for _, p := range m.Conflicts() {
		d.conflict(p, "the file's")
	}
	d.note("merge takes them into this notebook and saves both; replace writes this notebook over the file; no leaves the file, and then `save OTHER.sums` writes the notebook beside it.")
	switch answer, _ := d.question("merge, replace or no: ", "merge", "replace", "no"); answer {
	case "merge":
		if err := d.settleConflicts(m, "the file's"); err != nil {
			return err
		}
		edit, err := d.s.MergeIn(m)
		if err != nil {
			return err
		}
		if err := d.done(edit, nil); err != nil {
			return err
		}
		return d.s.Save("", false)
	case "replace":
		return d.s.Save("", true)
	}
	return refusal("nothing was written")
}

func (d *desk) replaceFile() error {
	if answer, _ := d.question("Replace it? yes or no: ", "yes", "no"); answer != "yes" {
		return refusal("nothing was written")
	}
	return d.s.Save("", true)
}

// takeInto takes what a desk that died has left into a file that has changed since.
func (d *desk) takeInto(r *sessions.Recovery) error {
	m := d.s.Against(r)
	d.note("The file has changed since then. What was left is taken into it:")
	var rows []string
	for i := range m.Parts {
		if p := &m.Parts[i]; !p.Conflict() && !p.News() {
			rows = append(rows, different(p.Row, p.Was, p.Ours)...)
		}
	}
	d.different(rows)
	if err := d.settleConflicts(m, "the file"); err != nil {
		return err
	}
	edit, err := d.s.RecoverInto(r, m)
	d.resume = d.s.Drafted()
	return d.done(edit, err)
}
