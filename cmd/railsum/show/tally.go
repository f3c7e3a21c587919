package show

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// Tally is what a notebook's answers come to.
type Tally struct {
	Worst     calc.Verdict         // of all; no verdict at best if a line has no answer
	Verdicts  map[calc.Verdict]int // how many rules have each verdict
	Errors    int                  // lines in error
	Waiting   int                  // lines that wait for a name
	Notices   int
	Inputs    int // inputs of all cards
	Unsettled int // of these, defaults and guesses; guesses of the notebook too
	Findings  []Finding
}

// Finding is something to look at first: a rule that is not clear or a line
// without an answer.
type Finding struct {
	Row     int
	Card    string // the placed sheet the rule belongs to, empty for the notebook's own
	Rule    *calc.Judged
	Problem string // for a line without an answer
}

// Count goes through the answers of a notebook.
func Count(answers []*calc.Answer) Tally {
	t := Tally{Verdicts: map[calc.Verdict]int{}}
	for _, a := range answers {
		t.Notices += len(a.Notices)
		t.troubles(a)
		if a.Rule != nil {
			t.judge(a, "", a.Rule)
		}
		for _, c := range a.Cards {
			t.card(a, c)
		}
		if a.Assumed && !setting(a.Line) {
			t.Unsettled++
		}
	}
	slices.SortStableFunc(t.Findings, func(a, b Finding) int { return cmp.Compare(b.weight(), a.weight()) })
	return t
}

func (t *Tally) troubles(a *calc.Answer) {
	switch {
	case len(a.Errors) > 0:
		t.Errors++
		t.Worst = max(t.Worst, calc.NoVerdict)
		t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Problem: a.Errors[0].Message})
	case len(a.Waiting) > 0:
		t.Waiting++
		t.Worst = max(t.Worst, calc.NoVerdict)
		t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Problem: "waiting for " + strings.Join(a.Waiting, ", ")})
	}
}

// setting reports whether a line sets an input of a placed sheet, which the
// sheet's card counts already.
func setting(l *syntax.Line) bool {
	d, ok := l.Node.(*syntax.Define)
	return ok && len(d.Target.Parts) > 1
}

func (t *Tally) card(a *calc.Answer, c *calc.Card) {
	t.Inputs += len(c.Asks)
	t.Unsettled += c.Unsettled()
	name := c.Name
	if name == "" && c.Sheet != nil {
		name = c.Sheet.Name
	}
	for i := range c.Rules {
		t.judge(a, name, &c.Rules[i])
	}
	t.Worst = max(t.Worst, c.Verdict)
}

func (t *Tally) judge(a *calc.Answer, card string, j *calc.Judged) {
	t.Verdicts[j.Verdict]++
	t.Worst = max(t.Worst, j.Verdict)
	if j.Verdict > calc.Clear {
		t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Card: card, Rule: j})
	}
}

// weight orders findings: danger, lines in error, no verdict, caution.
func (f *Finding) weight() int {
	switch {
	case f.Rule == nil:
		return 2*int(calc.NoVerdict) + 1
	default:
		return 2 * int(f.Rule.Verdict)
	}
}

// Verdicts writes the summary of a notebook: its verdict, what is not clear,
// worst first, and the counts.
func (p *Printer) Verdicts(name string, answers []*calc.Answer) {
	t := Count(answers)
	p.row(p.paint(p.head, Safe(name)) + ": " + p.Verdict(t.Worst))
	for i := range t.Findings {
		p.finding(&t.Findings[i])
	}
	p.wrapped("  ", t.Words())
}

func (p *Printer) finding(f *Finding) {
	at := fmt.Sprintf(", line %d", f.Row)
	if f.Card != "" {
		at += ", " + Safe(f.Card)
	}
	if f.Rule == nil {
		p.wrapped("  ", p.paint(p.bad, "in error")+at+": "+Safe(f.Problem))
		return
	}
	what := Safe(f.Rule.Meaning)
	if what == "" {
		what = Safe(RuleText(f.Rule))
	}
	p.wrapped("  ", p.Verdict(f.Rule.Verdict)+at+": "+what+p.because(f.Rule))
}

// Words is the tally in words: "3 rules: 1 danger, 2 clear; 1 line in error".
func (t *Tally) Words() string {
	var rules []string
	n := 0
	for _, v := range []calc.Verdict{calc.Danger, calc.NoVerdict, calc.Caution, calc.Clear, calc.NotJudged} {
		if k := t.Verdicts[v]; k > 0 {
			rules = append(rules, fmt.Sprintf("%d %s", k, v))
			n += k
		}
	}
	parts := []string{"no rules"}
	if n > 0 {
		parts[0] = count(n, "rule", "rules") + ": " + strings.Join(rules, ", ")
	}
	if t.Errors > 0 {
		parts = append(parts, count(t.Errors, "line", "lines")+" in error")
	}
	if t.Waiting > 0 {
		parts = append(parts, count(t.Waiting, "line", "lines")+" waiting")
	}
	if t.Unsettled > 0 {
		parts = append(parts, count(t.Unsettled, "input", "inputs")+" not yet yours")
	}
	return strings.Join(parts, "; ")
}
