package show

import (
	"fmt"

	"railsum/calc/answer"
)

// A CardForm is how much of a card is written; the zero form is all of it.
type CardForm struct {
	Trimmed bool // inputs at the sheet's defaults share a row, if there are several, and columns a table
	Again   bool // of a sheet told before: inputs without their meaning
	Bare    bool // without hazards and sources, which SheetNotes writes, and without a word on tolerances
	Short   bool // what is set, what it gives, what is not clear, and how much is
	End     bool // the title once more behind a card that is long
}

// Card writes a sheet in use as a stack of blocks: what it asks, what it
// gives, its rules, hazards and sources.
func (p *Printer) Card(c *answer.Card) { p.CardAs(c, CardForm{}) }

// longCard is how many rows of a card the eye still has together.
const longCard = 20

// CardAs writes a card in one of its forms.
func (p *Printer) CardAs(c *answer.Card, f CardForm) {
	before := p.rows
	p.cardTitle(c)
	if !f.Short && !f.Again {
		p.about(c)
	}
	p.asks(c, f)
	p.gives(c, f)
	p.cardRules(c, f)
	if !f.Bare && !f.Short {
		p.texts("hazards", c.Hazards)
		p.texts("sources", c.Sources)
	}
	if f.End && p.rows-before > longCard {
		p.cardTitle(c)
	}
}

func (p *Printer) cardTitle(c *answer.Card) { p.wrapped(p.indent, p.CardTitle(c)) }

// CardTitle is the sheet, what it is placed as, and the card's verdict, which
// says so when nothing in it is the user's own: "drop for north: clear".
func (p *Printer) CardTitle(c *answer.Card) string {
	title := c.Sheet
	if c.Name != "" {
		title += " for " + c.Name
	}
	title = p.paint(p.head, Safe(title))
	if len(c.Rules) == 0 && c.Verdict <= answer.Clear {
		return title
	}
	title += ": " + p.Verdict(c.Verdict)
	if c.OnDefaults {
		title += ", " + answer.OwnDefaults
	}
	return title
}

// about is what a sheet is for.
func (p *Printer) about(c *answer.Card) {
	about := c.About
	switch {
	case c.Own:
		about = joined(about, "a sheet of your own")
	case c.Edition > 0:
		about = joined(about, fmt.Sprintf("edition %d", c.Edition))
	}
	p.wrapped(p.indent, Safe(about))
}

func (p *Printer) gives(c *answer.Card, f CardForm) {
	if len(c.Gives) == 0 {
		return
	}
	p.block("tells")
	var gives []*answer.CardLine
	for i := range c.Gives {
		gives = append(gives, &c.Gives[i])
	}
	p.cardLines(gives, f, func(*answer.CardLine) string { return "" }, failingRows(c))
}

func (p *Printer) block(heading string) { p.row(p.indent + p.paint(p.head, heading)) }

func (p *Printer) texts(heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	p.block(heading)
	for _, t := range texts {
		p.wrapped(p.indent+"  ", Safe(t))
	}
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
