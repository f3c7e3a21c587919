package page

import (
	"bytes"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
	"railsum/units"
)

// unknown stands for a value that is still to be found.
var unknown = &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{"?"}}

// taken is a writer that keeps the study of an item.
type taken struct {
	maker
	study answer.Study
}

func (t *taken) Prose(*outline.Item, *outline.Prose)        {}
func (t *taken) Answer(*outline.Item, *outline.Answer)      {}
func (t *taken) Verdict(*outline.Item, *outline.Verdict)    {}
func (t *taken) Card(*outline.Item, *outline.Card)          {}
func (t *taken) Fault(*outline.Item, *outline.Fault)        {}
func (t *taken) Study(_ *outline.Item, s answer.Study)      { t.study = s }
func (t *taken) Working(_ *outline.Item, w *answer.Working) { t.study = w }

// Study writes a study as its kind is written.
func (m *maker) Study(_ *outline.Item, s answer.Study) { s.Visit(studies{m}) }

// studies has a method for each kind of study.
type studies struct{ *maker }

// Guess keeps its answer for the answers.
func (m studies) Guess(g *answer.Guess) {
	x := struct{ Question, Unit string }{Question: g.Question}
	if v := g.Answer; v.Quantity() && !v.Unit.IsZero() {
		x.Unit = v.Unit.Shown()
	}
	m.block("Guess first", "guess", x)
	m.replies = append(m.replies, reply{Question: g.Question, Answer: m.value(g.Answer)})
}

func (m studies) Working(*answer.Working) {} // an item of its own
func (m studies) Slip(*answer.Slip)       {}
func (m studies) Part(*answer.Needed)     {}

// Suppose sets what would be beside what is.
func (m studies) Suppose(s *answer.Supposed) {
	x := columns{Caption: "with " + strings.Join(s.Sets, ", "),
		Heads: []columnHead{{Name: "now"}, {Name: "then"}, {Name: "change"}}}
	for i := range s.Lines {
		l := &s.Lines[i]
		for r := range l.Now.Rows() {
			name, now, then, change := l.Name, l.Now, l.Then, l.Change
			if now.Column() {
				name += ", " + now.Label(r)
				now, then = now.Row(r), then.Row(r)
				if change != nil {
					change = change.Row(r)
				}
			}
			text := ""
			if change != nil {
				text = m.value(change)
			}
			if l.Percent != nil {
				text += ", " + answer.SignedPercent(*l.Percent)
			}
			x.row(name, m.hidden(now), m.hidden(then), text)
		}
	}
	m.block(cures, "columns", x)
	for i := range s.Turns {
		t := &s.Turns[i]
		m.block(cures, "verdict", judged{t.Now,
			strings.TrimLeft(t.Name+", ", ", ") + t.Cond.String() + ", before " + t.Was.String()})
	}
}

const cures = "What cures it"

// Find tells what was found in the words of the terminal.
func (m studies) Find(f *answer.Found) {
	var b bytes.Buffer
	show.New(&b, show.Options{Width: 1 << 16}).AtMargin().Find(f)
	var rows []string
	for line := range strings.Lines(b.String()) {
		if line = strings.TrimSpace(line); line != "" {
			rows = append(rows, line)
		}
	}
	m.block(cures, "rows", rows)
}

// Spread, Measured, Agree and Case are lists of facts.
func (m studies) Spread(s answer.Spreads)     { m.facts("How sure", s) }
func (m studies) Measured(s *answer.Measured) { m.facts("The meter", s) }
func (m studies) Agree(a *answer.Agreement)   { m.facts("Agreed", a) }
func (m studies) Case(c *answer.Case)         { m.facts("The case", c) }

func (m studies) facts(tag string, s answer.Study) {
	x := columns{Of: tag, Heads: []columnHead{{}, {Name: "value"}, {}}}
	for f := range s.Facts() {
		text := f.Text
		if f.Value != nil {
			text = m.value(f.Value)
		}
		x.row(f.Name, f.Label, text, f.Remark)
	}
	m.block(tag, "columns", x)
}

// mostRows is how many rows a table has on a page.
const mostRows = 40

// Vary draws a chart of each shown quantity, with its numbers in a table below.
func (m studies) Vary(v *answer.Varied) {
	if v.TooMuch || len(v.Axes) == 0 {
		return
	}
	if len(v.With) > 0 {
		m.block(cures, "prose", "with "+strings.Join(v.With, ", ")+":")
	}
	for i := range v.Shown {
		c := chartOf(v, i)
		if c == nil {
			continue
		}
		if m.drawings++; m.drawings <= mostDrawings {
			m.block(cures, "figure", drawn(c, m.drawings))
		}
	}
	m.numbers(v)
	for i := range v.Turns {
		t := &v.Turns[i]
		at := v.Axes[0].Name() + " = " + m.value(v.Axes[0].Value.Row(t.Row))
		m.block(cures, "verdict", judged{t.Now, "from " + at + " on: " + t.Cond.String()})
	}
}

// Show sets columns side by side.
func (m studies) Show(t *answer.Table) {
	all, _ := abreast(t.Columns, nil)
	for _, x := range all {
		x.Notes = nil
		if len(x.Rows) > 0 {
			m.block("", "columns", x)
		}
	}
	for _, text := range t.Says() {
		m.block("", "prose", text)
	}
}

// mostAcross is how many points of a sweep stand side by side.
const mostAcross = 10

// numbers are those of a chart: a column for each point where there are few, else a row.
func (m studies) numbers(v *answer.Varied) {
	if axis := &v.Axes[0]; len(v.Axes) == 1 && len(axis.Value.Numbers) <= mostAcross {
		x := columns{Corner: headOf(axis), Folded: theNumbers, Of: theNumbers}
		for r := range axis.Value.Numbers {
			x.Heads = append(x.Heads, columnHead{Name: axis.Value.Number(r)})
		}
		for i := range v.Shown {
			row := columnRow{Label: headOf(&v.Shown[i])}
			for r := range axis.Value.Numbers {
				row.Cells = append(row.Cells, bare(v.Shown[i].Value, r))
			}
			x.Rows = append(x.Rows, row)
		}
		m.block(cures, "columns", x)
		return
	}
	x := columns{Corner: headOf(&v.Axes[0]), Folded: theNumbers, Of: theNumbers}
	for i := range v.Axes[1:] {
		x.Heads = append(x.Heads, columnHead{Name: headOf(&v.Axes[1+i])})
	}
	for i := range v.Shown {
		x.Heads = append(x.Heads, columnHead{Name: headOf(&v.Shown[i])})
	}
	for r := range v.Axes[0].Value.Numbers {
		var cells []string
		for i := range v.Axes[1:] {
			cells = append(cells, v.Axes[1+i].Value.Number(r))
		}
		for i := range v.Shown {
			cells = append(cells, bare(v.Shown[i].Value, r))
		}
		x.row(v.Axes[0].Value.Number(r), cells...)
	}
	m.block(cures, "columns", x)
}

// theNumbers is what the numbers of a chart are called.
const theNumbers = "the numbers"

// bare is a cell without its unit.
func bare(v *answer.Value, r int) string {
	switch {
	case v.Fault(r) == "" && v.Quantity():
		return v.Number(r)
	}
	return v.Cell(r)
}

func headOf(s *answer.Series) string {
	if s.Value.Unit.IsZero() {
		return s.Name()
	}
	return s.Name() + ", " + s.Value.Unit.Shown()
}

// step is a step of a working, from the inputs up.
type step struct {
	Title         string
	Words, Values string
	Answer        string
	Blank         bool
	Unit          string
	Decided       []string // why the formula is this one
	Rounded       bool     // the last of a working that has more figures than are shown
}

// Working goes from the inputs up. A step that only hands a value over is no step.
func (m *maker) Working(_ *outline.Item, w *answer.Working) {
	var steps []step
	rounded := false
	meanings := handed(w.Steps)
	for _, i := range upward(w.Steps) {
		s := &w.Steps[i]
		if s.Formula.IsZero() || s.Formula.Bare() || s.Answer == nil {
			continue
		}
		x := step{Title: meanings[i], Words: inWords(w.Steps, meanings, left(s)), Blank: s.Blank || m.opt.Blank,
			Answer: m.value(s.Answer)}
		if x.Title == "" {
			x.Title = s.Name
		}
		if s.Answer.Column() {
			x.Answer = m.value(s.Answer.Row(0))
		}
		for _, d := range s.Decided {
			x.Decided = append(x.Decided, inWords(w.Steps, meanings, d.By.Expr)+" "+d.Why)
		}
		if !s.Filled.IsZero() && !m.opt.Blank {
			x.Values = signs(syntax.PrintExprIn(s.Filled.Expr, units.Unit.Shown))
			rounded = true
		}
		if x.Blank {
			if !s.Answer.Unit.IsZero() {
				x.Unit = s.Answer.Unit.Shown()
			}
			m.replies = append(m.replies, reply{Question: x.Title, Answer: x.Answer})
		}
		steps = append(steps, x)
	}
	if n := len(steps); n > 0 {
		steps[n-1].Rounded = rounded
		m.block("The working", "working", steps)
	}
}

// upward is the order of the steps from the inputs up.
func upward(steps []answer.Step) []int {
	var order, open []int
	close := func(level int) {
		for len(open) > 0 && steps[open[len(open)-1]].Level >= level {
			order, open = append(order, open[len(open)-1]), open[:len(open)-1]
		}
	}
	for i := range steps {
		close(steps[i].Level)
		open = append(open, i)
	}
	close(0)
	return order
}

// handed are the meanings of the steps as nouns. What a step hands over from another has the meaning that it has there,
// where somebody asked for it.
func handed(steps []answer.Step) []string {
	meanings := make([]string, len(steps))
	for i := range steps {
		if meanings[i] == "" {
			meanings[i] = noun(steps[i].Meaning)
		}
		if s := &steps[i]; s.Formula.Bare() && i+1 < len(steps) && steps[i+1].Level == s.Level+1 {
			meanings[i+1] = meanings[i]
		}
	}
	return meanings
}

// left is what a formula is left with where something decided in it.
func left(s *answer.Step) syntax.Expr {
	if s.Left.IsZero() {
		return s.Formula.Expr
	}
	return s.Left.Expr
}

// inWords is a formula with the meaning of each name in its place.
func inWords(steps []answer.Step, meanings []string, formula syntax.Expr) string {
	meant := map[string]string{}
	seen := map[string]int{}
	for k := range steps {
		if meanings[k] == "" {
			continue
		}
		for name := steps[k].Name; ; {
			meant[name] = meanings[k]
			_, rest, more := strings.Cut(name, ".")
			if !more {
				break
			}
			name = rest
		}
	}
	text := signs(syntax.PrintExpr(formula))
	names := map[string]bool{}
	syntax.Walk(&syntax.Question{Expr: formula}, func(e syntax.Expr) {
		if n, is := e.(*syntax.Name); is && !names[n.String()] {
			names[n.String()] = true
			seen[meant[n.String()]]++
		}
	})
	var b strings.Builder
	for j := 0; j < len(text); {
		end := j
		for end < len(text) && nameByte(text[end]) {
			end++
		}
		if end == j {
			b.WriteByte(text[j])
			j++
			continue
		}
		word := text[j:end]
		if meaning := meant[word]; names[word] && meaning != "" && seen[meaning] == 1 {
			word = meaning
		}
		b.WriteString(word)
		j = end
	}
	return b.String()
}

func nameByte(c byte) bool {
	return c == '_' || c == '.' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

// signs writes the signs of a formula as on paper.
func signs(formula string) string { return onPaper.Replace(formula) }

var onPaper = strings.NewReplacer(" * ", " \u00d7 ", " / ", " \u00f7 ", " - ", " \u2212 ", "<=", "\u2264", ">=", "\u2265")

// noun is a meaning as it stands for a thing: up to the first colon or semicolon, and nothing of one that begins with a
// word that no thing begins with.
func noun(meaning string) string {
	if cut := strings.IndexAny(meaning, ":;"); cut > 0 {
		meaning = meaning[:cut]
	}
	first, _, _ := strings.Cut(meaning, " ")
	if strings.Contains(" of in that by at to from with between into turned drawn ", " "+strings.ToLower(first)+" ") {
		return ""
	}
	return meaning
}
