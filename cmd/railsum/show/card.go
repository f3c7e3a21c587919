package show

import (
	"fmt"
	"path"
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/units/words"
)

// A Length is how much of a card is written.
type Length uint8

const (
	First Length = iota // what fits a screen: verdict, what does not hold, answers, inputs, hazards
	Title               // sheet, name and verdict, in one row
	Brief               // verdicts and figures alone
	Whole               // everything, however long
)

// A CardForm says how a card is written: at what length, what shows the whole of
// it, empty for nothing, and in a file the row of its line.
type CardForm struct {
	Length
	More string
	Row  int
}

// screenRows is how many rows the first card may have at 80 columns: a window of 24
// less the line that was typed and the prompt below.
const screenRows = 22

// foremost is the row of a card by which its answers begin.
const foremost = 10

// mostAnswers is how many answers have a row each on a first card.
const mostAnswers = 8

// mostCardRows is how many rows of a table stand on a first card.
const mostCardRows = 6

// give says what of a first card has given way so far.
type give struct {
	meanings bool // of answers: cut to one row
	inputs   bool // each of the three paragraphs has one row
	hazards  bool // in their short form, one behind the other
	blanks   bool // no empty rows
	names    bool // the answers without a row are counted, not named
	chief    bool // checks that hold are counted alone
	cures    int  // how many there are
	answers  int  // that have a row each
	rows     int  // of a table
}

// ways are the steps in which a card gives way, until it fits.
var ways = func() []give {
	g := give{cures: allCures, answers: mostAnswers, rows: mostCardRows}
	all := []give{g}
	add := func(change func()) { change(); all = append(all, g) }
	add(func() { g.meanings = true })
	add(func() { g.inputs = true })
	add(func() { g.hazards = true })
	add(func() { g.cures = 2 })
	for g.answers > 4 {
		add(func() { g.answers-- })
	}
	add(func() { g.blanks = true })
	add(func() { g.names, g.chief = true, true })
	for g.rows > 3 {
		add(func() { g.rows-- })
	}
	for g.answers > 1 {
		add(func() { g.answers-- })
	}
	for g.cures = 2; g.cures > 0; { // only where there are more dangers than rows above the answers
		add(func() { g.cures-- })
	}
	return all
}()

// Card writes a sheet in use.
func (p *Printer) Card(c *answer.Card, f CardForm) {
	switch {
	case f.Length == Title:
		p.cardTitle(c, f.Row)
	case f.Length == Whole:
		p.wholeCard(c)
	case f.Length == Brief || len(c.Show) > 0:
		p.brief(c, f)
	default:
		for _, row := range p.first(c, f) {
			p.row(row)
		}
	}
}

// first lays out a first card. A window too narrow for three columns has as many
// rows as it takes.
func (p *Printer) first(c *answer.Card, f CardForm) (rows []string) {
	if p.slim() {
		rows, _ = p.laid(c, ways[1], f)
		return rows
	}
	for _, g := range ways {
		begins := 0
		if rows, begins = p.laid(c, g, f); len(rows) <= screenRows && begins < foremost {
			break
		}
	}
	return rows
}

// slim reports whether a card is for a window that has no room for three columns,
// or for the ear.
func (p *Printer) slim() bool { return p.spoken() || p.Width < 72 }

// laid lays out a first card that has given way so far, and says how many rows
// stand before its first answer. Cautions stand before the answers while there is
// room, dangers always.
func (p *Printer) laid(c *answer.Card, g give, f CardForm) (rows []string, begins int) {
	dangers, cautions := p.findings(c)
	found := append(dangers[:len(dangers):len(dangers)], cautions...)
	blank := 1
	if g.blanks {
		blank = 0
	}
	title := p.aside(func(q *Printer) { q.cardTitle(c, f.Row) })
	reasons := p.aside(func(q *Printer) { q.reasons(found, 0, len(dangers), g.cures) })
	lesser := p.aside(func(q *Printer) { q.reasons(found, len(dangers), len(found), g.cures) })
	rows = append(title, reasons...)
	early := len(rows)+len(lesser)+blank < foremost
	if early {
		rows = append(rows, lesser...)
	}
	if len(c.Gives) > 0 {
		rows = append(rows, make([]string, blank)...)
	}
	begins = len(rows)
	rows = append(rows, p.aside(func(q *Printer) {
		q.tells(c, g)
		if !early {
			q.reasons(found, len(dangers), len(found), g.cures)
		}
		q.holding(c, g.chief)
		if blank > 0 && len(c.Asks) > 0 {
			q.Blank()
		}
		q.inputs(c, g.inputs)
		q.hazards(c, g.hazards)
		if f.More != "" {
			q.wrapped(q.indent+"  ", f.More)
		}
	})...)
	return rows, begins
}

// aside gives the rows that something would write.
func (p *Printer) aside(write func(q *Printer)) []string {
	var b strings.Builder
	q := *p
	q.w, q.err, q.rows = &b, nil, 0
	write(&q)
	if b.Len() == 0 {
		return nil
	}
	return strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
}

// brief is a card of verdicts and figures alone, or the answers that its line
// asks for, with the reasons of its verdict and the cures.
func (p *Printer) brief(c *answer.Card, f CardForm) {
	p.cardTitle(c, f.Row)
	dangers, cautions := p.findings(c)
	found := append(dangers, cautions...)
	if f.Length == Brief {
		for i := range found {
			found[i].cure = ""
		}
	}
	p.reasons(found, 0, len(found), allCures)
	p.tells(c, give{meanings: true, answers: len(c.Gives), rows: mostCardRows})
}

// CardTitle writes the sheet, what it is placed as, and the card's verdict, with
// the inputs that nobody has settled and that it rests on: "stub: danger, on the
// sheet's own length, 30 mm".
func (p *Printer) CardTitle(c *answer.Card) { p.cardTitle(c, 0) }

// cardTitle is the same in a file, with the row of the line.
func (p *Printer) cardTitle(c *answer.Card, row int) {
	title := c.Sheet
	if c.Name != "" && c.Name != strings.TrimSuffix(path.Base(c.Sheet), ".sums") {
		title += " for " + c.Name
	}
	if row > 0 {
		title = fmt.Sprintf("line %d, %s", row, title)
	}
	title = p.paint(p.head, Safe(title))
	if len(c.Rules) > 0 || c.Verdict > answer.Clear {
		title += ": " + p.Verdict(c.Verdict) + p.rests(c)
	}
	p.wrapped(p.indent, title)
	if n := len(c.InError); n > 0 {
		rows := make([]string, n)
		for i, row := range c.InError {
			rows[i] = strconv.Itoa(row)
		}
		text := "lines " + words.And(rows) + ", which set inputs of it, are in error"
		if n == 1 {
			text = "line " + rows[0] + ", which sets an input of it, is in error"
		}
		p.wrapped(p.indent+"  ", text)
	}
}

// mostRests is how many inputs that a verdict rests on are named.
const mostRests = 3

// rests says which inputs a card's verdict rests on that are the sheet's own.
func (p *Printer) rests(c *answer.Card) string {
	names := c.Rests()
	switch {
	case c.OnDefaults:
		return ", " + answer.OwnDefaults
	case len(names) == 0:
		return ""
	case len(names) == 1:
		text := ", on the sheet's own " + Safe(names[0])
		if in := c.Ask(names[0]); in != nil && in.Value != nil && !in.Value.Column() {
			text += ", " + p.plainly(in.Value)
		}
		return text
	}
	if more := len(names) - mostRests; more > 0 {
		names = append(names[:mostRests:mostRests], fmt.Sprintf("%d more", more))
	}
	last := len(names) - 1
	return ", on the sheet's own " + Safe(strings.Join(names[:last], ", ")+" and "+names[last])
}

// plainly is a value in one row of text, a text without its marks.
func (p *Printer) plainly(v *answer.Value) string {
	if !v.Column() && v.Fault(0) == "" && len(v.Texts) == 1 {
		return Safe(v.Texts[0])
	}
	return p.Value(v)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
