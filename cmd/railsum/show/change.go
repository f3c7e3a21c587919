package show

import (
	"fmt"

	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// Change writes what an edit has done: old and new value of every named answer
// downstream, each verdict that turned, and each "that" that means another
// question now. The lines are the notebook's as it is now.
func (p *Printer) Change(c answer.Change, lines []*syntax.Line) {
	for _, d := range c.Deltas {
		p.wrapped(p.indent, Safe(d.Name)+": "+p.before(d.Old())+" "+p.arrow()+" "+p.before(d.New()))
	}
	for _, t := range c.Turns {
		p.say(p.turn(&t))
	}
	for _, m := range c.Moved {
		now := "nothing"
		if m.Now >= 0 && m.Now < len(lines) {
			now = fmt.Sprintf("line %d, %s", lines[m.Now].Row, excerpt(rowsOf(lines[m.Now])[0]))
		}
		p.wrapped(p.indent, fmt.Sprintf("that on line %d now means ", lines[m.Line].Row)+now)
	}
}

func (p *Printer) before(v *answer.Value) string {
	if v == nil {
		return "no answer"
	}
	return p.Value(v)
}

func (p *Printer) arrow() string {
	if p.ASCII {
		return "->"
	}
	return "→"
}
