package show

import (
	"railsum/calc/answer"
)

// cardRules writes the rules of a card: the sheet's own first, then those of its
// pieces, of which only what is not clear is told.
func (p *Printer) cardRules(c *answer.Card, f CardForm) {
	if len(c.Rules) == 0 {
		return
	}
	p.block("checks")
	own, pieces, told := 0, 0, 0
	for _, piece := range []bool{false, true} {
		for i := range c.Rules {
			j := &c.Rules[i]
			switch {
			case (j.Piece != "") != piece:
			case j.Verdict == answer.Clear && piece:
				pieces++
			case j.Verdict == answer.Clear && f.Short:
				own++
			default:
				p.cardRule(j, f)
				told++
			}
		}
	}
	if own+pieces > 0 {
		p.wrapped(p.indent+"  ", clearRules(own, pieces, told > 0)+", "+p.Verdict(answer.Clear))
	}
}

// clearRules counts the rules that need not be told.
func clearRules(own, pieces int, more bool) string {
	text := ""
	switch {
	case own == 0:
		text = count(pieces, "check", "checks") + " of its pieces"
	case pieces == 0:
		text = count(own, "check", "checks")
	default:
		text = count(own, "check", "checks") + " and " + count(pieces, "of its pieces", "of its pieces")
	}
	if more {
		return "and " + text
	}
	return text
}

// failingRows are the labels of the rows for which a rule of a card does not
// hold.
func failingRows(c *answer.Card) map[string]bool {
	failing := map[string]bool{}
	for i := range c.Rules {
		for _, label := range c.Rules[i].Fails {
			failing[label] = true
		}
	}
	return failing
}

// cardRule writes one rule: its meaning, the verdict, the piece it belongs to,
// the condition and what decided. A rule that is clear leaves its meaning out,
// and so does one that only follows from an error: sheets say there what is
// wrong when the rule does not hold, and how to mend it.
func (p *Printer) cardRule(j *answer.Judged, f CardForm) {
	meaning, because := j.Meaning, p.because(j)
	if f.Bare {
		because = p.decided(j)
	}
	if j.Verdict == answer.Clear || j.Follows {
		meaning = ""
	}
	p.meant(meaning, p.Verdict(j.Verdict)+", "+ruleOf(j.Piece, j.Cond, j.Must)+because)
}
