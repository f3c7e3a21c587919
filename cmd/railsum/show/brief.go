package show

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
)

// briefRows is how many rows a notebook has in brief where it goes to no terminal.
const briefRows = screenRows

// fewestShown is how many rows of answers there is room for, however much is not
// clear.
const fewestShown = 4

// brief writes a notebook as a screen: its verdict, what is not clear, a row each,
// then a row for each card, question and value, as many as there is room for.
type brief struct {
	*Printer
	most  int
	begun bool
	rows  []briefRow
	open  *outline.Outline
}

// briefRow is one row of answers. What has a lower rank is shown before others.
type briefRow struct {
	row, rank int
	text      string
}

const (
	rankCard = iota
	rankQuestion
	rankValue
)

// Brief is a writer of notebooks that fit a screen each.
func (p *Printer) Brief() outline.Files {
	most := briefRows
	if p.Terminal && p.High > 0 {
		most = p.High - 2
	}
	return &brief{Printer: p, most: most}
}

func (b *brief) Begin(o *outline.Outline) {
	if b.begun {
		b.Blank()
	}
	b.begun, b.rows, b.open = true, nil, o
}

func (b *brief) add(l *syntax.Line, rank int, text string) {
	b.rows = append(b.rows, briefRow{l.Row, rank, text})
}

func (b *brief) Each(*syntax.Line)                          {}
func (b *brief) Heading(*outline.Item, *outline.Heading)    {}
func (b *brief) Prose(*outline.Item, *outline.Prose)        {}
func (b *brief) Verdict(*outline.Item, *outline.Verdict)    {} // the findings and the counts say it
func (b *brief) Fault(*outline.Item, *outline.Fault)        {} // likewise
func (b *brief) Hazard(*outline.Item, *outline.Hazard)      {}
func (b *brief) Source(*outline.Item, *outline.Source)      {}
func (b *brief) Heard(*outline.Item, *outline.Heard)        {}
func (b *brief) Working(i *outline.Item, s *answer.Working) { b.Study(i, s) }
func (b *brief) Unread(string, string, string)              {} // standard error says why
func (b *brief) Close() error                               { return nil }

// Study says what a study found where that is short: the facts of a find.
func (b *brief) Study(i *outline.Item, s answer.Study) {
	if s.Word() != "find" {
		return
	}
	var facts []string
	for f := range s.Facts() {
		switch {
		case f.Turn || f.Label == "from" || f.Label == "to":
		case f.Value != nil:
			facts = append(facts, Safe(f.Label)+" "+b.Value(f.Value))
		case f.Text != "":
			facts = append(facts, Safe(strings.TrimSpace(f.Label+" "+f.Text)))
		}
	}
	b.add(i.Line, rankQuestion, Safe(strings.TrimSpace(i.Line.Raw))+": "+strings.Join(facts, ", "))
}

func (b *brief) Answer(i *outline.Item, a *outline.Answer) {
	if a.Repeats || a.Value == nil {
		return
	}
	switch n := i.Line.Node.(type) {
	case *syntax.Question:
		b.add(i.Line, rankQuestion, b.expr(n.Expr)+" = "+b.Value(a.Value))
	case *syntax.Define:
		if len(n.Target.Parts) < 2 || a.Value.Column() {
			b.add(i.Line, rankValue, Safe(a.Name)+" = "+b.Value(a.Value))
		}
	}
}

func (b *brief) Card(i *outline.Item, c *outline.Card) {
	text := Safe(c.Sheet)
	if c.Name != "" && c.Name != c.Sheet {
		text = Safe(c.Name) + ", " + text
	}
	text = b.paint(b.head, text)
	if len(c.Rules) > 0 || c.Verdict > answer.Clear {
		text += ": " + b.Printer.Verdict(c.Verdict)
	}
	shown := c.Gives
	if len(c.Show) > 0 {
		shown = slices.DeleteFunc(slices.Clone(shown),
			func(l answer.CardLine) bool { return !slices.Contains(c.Show, l.Name) })
	}
	for k := range shown[:min(3, len(shown))] {
		if v := shown[k].Value; v != nil && !v.Column() {
			text += "; " + Safe(shown[k].Name) + " " + b.Cell(v, 0)
		}
	}
	b.add(i.Line, rankCard, text)
}

// End writes the notebook: what is not clear has room first.
func (b *brief) End(o *outline.Outline) {
	t := o.Tally
	b.row(b.paint(b.head, Safe(o.Name)) + ": " + b.Printer.Verdict(t.Worst))
	left := b.most - 3
	for _, row := range b.wrap("  ", "    ", pieces(t.Words())) {
		b.row(row)
		left--
	}
	findings := len(t.Findings)
	room := max(left-min(fewestShown, len(b.rows)), 1)
	if findings > room {
		findings = room - 1
	}
	for i := range t.Findings[:findings] {
		b.one("  ", b.found(&t.Findings[i]))
		left--
	}
	if more := len(t.Findings) - findings + t.Elsewhere; more > 0 {
		b.one("  ", fmt.Sprintf("and %d more that are not clear: leave out --brief for all", more))
		left--
	}
	b.answers(left)
}

// answers writes the rows of answers that there is room for, in the order of the
// notebook.
func (b *brief) answers(room int) {
	shown := slices.Clone(b.rows)
	slices.SortStableFunc(shown, func(x, y briefRow) int { return x.rank - y.rank })
	if len(shown) > room {
		shown = shown[:max(room-1, 0)]
	}
	slices.SortStableFunc(shown, func(x, y briefRow) int { return x.row - y.row })
	for _, r := range shown {
		b.one("  ", numberOf(r.row)+r.text)
	}
	if more := len(b.rows) - len(shown); more > 0 {
		b.one("  ", count(more, "answer more", "answers more"))
	}
}

func numberOf(row int) string { return strconv.Itoa(row) + ". " }

// one writes a text as one row, cut where there is no more room.
func (p *Printer) one(in, text string) {
	if width(in)+width(text) > p.Width {
		words, cut := pieces(text), ""
		for _, w := range words {
			if width(in)+width(cut)+width(w)+1 > p.Width-width(p.dots()) {
				break
			}
			cut += w + " "
		}
		text = strings.TrimRight(cut, " ,;:") + p.dots()
	}
	p.row(in + text)
}

// dots stand where something is left out.
func (p *Printer) dots() string {
	if p.ASCII {
		return "..."
	}
	return "…"
}

// found is a finding in a row: the line, the verdict, and the figures before the
// words.
func (b *brief) found(f *outline.Finding) string {
	at := numberOf(f.Row)
	card := ""
	if f.Card != "" {
		card = Safe(f.Card) + ": "
	}
	switch {
	case f.Input != nil:
		return at + b.Printer.Verdict(answer.Caution) + ", " + card + b.beyond(f.Input)
	case f.Lapsed != nil:
		return at + b.Printer.Verdict(answer.Caution) + ", " + Safe(f.Lapsed.Sentence())
	case f.Rule == nil:
		return at + b.paint(b.bad, "in error") + ": " + Safe(f.Problem)
	}
	text := at + b.Printer.Verdict(f.Rule.Verdict) + ", " + card
	if why := b.decided(f.Rule); why != "" {
		text += why + "; "
	}
	if s := f.Rule.Sentence(); s != "" {
		return text + Safe(s)
	}
	return text + b.ruled(f.Rule)
}
