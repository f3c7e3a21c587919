package show

import (
	"strings"

	"railsum/calc/hear"
	"railsum/calc/syntax"
)

// Heard writes what a line was heard as, above its answer.
func (p *Printer) Heard(h *hear.Heard) {
	said := ""
	if len(h.Said) > 0 {
		said = "  (" + strings.Join(h.Said, "; ") + ")"
	}
	p.hanging(p.paint(p.faint, "heard:")+" ", "  ", Safe(h.Text()+said))
}

// Unheard writes why a line was not taken, and what to type for it: what it may
// mean, the correction that is certain, the sheets that are about it, or what a
// name alone stands for.
func (p *Printer) Unheard(line *syntax.Line, h *hear.Heard) {
	switch {
	case len(h.Readings) > 0:
		p.unheard(line, h.Message)
		for _, r := range h.Readings {
			p.Entry(r.Line, r.Value, p.forms(h))
		}
	case h.Correction != "":
		p.unheard(line, "not understood: "+mistakes(h.Mistakes))
		p.hanging("  ", "    ", Safe(h.Correction))
	case h.Faults != nil:
		p.Say("%s", line.Raw)
		p.Say("heard: %s", h.Tried.Raw)
		for _, d := range h.Faults {
			p.Complaint(h.Tried, d)
		}
	case len(h.Named)+len(h.Proposals) > 0:
		for _, n := range h.Named {
			if n.Kind != "sheet" || len(h.Proposals) == 0 || h.Proposals[0].Sheet != n.Name {
				p.named(n)
			}
		}
		if len(h.Unknown) > 0 && len(h.Proposals) > 0 {
			p.Say("not understood: %s", strings.Join(h.Unknown, ", "))
		}
		for i := range h.Proposals {
			p.proposal(&h.Proposals[i])
		}
	case h.Message != "":
		p.unheard(line, h.Message)
	}
}

func (p *Printer) unheard(line *syntax.Line, message string) {
	p.Line(line)
	p.coloured(p.bad, Safe(Sentence(message)))
}

// forms is the column at which the values of readings stand.
func (p *Printer) forms(h *hear.Heard) int {
	wide := 0
	for _, r := range h.Readings {
		wide = max(wide, width(r.Line)+2)
	}
	return min(wide+1, p.Width/2)
}

// mistakes says what was corrected: "votls is volts".
func mistakes(ms []hear.Mistake) string {
	var words []string
	for _, m := range ms {
		words = append(words, m.Typed+" may be "+m.Meant)
	}
	return strings.Join(words, ", ")
}

// named writes the help line of what a name alone stands for.
func (p *Printer) named(n hear.Entry) {
	article := "a "
	if strings.ContainsAny(n.Kind[:1], "aeiou") {
		article = "an "
	}
	more := ""
	switch n.Kind {
	case "sheet", "function", "table", "unit":
		more = "; `about " + n.Name + "` says more"
	}
	p.Say("%s is %s%s: %s", n.Name, article, n.Kind, n.Meaning)
	p.hanging("  ", "    ", Safe(n.Form+more))
}

// proposal writes a sheet filled in, and what of it wants a look.
func (p *Printer) proposal(s *hear.Proposal) {
	p.hanging("", "  ", Safe(s.Sheet+": "+s.Meaning))
	p.hanging("  ", "    ", p.paint(p.head, Safe(s.Line)))
	if len(s.ByOrder) > 0 {
		p.Say("    by order: check %s", strings.Join(s.ByOrder, ", "))
	}
	if len(s.Left) > 0 {
		p.Say("    not placed: %s", strings.Join(s.Left, ", "))
	}
	if len(s.Chosen) > 0 {
		p.Say("    %s unless you say otherwise", strings.Join(s.Chosen, ", "))
	}
}
