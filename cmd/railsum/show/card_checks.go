package show

import (
	"fmt"
	"math"
	"strings"

	"railsum/calc/answer"
)

// found is something that keeps a card from being clear: a check that does not
// hold, an input outside its range, or what has no answer.
type found struct {
	verdict answer.Verdict
	text    string
	cure    string
}

// findings are the reasons of a card's verdict, each once: dangers and what has
// no verdict, then cautions.
func (p *Printer) findings(c *answer.Card) (dangers, cautions []found) {
	var bad, unknown []found
	whys := map[string]bool{}
	for i := range c.Rules {
		j := &c.Rules[i]
		if j.Verdict <= answer.Clear {
			continue
		}
		f := found{j.Verdict, p.checked(j), Safe(j.Cure)}
		switch j.Verdict {
		case answer.Danger:
			bad = append(bad, f)
		case answer.Caution:
			cautions = append(cautions, f)
		default:
			whys[j.Why] = true
			if !j.Follows || len(unknown) == 0 {
				f.cure = ""
				unknown = append(unknown, f)
			}
		}
	}
	for i := range c.Asks {
		switch l := &c.Asks[i]; {
		case l.Outside:
			cautions = append(cautions, found{answer.Caution, p.beyond(l), ""})
		case l.Why != "":
			unknown = append(unknown, found{answer.NoVerdict, Safe(l.Name) + ": " + Safe(l.Why), ""})
		}
	}
	for i := range c.Gives {
		l := &c.Gives[i]
		why := l.Why
		if l.Value != nil {
			why = firstFault(l.Value)
		}
		if why != "" && !whys[why] {
			whys[why] = true
			unknown = append(unknown, found{answer.NoVerdict, Safe(l.Name + " has no answer: " + why), ""})
		}
	}
	return append(bad, unknown...), cautions
}

// firstFault is why the first row without an answer has none.
func firstFault(v *answer.Value) string {
	for row := range v.Rows() {
		if why := v.Fault(row); why != "" && why != answer.None {
			return why
		}
	}
	return ""
}

// checked is a check in words: what it says as it is judged, with the figures
// that decided.
func (p *Printer) checked(j *answer.Judged) string {
	text := Safe(j.Sentence())
	if text == "" {
		text = p.ruled(j)
		if j.Verdict != answer.NoVerdict && j.Verdict > answer.Clear {
			text += " does not hold"
		}
	}
	if why := p.decided(j); why != "" {
		text += ": " + why
	}
	return text
}

// ruled is a rule as it is typed.
func (p *Printer) ruled(j *answer.Judged) string {
	return Safe(j.Must.String()) + " " + p.expr(j.Cond.Expr)
}

// allCures is more cures than a card has.
const allCures = math.MaxInt

// reasons writes some of a card's findings, each verdict in front of its sentence
// and the cure below it, of so many of them all.
func (p *Printer) reasons(all []found, from, to int, most int) {
	label := 0
	for _, f := range all {
		label = max(label, width(f.verdict.String())+2)
	}
	in := p.indent + "  "
	further := in + strings.Repeat(" ", label)
	cures := 0
	for i, f := range all {
		lead := in + pad(p.Verdict(f.verdict), label)
		if p.slim() {
			lead, further = in+p.Verdict(f.verdict)+": ", in+"  "
		}
		if i >= from && i < to {
			p.hanging(lead, further, f.text)
		}
		if f.cure == "" {
			continue
		}
		if cures++; i >= from && i < to && cures <= most {
			p.hanging(further, further, f.cure)
		}
	}
}

// holding counts the checks that hold, with what the must says that holds by the
// least, unless they are to be counted alone.
func (p *Printer) holding(c *answer.Card, counted bool) {
	n, chief, least := 0, "", math.Inf(1)
	for i := range c.Rules {
		j := &c.Rules[i]
		if j.Verdict != answer.Clear {
			continue
		}
		n++
		if counted || j.Holds == "" || j.Compared == nil || !bool(j.Must) {
			continue
		}
		if by := j.Compared.Apart(); by < least {
			chief, least = "; "+p.checked(j), by
		}
	}
	if n > 0 {
		p.wrapped(p.indent+"  ", count(n, "check holds", "checks hold")+chief)
	}
}

// decided is what decided a rule's verdict: the values compared, the rows where
// it does not hold, or why there is no verdict.
func (p *Printer) decided(j *answer.Judged) string {
	c := j.Compared
	switch {
	case j.Why != "":
		return Safe(j.Why)
	case len(j.Fails) > 0:
		return p.failing(j)
	case j.Rows > 0 && j.Verdict == answer.Clear:
		text := "in every row (" + count(j.Rows, "row", "rows") + ")"
		if c != nil {
			text += ", nearest " + Safe(c.Row) + ", " + p.compared(c, true)
		}
		return text
	case c != nil:
		return p.compared(c, j.Verdict == answer.Clear)
	}
	return ""
}

// failing names the rows where a rule does not hold, five and then a count, and
// the figures of the worst of them.
func (p *Printer) failing(j *answer.Judged) string {
	const most = 5
	names := make([]string, 0, most)
	for _, name := range j.Fails[:min(most, len(j.Fails))] {
		if strings.Contains(name, ",") {
			name = answer.Quote(name)
		}
		names = append(names, Safe(name))
	}
	text := "for " + strings.Join(names, ", ")
	if more := len(j.Fails) - most; more > 0 {
		text += " and " + count(more, "more row", "more rows")
	}
	switch c := j.Compared; {
	case c == nil:
	case len(j.Fails) > 1:
		text += "; worst " + Safe(c.Row) + ", " + p.compared(c, false)
	default:
		text += ", " + p.compared(c, false)
	}
	return text
}

// compared are two values compared, in words, with as many figures as tell them
// apart.
func (p *Printer) compared(c *answer.Compared, holds bool) string {
	left, right := p.bare(c.Left, 0), p.bare(c.Right, 0)
	if x, y := c.Left.Numbers[0], c.Right.Numbers[0]; left == right && x != y {
		for digits := 5; digits <= 12 && left == right; digits++ {
			left, right = p.figures(c.Left, digits), p.figures(c.Right, digits)
		}
	}
	return Safe(c.Words(holds, left, right))
}

// figures spells a single value with so many digits.
func (p *Printer) figures(v *answer.Value, digits int) string {
	text := fmt.Sprintf("%.*g", digits, v.InUnit(0))
	if !v.Unit.IsZero() {
		text += " " + p.Unit(v.Unit)
	}
	return text
}

// because is what follows the verdict of a rule of the notebook: what it says,
// what decided it, and whether the tolerances were left aside.
func (p *Printer) because(j *answer.Judged) string {
	text := ""
	if s := j.Sentence(); s != "" {
		text = ": " + Safe(s)
	}
	if why := p.decided(j); why != "" {
		text += ": " + why
	}
	if j.Verdict > answer.Clear && j.Cure != "" {
		text += "; " + Safe(j.Cure)
	}
	if !j.Nominal || j.Verdict == answer.NotJudged || j.Why != "" {
		return text
	}
	if text == "" {
		return ": " + nominally
	}
	return text + "; " + nominally
}

const nominally = "judged at nominal values only"

// Rule writes one rule by itself: its verdict and why, and below them the cure.
func (p *Printer) Rule(j *answer.Judged) {
	p.wrapped(p.indent, p.Verdict(j.Verdict)+", "+p.checked(j))
	if j.Verdict > answer.Clear && j.Cure != "" {
		p.hanging(p.indent+"  ", p.indent+"  ", Safe(Sentence(j.Cure)))
	}
}
