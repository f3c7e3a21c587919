package show

import (
	"fmt"

	"railsum/calc/answer"
	"railsum/cmd/railsum/outline"
)

// Verdicts writes the summary of a notebook: its verdict, what is not clear,
// worst first, and the counts.
func (p *Printer) Verdicts(name string, t outline.Tally) {
	p.row(p.paint(p.head, Safe(name)) + ": " + p.Verdict(t.Worst))
	for i := range t.Findings {
		p.finding(&t.Findings[i])
	}
	if t.Elsewhere > 0 {
		p.wrapped("  ", count(t.Elsewhere, "finding", "findings")+" on other lines")
	}
	p.wrapped("  ", t.Words())
	if t.Nominal > 0 {
		p.wrapped("  ", count(t.Nominal,
			"rule was judged at nominal values only; `spread NAME` shows in what share of cases it holds",
			"rules were judged at nominal values only; `spread NAME` shows in what share of cases they hold"))
	}
}

// Summary writes a row for each of several notebooks, and what they come to.
func (p *Printer) Summary(all []*outline.Outline) {
	worst := answer.NotJudged
	for _, o := range all {
		worst = max(worst, o.Tally.Worst)
	}
	p.row(p.paint(p.head, count(len(all), "notebook", "notebooks")) + ": " + p.Verdict(worst))
	for _, o := range all {
		p.wrapped("  ", Safe(o.Name)+": "+p.Verdict(o.Tally.Worst)+"; "+o.Tally.Words())
	}
	p.Blank()
}

func (p *Printer) finding(f *outline.Finding) {
	at := fmt.Sprintf(", line %d", f.Row)
	if f.Card != "" {
		at += ", " + Safe(f.Card)
	}
	switch {
	case f.Input != nil:
		p.wrapped("  ", p.Verdict(answer.Caution)+at+": "+p.beyond(f.Input))
		return
	case f.Lapsed != nil:
		p.wrapped("  ", p.Verdict(answer.Caution)+at+": "+Safe(f.Lapsed.Sentence()))
		return
	case f.Rule == nil:
		p.wrapped("  ", p.paint(p.bad, "in error")+at+": "+Safe(f.Problem))
		return
	}
	p.wrapped("  ", p.Verdict(f.Rule.Verdict)+at+": "+p.checked(f.Rule))
}

// beyond says that an input lies outside its range.
func (p *Printer) beyond(l *answer.CardLine) string {
	return Safe(l.Name) + " = " + p.Value(l.Value) + " lies outside " + p.ranged(l) + ", what the sheet is good for"
}
