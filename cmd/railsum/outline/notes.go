package outline

import (
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
)

// Note is a text that stands on cards: with the sheet it is told under, the
// cards of that sheet that have it, if not all of them do, and the other sheets
// that say the same.
type Note struct {
	Text  string
	Sheet string
	Cards []string // names of all cards that have it
	For   []string // names of the cards of its sheet that have it, if others do not
	Also  []string // other sheets that say the same
}

// Where says in words which cards a note is of, empty if of all of its sheet.
func (n *Note) Where() string {
	var parts []string
	if len(n.For) > 0 {
		parts = append(parts, "for "+strings.Join(n.For, ", "))
	}
	if len(n.Also) > 0 {
		parts = append(parts, "also of "+strings.Join(n.Also, ", "))
	}
	return strings.Join(parts, "; ")
}

// notes gathers the texts of all cards, each once, by sheet.
func notes(answers []*calc.Answer, of func(*answer.Card) []string) []*Note {
	var sheets []string
	placed := map[string]int{} // how many cards a sheet has
	mine := map[*Note]int{}    // how many of its sheet's cards a note stands on
	var all []*Note
	known := map[string]*Note{}
	for _, a := range answers {
		for _, c := range a.Cards {
			if placed[c.Sheet]++; placed[c.Sheet] == 1 {
				sheets = append(sheets, c.Sheet)
			}
			for _, text := range of(c) {
				n := known[text]
				if n == nil {
					n = &Note{Text: text, Sheet: c.Sheet}
					known[text] = n
					all = append(all, n)
				}
				if c.Name != "" {
					n.Cards = append(n.Cards, c.Name)
				}
				switch {
				case c.Sheet != n.Sheet && !slices.Contains(n.Also, c.Sheet):
					n.Also = append(n.Also, c.Sheet)
				case c.Sheet == n.Sheet:
					mine[n]++
					if c.Name != "" {
						n.For = append(n.For, c.Name)
					}
				}
			}
		}
	}
	for _, n := range all {
		if mine[n] == placed[n.Sheet] {
			n.For = nil
		}
	}
	slices.SortStableFunc(all, func(a, b *Note) int {
		return slices.Index(sheets, a.Sheet) - slices.Index(sheets, b.Sheet)
	})
	return all
}
