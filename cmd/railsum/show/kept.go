package show

import (
	"fmt"
	"strings"

	"railsum/calc/answer"
	"railsum/cmd/railsum/outline"
)

// Guess says where the answer is that is kept back: the line itself has the
// question.
func (p *Printer) Guess(g *answer.Guess) {
	look := g.Of.String()
	if len(g.Sets) > 0 {
		look = "`suppose " + strings.Join(g.Sets, ", ") + " show " + look + "`"
	}
	p.say("the answer is kept back: " + Safe(look) + " shows it")
}

// Picture draws, or for a screen reader says what is drawn.
func (p *Printer) Picture(pic *answer.Picture) {
	d := outline.Drawing(pic, p.Unit)
	switch {
	case d == nil:
		p.say(Safe(outline.NoDrawing(pic)))
	case p.Stacked:
		p.say(Safe(d.Sentence()))
	default:
		for _, row := range d.Text(min(max(p.Width-width(p.indent), leastDrawing), mostDrawing)) {
			p.row(strings.TrimRight(p.indent+p.plain(Safe(row)), " "))
		}
	}
}

// How wide a drawing is at the least and at the most.
const (
	leastDrawing = 36
	mostDrawing  = 96
)

// plain writes the sign that drawings have as a terminal takes it.
func (p *Printer) plain(row string) string {
	if p.ASCII {
		return strings.ReplaceAll(row, "\u00d7", "x")
	}
	return row
}

// Slip has nothing to say here: `about` tells what people get wrong.
func (p *Printer) Slip(*answer.Slip) {}

// Agree says how much of what a sheet takes for granted is settled, and names
// what no longer is.
func (p *Printer) Agree(a *answer.Agreement) {
	of := Safe(a.Sheet)
	if a.Edition > 0 {
		of += fmt.Sprintf(", edition %d", a.Edition)
	}
	if n := a.Stand(); n > 0 {
		p.say(of + ": " + count(n, "input is", "inputs are") + " agreed to")
	}
	var open []string
	for i := range a.Inputs {
		if in := &a.Inputs[i]; !in.Stands {
			open = append(open, Safe(in.Name)+" "+p.plainly(in.Agreed))
		}
	}
	if len(open) > 0 {
		p.items(p.indent+p.paint(p.warn, answer.Unsettled)+": ", p.indent+"  ", open)
	}
}

// Case sets what a case puts in beside what is.
func (p *Printer) Case(c *answer.Case) {
	var rows [][]string
	for i := range c.Sets {
		s := &c.Sets[i]
		rows = append(rows, []string{s.Name, p.worth(s.Now), p.worth(s.Then)})
	}
	p.table([]string{"", "now", "supposed"}, rows, nil, p.indent)
}

// worth is a value in a cell; of a column that is not the same in every row, how
// many it has.
func (p *Printer) worth(v *answer.Value) string {
	switch {
	case v == nil:
		return "no answer"
	case !v.Column():
		return p.plainly(v)
	}
	for i := range v.Rows() {
		if v.Cell(i) != v.Cell(0) {
			return count(v.Rows(), "row", "rows")
		}
	}
	if v.Rows() == 0 {
		return "no rows"
	}
	return p.Cell(v, 0) + " in every row"
}

// Exercise says how many questions there are and of what.
func (p *Printer) Exercise(e *answer.Exercise) {
	p.say(fmt.Sprintf("%s on %s, %s", count(e.Count, "question", "questions"), Safe(e.Sheet), e.Set()))
}

// Part has nothing to say here: the list of parts has it.
func (p *Printer) Part(*answer.Needed) {}

// Given is something that a question tells.
func (p *Printer) Given(g outline.Given) {
	if g.Value != nil && g.Value.Column() {
		p.Hanging("  " + g.Meaning + ":")
		p.Column(g.Value, "    ")
		return
	}
	p.Hanging("  " + g.Meaning + ": " + p.Value(g.Value))
}
