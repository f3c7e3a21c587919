package desk

import (
	"slices"

	"railsum/calc/hear"
	"railsum/calc/syntax"
)

// beside is an ear for a line that is typed beside others.
func (d *desk) beside(others []*syntax.Line) *hear.Ear {
	e := hear.Beside(others, d.s.Library(), d.indexed())
	e.StopWhen(d.signals.stopped)
	return e
}

// indexed is the index of all that can be named.
func (d *desk) indexed() *hear.Index {
	if d.index == nil {
		d.index = hear.NewIndex(d.s.Library(), Entries())
	}
	return d.index
}

// listen puts a line that was typed into the language, if strict refuses it and
// it can mean one thing only. It reports false for a line that was not taken,
// when all has been said that there is to say. Without a terminal nobody sees
// what was heard, and in a paste a question may come before what it speaks of.
func (d *desk) listen(line *syntax.Line, others []*syntax.Line) (*syntax.Line, bool) {
	if !d.ed.Interactive() || !hear.Listens(d.s.Book(), line) || d.ed.More() && !mistaken(line) {
		return line, true
	}
	h := d.beside(others).Hear(line.Raw)
	switch {
	case d.signals.stopped():
		d.ed.Remember(line.Raw)
		d.note("Stopped. The line is not taken.")
		return nil, false
	case h.Line != nil:
		d.out.Heard(h)
		heard, _ := syntax.ParseLineAt(h.Text(), line.Row)
		return heard, true
	case h.Nothing():
		return line, true // strict's own words stand, or it waits
	}
	d.ed.Remember(line.Raw)
	d.err.Unheard(line, h)
	d.offerLines(h)
	return nil, false
}

// offerLines lets Up bring what may be typed in place of a line: the correction,
// or the proposals, the first of them first.
func (d *desk) offerLines(h *hear.Heard) {
	var lines []string
	switch {
	case h.Correction != "":
		lines = []string{h.Correction}
	case len(h.Readings) == 1:
		lines = []string{h.Readings[0].Line}
	}
	for _, p := range h.Proposals {
		lines = append(lines, p.Line)
	}
	if len(lines) == 0 {
		return
	}
	if d.unkept {
		for i := range lines {
			lines[i] = "? " + lines[i]
		}
	}
	d.ed.Suggest(lines...)
	if d.ed.Edits() {
		d.note("Up brings it.")
	}
}

// without gives the lines of the notebook but for one.
func (d *desk) without(i int) []*syntax.Line {
	lines := slices.Clone(d.s.Lines())
	return slices.Delete(lines, i, i+1)
}
