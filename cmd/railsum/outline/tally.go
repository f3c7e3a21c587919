package outline

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

// Tally is what a notebook's answers come to.
type Tally struct {
	Worst     answer.Verdict         // of all; no verdict at best if a line has no answer
	Verdicts  map[answer.Verdict]int // how many rules have each verdict
	Errors    int                    // lines in error
	Waiting   int                    // lines that wait for a name
	Notices   int
	Inputs    int // inputs of all cards
	Unsettled int // of these, defaults and guesses; guesses of the notebook too
	Defaults  int // cards that nothing of the user's own has been put into
	Follows   int // rules without a verdict because of an error that is told by itself
	Nominal   int // rules judged at nominal values only
	Lapsed    int // agreements that no longer stand
	Findings  []Finding
	Elsewhere int // findings of lines that are left out
}

// Finding is something to look at first: a rule that is not clear, an input
// outside its range, an agreement that no longer stands or a line without an answer.
type Finding struct {
	Row     int
	Card    string // the placed sheet it belongs to, empty for the notebook's own
	Rule    *answer.Judged
	Input   *answer.CardLine // that lies outside its range
	Lapsed  *answer.Agreement
	Problem string // for a line without an answer
}

// Count goes through the answers of a notebook.
func Count(answers iter.Seq2[int, *calc.Answer]) Tally {
	t := Tally{Verdicts: map[answer.Verdict]int{}}
	for _, a := range answers {
		t.Notices += len(a.Notices)
		t.troubles(a)
		if a.Rule != nil {
			t.judge(a, "", a.Rule)
		}
		for _, c := range a.Cards {
			t.card(a, c)
		}
		if g, is := a.Study.(*answer.Agreement); is && g.Lapsed() {
			t.Lapsed++
			t.Worst = max(t.Worst, answer.Caution) // what was settled is so no longer
			t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Lapsed: g})
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
		t.Worst = max(t.Worst, answer.NoVerdict)
		t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Problem: a.Errors[0].Message})
	case len(a.Waiting) > 0:
		t.Waiting++
		t.Worst = max(t.Worst, answer.NoVerdict)
		t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Problem: "waiting for " + strings.Join(a.Waiting, ", ")})
	}
}

// setting reports whether a line sets an input of a placed sheet, which the
// sheet's card counts already.
func setting(l *syntax.Line) bool {
	d, ok := l.Node.(*syntax.Define)
	return ok && len(d.Target.Parts) > 1
}

func (t *Tally) card(a *calc.Answer, c *answer.Card) {
	t.Inputs += len(c.Asks)
	t.Unsettled += c.Unsettled
	name := c.Name
	if name == "" {
		name = c.Sheet
	}
	if c.OnDefaults {
		t.Defaults++
	}
	for i := range c.Rules {
		j := &c.Rules[i]
		of := name
		if j.Piece != "" {
			of += "." + j.Piece
		}
		t.judge(a, of, j)
	}
	for i := range c.Asks {
		if c.Asks[i].Outside {
			t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Card: name, Input: &c.Asks[i]})
		}
	}
	t.Worst = max(t.Worst, c.Verdict)
}

func (t *Tally) judge(a *calc.Answer, card string, j *answer.Judged) {
	t.Verdicts[j.Verdict]++
	t.Worst = max(t.Worst, j.Verdict)
	if j.Nominal && j.Verdict != answer.NotJudged && j.Why == "" {
		t.Nominal++
	}
	switch {
	case j.Follows:
		t.Follows++
	case j.Verdict > answer.Clear:
		t.Findings = append(t.Findings, Finding{Row: a.Line.Row, Card: card, Rule: j})
	}
}

// weight orders findings: danger, lines in error, no verdict, caution.
func (f *Finding) weight() int {
	switch {
	case f.Rule != nil:
		return 2 * int(f.Rule.Verdict)
	case f.Input != nil, f.Lapsed != nil:
		return 2 * int(answer.Caution)
	}
	return 2*int(answer.NoVerdict) + 1
}

// Words is the tally in words: "3 rules: 1 danger, 2 clear; 1 line in error".
func (t *Tally) Words() string {
	var rules []string
	n := 0
	for _, v := range []answer.Verdict{answer.Danger, answer.NoVerdict, answer.Caution, answer.Clear, answer.NotJudged} {
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
	if t.Follows > 0 {
		parts = append(parts, count(t.Follows, "rule has", "rules have")+" no verdict because of an error above")
	}
	if t.Unsettled > 0 {
		parts = append(parts, count(t.Unsettled, "input", "inputs")+" not yet checked")
	}
	if t.Lapsed > 0 {
		parts = append(parts, count(t.Lapsed, "agreement has", "agreements have")+" lapsed")
	}
	if t.Defaults > 0 {
		parts = append(parts, count(t.Defaults, "card", "cards")+" "+answer.OwnDefaults)
	}
	return strings.Join(parts, "; ")
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
