package show

import (
	"fmt"
	"strings"

	"railsum/calc/answer"
)

// mostDefaults is how many inputs at the sheet's defaults have a row each on a
// card that is trimmed.
const mostDefaults = 2

// asks writes the inputs of a card.
func (p *Printer) asks(c *answer.Card, f CardForm) {
	if len(c.Asks) == 0 {
		return
	}
	p.block("asks" + unsettled(c))
	var rest, set, defaults []*answer.CardLine
	for i := range c.Asks {
		l := &c.Asks[i]
		switch {
		case l.Outside || l.Why != "" || l.Value == nil && len(l.Columns) == 0:
			rest = append(rest, l)
		case (f.Short || f.Again) && l.State != answer.Default:
			set = append(set, l)
		case l.State == answer.Default && len(l.Columns) == 0 && l.Value.Type.Of == nil:
			defaults = append(defaults, l)
		default:
			rest = append(rest, l)
		}
	}
	switch {
	case f.Short:
		p.shortly("", set)
		rest = troubled(rest)
	case f.Again:
		p.shortly("", set)
	case !f.Trimmed || len(defaults) <= mostDefaults:
		rest, defaults = nil, nil
		for i := range c.Asks {
			rest = append(rest, &c.Asks[i])
		}
	}
	failing := failingRows(c)
	p.cardLines(rest, f, p.marks, failing)
	if !f.Short {
		p.shortly("at the sheet's "+p.paint(p.warn, "defaults")+":", defaults)
	}
}

// troubled are the lines that a card tells even where it tells little.
func troubled(lines []*answer.CardLine) []*answer.CardLine {
	var out []*answer.CardLine
	for _, l := range lines {
		if l.Outside || l.Why != "" || l.State != answer.Default {
			out = append(out, l)
		}
	}
	return out
}

// shortly writes inputs one behind the other.
func (p *Printer) shortly(heading string, lines []*answer.CardLine) {
	if len(lines) == 0 {
		return
	}
	var items []string
	for _, l := range lines {
		from := Safe(l.From.String())
		column := l.Value == nil || l.Value.Type.Of != nil
		item := Safe(l.Name) + " = "
		switch {
		case column && from != "":
			item += from
		case from != "":
			item += p.Value(l.Value) + " (from " + from + ")"
		default:
			item += p.Value(l.Value)
		}
		if l.State == answer.Assumed {
			item += " (" + p.paint(p.warn, "assumed") + ")"
		}
		items = append(items, item)
	}
	p.items(p.indent+"  ", heading, items)
}

// unsettled counts in words the inputs that are not the user's own yet.
func unsettled(c *answer.Card) string {
	if n := c.Unsettled; n > 0 {
		return fmt.Sprintf(", %d of %d not yet yours", n, len(c.Asks))
	}
	return ""
}

// marks says in words what there is to know of an input: where its value comes
// from, and whether it lies where the sheet is good for.
func (p *Printer) marks(l *answer.CardLine) string {
	var marks []string
	switch l.State {
	case answer.Default:
		marks = append(marks, p.paint(p.warn, "default")+", not yet yours")
	case answer.Assumed:
		marks = append(marks, p.paint(p.warn, "assumed")+", not yet yours")
	}
	if !l.From.IsZero() {
		marks = append(marks, "from "+Safe(l.From.String()))
	}
	if l.Outside {
		marks = append(marks, p.paint(p.warn, "outside")+" "+p.ranged(l)+", what the sheet is good for")
	}
	if len(marks) == 0 {
		return ""
	}
	return " (" + strings.Join(marks, "; ") + ")"
}

// ranged is the range that an input is good for.
func (p *Printer) ranged(l *answer.CardLine) string { return l.Range.Spelled(p.expr) }
