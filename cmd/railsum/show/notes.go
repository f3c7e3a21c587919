package show

import (
	"slices"
	"strings"

	"railsum/calc"
)

// SheetNotes writes the hazards and the sources of all sheets in use, each text
// once: by sheet, with the other sheets that say the same. A hazard that not
// every card of its sheet has, since it depends on the inputs, names its cards.
func (p *Printer) SheetNotes(answers []*calc.Answer) {
	p.notes("hazards", answers, func(c *calc.Card) []string { return c.Hazards })
	p.notes("sources", answers, func(c *calc.Card) []string { return c.Sources })
}

// note is a text that stands on cards.
type note struct {
	text  string
	cards []*calc.Card
}

func (p *Printer) notes(heading string, answers []*calc.Answer, of func(*calc.Card) []string) {
	var sheets []string
	placed := map[string]int{} // how many cards a sheet has
	var notes []*note
	known := map[string]*note{}
	for _, a := range answers {
		for _, c := range a.Cards {
			sheet := sheetName(c)
			if placed[sheet]++; placed[sheet] == 1 {
				sheets = append(sheets, sheet)
			}
			for _, text := range of(c) {
				n := known[text]
				if n == nil {
					n = &note{text: text}
					known[text] = n
					notes = append(notes, n)
				}
				n.cards = append(n.cards, c)
			}
		}
	}
	if len(notes) == 0 {
		return
	}
	p.Blank()
	p.Heading("%s", heading)
	for _, sheet := range sheets {
		first := true
		for _, n := range notes {
			if sheetName(n.cards[0]) != sheet {
				continue
			}
			if first {
				p.wrapped("  ", p.paint(p.head, Safe(sheet)))
				first = false
			}
			p.wrapped("    ", Safe(n.text+n.where(sheet, placed)))
		}
	}
}

func sheetName(c *calc.Card) string {
	if c.Sheet == nil {
		return ""
	}
	return c.Sheet.Name
}

// where says on which cards a text stands, if not on all of its sheet alone.
func (n *note) where(sheet string, placed map[string]int) string {
	var names, others []string
	mine := 0
	for _, c := range n.cards {
		switch s := sheetName(c); {
		case s == sheet:
			mine++
			names = append(names, c.Name)
		case !slices.Contains(others, s):
			others = append(others, s)
		}
	}
	var parts []string
	names = slices.DeleteFunc(names, func(s string) bool { return s == "" })
	if mine < placed[sheet] && len(names) > 0 {
		parts = append(parts, "for "+strings.Join(names, ", "))
	}
	if len(others) > 0 {
		parts = append(parts, "also of "+strings.Join(others, ", "))
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, "; ") + ")"
}
