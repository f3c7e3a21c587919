package show

import (
	"fmt"

	"railsum/calc/answer"
	"railsum/calc/types"
)

// Suppose writes what is beside what would be: each shown value with its
// change, and the rules that would turn.
func (p *Printer) Suppose(s *answer.Supposed) {
	var rows [][]string
	all := 0
	for i := range s.Lines {
		some, of := p.beside(&s.Lines[i])
		rows, all = append(rows, some...), all+of
	}
	if len(rows) > 0 {
		p.table([]string{"", "now", "supposed", "change"}, rows, nil, p.indent)
		p.leftOut(p.indent, all-len(rows), all)
	}
	if s.More > 0 {
		p.say(fmt.Sprintf("and %d more answers would be others; `show` and their names ask for them", s.More))
	}
	for _, t := range s.Turns {
		p.say(p.turn(&t))
	}
	if len(s.Turns) == 0 {
		p.say("no verdict changes")
	}
}

// beside is a value now and supposed, a row for each row of a column that is
// shown, and how many it has. The labels are made safe by the table.
func (p *Printer) beside(l *answer.Beside) (rows [][]string, of int) {
	now, then := l.Now, l.Then
	if now == nil || then == nil {
		return [][]string{{l.Name, p.Value(now), p.Value(then), ""}}, 1
	}
	if now.Type.Of == nil {
		return [][]string{{l.Name, p.Cell(now, 0), p.Cell(then, 0), p.change(l)}}, 1
	}
	of = max(now.Rows(), then.Rows())
	for _, i := range p.rowsShown(of, func(i int) bool { return now.Fault(i) != then.Fault(i) }) {
		rows = append(rows, []string{l.Name + ": " + now.Label(i), p.Cell(now, i), p.Cell(then, i), p.changed(now, then, i)})
	}
	return rows, of
}

// change is a change in units and, where that means something, in per cent.
func (p *Printer) change(l *answer.Beside) string {
	if l.Change == nil {
		return ""
	}
	if l.Change.Numbers[0] == 0 {
		return p.signed(l.Change)
	}
	return p.signed(l.Change) + percent(l.Percent)
}

// changed is the change of one row of a column.
func (p *Printer) changed(now, then *answer.Value, i int) string {
	if now.Type.Kind != types.Number || now.Fault(i) != "" || then.Fault(i) != "" {
		return ""
	}
	return p.signed(&answer.Value{Type: now.Type.Scalar(), Numbers: []float64{then.Numbers[i] - now.Numbers[i]},
		Unit: now.Unit})
}

// signed is a difference with its sign.
func (p *Printer) signed(v *answer.Value) string {
	switch {
	case v.Numbers[0] > 0:
		return "+" + p.Cell(v, 0)
	case v.Numbers[0] == 0:
		return "none"
	}
	return p.Cell(v, 0)
}
