package show

import (
	"fmt"

	"railsum/calc/answer"
	"railsum/cmd/railsum/outline"
)

// wholeCard writes everything that a card knows.
func (p *Printer) wholeCard(c *answer.Card) {
	p.CardTitle(c)
	about := c.About
	switch {
	case c.Own:
		about = joined(about, "your sheet")
	case c.Edition > 0:
		about = joined(about, fmt.Sprintf("edition %d", c.Edition))
	}
	p.wrapped(p.indent, Safe(about))
	dangers, cautions := p.findings(c)
	found := append(dangers, cautions...)
	p.reasons(found, 0, len(found), allCures)
	for _, pic := range c.Pictures {
		if outline.NoDrawing(pic) == "" {
			p.section("picture")
			p.Picture(pic)
		}
	}
	p.tellsWhole(c)
	p.checks(c)
	for _, of := range paragraphs(c) {
		for i := range of.inputs {
			of.inputs[i].Meaning = p.meant(&of.inputs[i])
		}
		p.block(of.heading, of.inputs)
	}
	p.texts("hazards", c.Hazards)
	p.texts("sources", c.Sources)
}

// tellsWhole writes all answers with the whole of their meanings; columns stand
// below theirs.
func (p *Printer) tellsWhole(c *answer.Card) {
	if len(c.Gives) == 0 {
		return
	}
	p.section("answers")
	failing := failingRows(c)
	lines := c.Gives
	wide := p.columnsOf(lines)
	for len(lines) > 0 {
		n := 0
		for n < len(lines) && tableOf(&lines[n]) == "" {
			n++
		}
		if n > 0 {
			p.threeColumns(lines[:n], wide, false)
			lines = lines[n:]
			continue
		}
		p.wrapped(p.indent+"  ", joined(Safe(lines[0].Name), Safe(lines[0].Meaning)))
		p.column(lines[0].Value, p.indent+standIn, failing)
		lines = lines[1:]
	}
}

// checks writes every check of a card with its condition: the sheet's own first,
// then those of its pieces.
func (p *Printer) checks(c *answer.Card) {
	if len(c.Rules) == 0 {
		return
	}
	p.section("checks")
	for _, piece := range []bool{false, true} {
		for i := range c.Rules {
			j := &c.Rules[i]
			if (j.Piece != "") != piece {
				continue
			}
			text := p.Verdict(j.Verdict) + ", " + ruleOf(j.Piece, j.Cond, j.Must)
			if why := p.decided(j); why != "" {
				text += ": " + why
			}
			if s := j.Sentence(); s != "" {
				text += "; " + Safe(s)
			}
			if j.Nominal && j.Why == "" {
				text += "; " + nominally
			}
			p.wrapped(p.indent+"  ", text)
		}
	}
}

// meant is the meaning of an input with its range and where its value comes from.
func (p *Printer) meant(l *answer.CardLine) string {
	text := l.Meaning
	if l.Range != nil {
		text = joined(text, p.ranged(l))
	}
	if from := p.fromText(l); from != "" {
		text = joined(text, from)
	}
	if l.State == answer.Assumed {
		text = joined(text, "assumed")
	}
	return text
}

// ranged is the range that an input is good for.
func (p *Printer) ranged(l *answer.CardLine) string { return l.Range.Spelled(p.expr) }

func (p *Printer) block(heading string, lines []answer.CardLine) {
	if len(lines) == 0 {
		return
	}
	p.section(heading)
	var single []answer.CardLine
	for _, l := range lines {
		if tableOf(&l) == "" && len(l.Columns) == 0 {
			single = append(single, l)
		}
	}
	p.threeColumns(single, p.columnsOf(single), false)
	for i := range lines {
		switch l := &lines[i]; {
		case len(l.Columns) > 0:
			p.wrapped(p.indent+"  ", joined(Safe(l.Name), Safe(l.Meaning)))
			p.columns(l.Columns, p.indent+standIn, nil)
		case tableOf(l) != "":
			p.wrapped(p.indent+"  ", joined(Safe(l.Name), Safe(l.Meaning)))
			p.column(l.Value, p.indent+standIn, nil)
		}
	}
}

func (p *Printer) section(text string) { p.row(p.indent + p.paint(p.head, text)) }

func (p *Printer) texts(heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	p.section(heading)
	for _, t := range texts {
		p.wrapped(p.indent+"  ", Safe(t))
	}
}
