package show

import (
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/types"
	"railsum/units"
)

// Card writes a sheet in use as a stack of blocks: what it asks, what it
// gives, its rules, hazards and sources.
func (p *Printer) Card(c *calc.Card) {
	p.cardTitle(c)
	if len(c.Asks) > 0 {
		p.block("asks" + unsettled(c))
		for i := range c.Asks {
			p.cardLine(&c.Asks[i], p.marks(&c.Asks[i]))
		}
	}
	if len(c.Gives) > 0 {
		p.block("gives")
		for i := range c.Gives {
			p.cardLine(&c.Gives[i], "")
		}
	}
	if len(c.Rules) > 0 {
		p.block("rules")
		for i := range c.Rules {
			p.cardRule(&c.Rules[i])
		}
	}
	p.texts("hazards", c.Hazards)
	p.texts("sources", c.Sources)
}

func (p *Printer) cardTitle(c *calc.Card) {
	title := ""
	if c.Sheet != nil {
		title = c.Sheet.Name
	}
	if c.Name != "" {
		title += " for " + c.Name
	}
	title = p.paint(p.head, Safe(title))
	if len(c.Rules) > 0 {
		title += ": " + p.Verdict(c.Verdict)
	}
	p.row(p.indent + title)
	if c.Sheet == nil {
		return
	}
	about := c.Sheet.Meaning
	switch {
	case c.Sheet.Own:
		about = joined(about, "a sheet of your own")
	case c.Sheet.Edition > 0:
		about = joined(about, fmt.Sprintf("edition %d", c.Sheet.Edition))
	}
	p.wrapped(p.indent, Safe(about))
}

// unsettled counts in words the inputs that are not the user's own yet.
func unsettled(c *calc.Card) string {
	if n := c.Unsettled(); n > 0 {
		return fmt.Sprintf(", %d of %d not yet yours", n, len(c.Asks))
	}
	return ""
}

func (p *Printer) block(heading string) { p.row(p.indent + p.paint(p.head, heading)) }

// cardLine writes one input or answer: its meaning, then name = value.
func (p *Printer) cardLine(l *calc.CardLine, marks string) {
	name := Safe(l.Name)
	switch {
	case len(l.Columns) > 0:
		p.meant(l.Meaning, name+marks)
		p.columns(l.Columns, p.indent+standIn)
	case l.Value == nil:
		why := Safe(l.Why)
		if why != "" {
			why = ": " + why
		}
		p.meant(l.Meaning, name+" has "+p.paint(p.none, "no answer")+why+marks)
	case l.Value.Type.Of != nil:
		p.meant(l.Meaning, name+marks)
		p.Column(l.Value, p.indent+standIn)
	default:
		p.meant(l.Meaning, name+" = "+p.Cell(l.Value, 0)+marks)
	}
}

// marks says in words what there is to know of an input: where its value comes
// from, and whether it lies where the sheet is good for.
func (p *Printer) marks(l *calc.CardLine) string {
	var marks []string
	switch l.State {
	case calc.Default:
		marks = append(marks, p.paint(p.warn, "default")+", not yet yours")
	case calc.Assumed:
		marks = append(marks, p.paint(p.warn, "assumed")+", not yet yours")
	}
	if l.From != "" {
		marks = append(marks, "from "+Safe(l.From))
	}
	if l.Outside {
		marks = append(marks, p.paint(p.warn, "outside")+" "+Safe(l.Range)+", what the sheet is good for")
	}
	if len(marks) == 0 {
		return ""
	}
	return " (" + strings.Join(marks, "; ") + ")"
}

// columns writes the columns of one table side by side.
func (p *Printer) columns(columns []calc.CardLine, indent string) {
	heads := []string{""}
	var of *types.Table
	n := 0
	for i := range columns {
		heads = append(heads, Safe(columns[i].Name))
		if v := columns[i].Value; v != nil {
			n = max(n, Rows(v))
			of = v.Type.Of
		}
	}
	rows := make([][]string, n)
	for r := range rows {
		rows[r] = []string{""}
		if of != nil && r < len(of.Labels) {
			rows[r][0] = of.Labels[r]
		}
		for i := range columns {
			text := "no answer"
			if v := columns[i].Value; v != nil {
				text = p.Cell(v, r)
			}
			rows[r] = append(rows[r], text)
		}
	}
	if n == 0 {
		p.row(indent + "no rows")
		return
	}
	p.table(heads, rows, nil, indent)
}

// cardRule writes one rule: its meaning, the verdict, the condition and what
// decided. A rule that is clear leaves its meaning out: sheets say there what
// is wrong when the rule does not hold, and how to mend it.
func (p *Printer) cardRule(j *calc.Judged) {
	meaning := j.Meaning
	if j.Verdict == calc.Clear {
		meaning = ""
	}
	p.meant(meaning, p.Verdict(j.Verdict)+", "+Safe(RuleText(j))+p.because(j))
}

// RuleText is a rule as it is typed.
func RuleText(j *calc.Judged) string {
	if j.Must {
		return "must " + j.Text
	}
	return "should " + j.Text
}

// meant writes a row of a card, the meaning first; where the two do not fit
// into one row, the rest goes below.
func (p *Printer) meant(meaning, rest string) {
	meaning = Safe(meaning)
	in := p.indent + "  "
	switch {
	case meaning == "":
		p.wrapped(in, rest)
	case width(in)+width(meaning)+2+width(rest) <= p.Width:
		p.row(in + meaning + ": " + rest)
	default:
		p.wrapped(in, meaning+":")
		p.wrapped(in+"  ", rest)
	}
}

func (p *Printer) texts(heading string, texts []string) {
	if len(texts) == 0 {
		return
	}
	p.block(heading)
	for _, t := range texts {
		p.wrapped(p.indent+"  ", Safe(t))
	}
}

// wrapped writes a text that is safe already in rows no wider than the window,
// broken at blanks only, so that a colour is never torn. What runs over stands
// in by two more.
func (p *Printer) wrapped(in, text string) { p.hanging(in, in+"  ", text) }

func (p *Printer) hanging(in, further, text string) {
	if text == "" {
		return
	}
	row := in
	for i, word := range pieces(text) {
		switch {
		case i == 0:
			row += word
		case width(row)+1+width(word) > p.Width:
			p.row(row)
			row = further + word
		default:
			row += " " + word
		}
	}
	p.row(row)
}

// pieces are the words of a text; a number stays with its unit.
func pieces(text string) []string {
	words := strings.Split(text, " ")
	all := words[:1]
	for _, word := range words[1:] {
		before := &all[len(all)-1]
		if endsInNumber(*before) && startsWithUnit(word) {
			*before += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}

func endsInNumber(word string) bool {
	word = strings.TrimLeft(word, "(+-")
	return word != "" && word[0] >= '0' && word[0] <= '9' && word[len(word)-1] >= '0' && word[len(word)-1] <= '9'
}

func startsWithUnit(word string) bool {
	word = strings.TrimRight(word, "),;:.")
	_, err := units.Parse(word)
	return word != "" && err == nil
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
