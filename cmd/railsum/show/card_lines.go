package show

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/answer"
)

// longValue is the widest value that the column of meanings makes room for.
const longValue = 18

// tells writes the answers of a card, as many as have a row each, and names the
// others in one row. Single values stand in three columns, the columns of a table
// side by side.
func (p *Printer) tells(c *answer.Card, g give) {
	shown, rest := c.Gives, []answer.CardLine(nil)
	if len(c.Show) > 0 {
		shown = nil
		for _, name := range c.Show {
			for _, l := range c.Gives {
				if l.Name == name {
					shown = append(shown, l)
				}
			}
		}
	} else if len(shown) > g.answers {
		shown, rest = shown[:g.answers], shown[g.answers:]
	}
	failing := failingRows(c)
	wide := p.columnsOf(shown)
	for len(shown) > 0 {
		n := 1
		if of := tableOf(&shown[0]); of != "" {
			n = p.abreast(shown, of)
			p.cardTable(shown[:n], failing, g.rows)
		} else if len(c.Show) > 0 && len(shown[0].Columns) > 0 {
			p.threeColumns(shown[:n], wide, g.meanings)
			p.columns(shown[0].Columns, p.indent+"    ", failing)
		} else {
			for n < len(shown) && tableOf(&shown[n]) == "" && (n == 0 || len(c.Show) == 0 || len(shown[n].Columns) == 0) {
				n++
			}
			p.threeColumns(shown[:n], wide, g.meanings)
		}
		shown = shown[n:]
	}
	if len(rest) == 0 {
		return
	}
	var names []string
	for i := range rest {
		names = append(names, Safe(rest[i].Name))
	}
	in := p.indent + "  "
	if g.names {
		p.row(in + "and " + more(len(names)))
		return
	}
	p.items(in+"and "+more(len(names))+": ", in+"  ", names)
}

// tableOf names the table whose rows an answer has, empty for a single value.
func tableOf(l *answer.CardLine) string {
	if l.Value == nil || l.Value.Type.Of == nil {
		return ""
	}
	return l.Value.Type.Of.Name
}

// abreast counts the answers at the beginning that are columns of one table and
// have room side by side, one at least.
func (p *Printer) abreast(lines []answer.CardLine, of string) int {
	if p.spoken() {
		return 1
	}
	total := 0
	for _, label := range lines[0].Value.Type.Of.Labels {
		total = max(total, width(Safe(label)))
	}
	total += len(p.indent) + 2
	for n := range lines {
		v := lines[n].Value
		if tableOf(&lines[n]) != of {
			return n
		}
		wide := width(Safe(lines[n].Name))
		for i := range v.Rows() {
			wide = max(wide, width(p.Cell(v, i)))
		}
		if total += len(gap) + wide; total > p.Width {
			return max(1, n)
		}
	}
	return len(lines)
}

// cardTable writes columns of a table, the rows that fail first, so many at most.
func (p *Printer) cardTable(columns []answer.CardLine, failing map[string]bool, most int) {
	v := columns[0].Value
	n := v.Rows()
	var rows, bad []int
	for r := range n {
		if failing[v.Label(r)] || v.Fault(r) != "" && v.Fault(r) != answer.None {
			bad = append(bad, r)
		} else {
			rows = append(rows, r)
		}
	}
	rows = append(bad, rows...)
	if len(rows) > most {
		rows = rows[:most]
	}
	in := p.indent + "  "
	if p.spoken() { // the head of a single column is not told there
		p.wrapped(in, joined(Safe(columns[0].Name), Safe(columns[0].Meaning)))
		in += "  "
	}
	p.columnRows(columns, in, rows)
	if left := n - len(rows); left > 0 {
		text := "and " + count(left, "more row", "more rows")
		if hidden := len(bad) - len(rows); hidden > 0 {
			text += ", of which " + count(hidden, "fails", "fail")
		}
		p.row(in + text)
	}
}

// columnsOf is how wide the columns of names and values are for single values.
func (p *Printer) columnsOf(lines []answer.CardLine) (wide [2]int) {
	for i := range lines {
		if tableOf(&lines[i]) == "" {
			wide[0] = max(wide[0], width(Safe(lines[i].Name)))
			if w := width(p.valueOf(&lines[i])); w <= longValue {
				wide[1] = max(wide[1], w)
			}
		}
	}
	return wide
}

// threeColumns writes single values: name, value, meaning. A meaning that is to
// be cut has one row.
func (p *Printer) threeColumns(lines []answer.CardLine, wide [2]int, cut bool) {
	in := p.indent + "  "
	names, values := wide[0], wide[1]
	for i := range lines {
		name, text, meaning := Safe(lines[i].Name), p.valueOf(&lines[i]), Safe(lines[i].Meaning)
		if p.Stacked {
			p.wrapped(in, joined(name+": "+text, meaning))
			continue
		}
		lead := in + pad(name, names+2) + p.answer(text) + strings.Repeat(" ", max(0, values-width(text)))
		room := p.Width - width(lead) - 2
		switch {
		case width(in)+names+2+width(text) > p.Width:
			p.hanging(in+pad(name, names+2), in+"  ", text)
		case meaning == "":
			p.row(strings.TrimRight(lead, " "))
		case p.slim():
			p.row(strings.TrimRight(lead, " "))
			p.row(in + "  " + p.shortened(meaning, p.Width-width(in)-2))
		case cut && room < shortest:
			p.row(strings.TrimRight(lead, " "))
		case cut:
			p.row(lead + "  " + p.shortened(meaning, room))
		default:
			p.hanging(lead+"  ", in+strings.Repeat(" ", names+2+values+2), meaning)
		}
	}
}

// shortest is the least room that a meaning is cut down to.
const shortest = 12

// shortened cuts a text to so many columns: where a part of it ends, if that says
// enough, else between words.
func (p *Printer) shortened(text string, room int) string {
	if width(text) <= room {
		return text
	}
	for _, end := range []string{"; ", ": "} {
		if head, _, more := strings.Cut(text, end); more && width(head) <= room && width(head) >= shortest {
			return head
		}
	}
	cut := ""
	for _, word := range pieces(text) {
		if width(cut)+width(word)+1+width(p.dots()) > room {
			break
		}
		cut += word + " "
	}
	return strings.TrimRight(cut, " ,;:") + p.dots()
}

// valueOf is what stands in the column of values.
func (p *Printer) valueOf(l *answer.CardLine) string {
	switch {
	case l.Value != nil:
		return p.plainly(l.Value)
	case len(l.Columns) > 0 && l.Columns[0].Value != nil:
		return count(l.Columns[0].Value.Rows(), "row", "rows")
	}
	return "no answer"
}

// inputs writes the paragraphs of a card's inputs: what the user has set, what
// others tell, what the sheet asks for and nobody has set, what it takes for
// granted.
func (p *Printer) inputs(c *answer.Card, oneRow bool) {
	all := paragraphs(c)
	wide := leadWidth
	for _, of := range all {
		wide = max(wide, width(of.short())+2)
	}
	for _, of := range all {
		var items []string
		for _, l := range of.inputs {
			item := Safe(l.Name) + " " + p.valueOf(&l)
			if l.State != answer.Default && l.State != answer.Agreed {
				item += p.from(&l)
			}
			items = append(items, item)
		}
		p.inputRow(of.short(), wide, items, oneRow)
	}
}

// A paragraph is the inputs of a card that are alike in where they come from.
type paragraph struct {
	heading string
	inputs  []answer.CardLine
}

const (
	yours    = "yours"
	agreed   = "agreed"
	defaults = "still the default"
	granted  = "taken for granted"
	ownRows  = "by row"
)

// short is the heading on a card that fits a screen.
func (p *paragraph) short() string {
	switch p.heading {
	case defaults:
		return "default"
	case granted:
		return "granted"
	}
	return p.heading
}

// paragraphs puts the inputs of a card together, those that somebody has seen to
// first.
func paragraphs(c *answer.Card) []paragraph {
	all := []paragraph{{heading: yours}, {heading: agreed}, {heading: defaults}, {heading: granted}}
	put := func(heading string, l answer.CardLine) {
		i := slices.IndexFunc(all, func(p paragraph) bool { return p.heading == heading })
		if i < 0 { // told by others: behind the user's own
			i = len(all) - 3
			all = slices.Insert(all, i, paragraph{heading: heading})
		}
		all[i].inputs = append(all[i].inputs, l)
	}
	for _, l := range c.Asks {
		switch {
		case l.State == answer.From:
			of, _ := l.Told()
			put("from "+Safe(of), l)
		case l.State == answer.Agreed:
			put(agreed, l)
		case l.State != answer.Default:
			put(yours, l)
		case l.Granted:
			put(granted, l)
		default:
			put(defaults, l)
		}
		for _, row := range l.Rows {
			row.Name = l.Name + " at " + row.Name
			put(ownRows, row)
		}
	}
	return slices.DeleteFunc(all, func(p paragraph) bool { return len(p.inputs) == 0 })
}

// from says where the value of an input comes from that somebody has set.
func (p *Printer) from(l *answer.CardLine) string {
	text := ""
	if from := p.fromText(l); from != "" {
		text = " (" + from + ")"
	}
	if l.State == answer.Assumed {
		text += " (" + p.paint(p.warn, "assumed") + ")"
	}
	return text
}

func (p *Printer) fromText(l *answer.CardLine) string {
	switch {
	case l.From.IsZero():
		return ""
	case l.State == answer.From: // the heading says from what
		if _, name := l.Told(); name != l.Name {
			return "its " + Safe(name)
		}
		return ""
	}
	return "from " + Safe(l.From.String())
}

// leadWidth is the room for the headings of inputs, the blanks behind included.
const leadWidth = 9

// inputRow writes one paragraph of inputs behind its heading; what does not fit into its one row is
// counted.
func (p *Printer) inputRow(heading string, wide int, items []string, oneRow bool) {
	in := p.indent + "  "
	lead, further := in+pad(heading, wide), in+strings.Repeat(" ", wide)
	if p.slim() {
		lead, further = in+heading+": ", in+"  "
	}
	if oneRow {
		total := width(lead)
		for i, item := range items {
			left := 0
			if i < len(items)-1 {
				left = width(" and 99 more")
			}
			if total+width(item)+1+left > p.Width && i > 0 {
				items = append(items[:i:i], "and "+more(len(items)-i))
				break
			}
			total += width(item) + 2
		}
	}
	p.items(lead, further, items)
}

func more(n int) string { return fmt.Sprintf("%d more", n) }

// hazards writes what can hurt; short, without what to do about it, one behind
// the other.
func (p *Printer) hazards(c *answer.Card, short bool) {
	var texts []string
	for _, h := range c.Hazards {
		if short {
			h = shortHazard(h)
		}
		texts = append(texts, Safe(h))
	}
	if short {
		texts = []string{strings.Join(once(texts), " ")}
	}
	for _, text := range texts {
		p.wrapped(p.indent+"  ", text)
	}
}

// once leaves out of texts the sentences that another has said.
func once(texts []string) []string {
	told := map[string]bool{}
	var all []string
	for _, text := range texts {
		for _, s := range strings.SplitAfter(text, ". ") {
			if s = strings.TrimSpace(s); !told[s] {
				told[s] = true
				all = append(all, s)
			}
		}
	}
	return all
}

// shortHazard leaves out of each sentence what stands behind its colon, if that
// leaves a sentence.
func shortHazard(text string) string {
	sentences := strings.SplitAfter(text, ". ")
	for i, s := range sentences {
		head, _, more := strings.Cut(s, ": ")
		if more && len(strings.Fields(head)) >= 4 {
			sentences[i] = head + ". "
		}
	}
	return strings.TrimSpace(strings.Join(sentences, ""))
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

func joined(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	}
	return a + ", " + b
}
