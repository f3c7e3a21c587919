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
	x := table{Caption: "with " + strings.Join(s.Sets, ", "), Heads: []string{"", "now", "then", "change"}}
	for i := range s.Lines {
		l := &s.Lines[i]
		change := ""
		if l.Change != nil {
			change = m.value(l.Change)
		}
		if l.Percent != nil {
			change += ", " + answer.SignedPercent(*l.Percent)
		}
		x.Rows = append(x.Rows, []string{l.Name, m.hidden(l.Now), m.hidden(l.Then), change})
	}
	m.block(cures, "table", x)
	for i := range s.Turns {
		t := &s.Turns[i]
		m.block(cures, "verdict", judged{t.Now, strings.TrimLeft(t.Name+", ", ", ") + t.Cond.String() + ", before " + t.Was.String()})
	}
}

const cures = "What cures it"

// Find tells what was found in the words of the terminal.
func (m studies) Find(f *answer.Found) {
	var b bytes.Buffer
	show.New(&b, show.Options{Width: 1 << 16}).AtMargin().Find(f)
	for line := range strings.Lines(b.String()) {
		if line = strings.TrimSpace(line); line != "" {
			m.block(cures, "prose", line)
		}
	}
}

// Spread, Measured, Agree and Case are lists of facts.
func (m studies) Spread(s answer.Spreads)     { m.facts("How sure", s) }
func (m studies) Measured(s *answer.Measured) { m.facts("The meter", s) }
func (m studies) Agree(a *answer.Agreement)   { m.facts("Agreed", a) }
func (m studies) Case(c *answer.Case)         { m.facts("The case", c) }

func (m studies) facts(tag string, s answer.Study) {
	x := table{Heads: []string{"", "", "value", ""}}
	for f := range s.Facts() {
		text := f.Text
		if f.Value != nil {
			text = m.value(f.Value)
		}
		x.Rows = append(x.Rows, []string{f.Name, f.Label, text, f.Remark})
		if len(x.Rows) == mostRows {
			break
		}
	}
	m.block(tag, "table", x)
}

// mostRows is how many rows a table has on a page.
const mostRows = 40

// table is a table with its heads; the first cell of a row heads it.
type table struct {
	Caption string
	Heads   []string
	Rows    [][]string
	More    int
	Folded  bool // closed on the screen
}

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
	x := table{Caption: "the numbers", Folded: true}
	for i := range v.Axes {
		x.Heads = append(x.Heads, headOf(&v.Axes[i]))
	}
	for i := range v.Shown {
		x.Heads = append(x.Heads, headOf(&v.Shown[i]))
	}
	for r := range v.Axes[0].Value.Numbers {
		if len(x.Rows) == mostRows {
			x.More = len(v.Axes[0].Value.Numbers) - mostRows
			break
		}
		var row []string
		for i := range v.Axes {
			row = append(row, v.Axes[i].Value.Number(r))
		}
		for i := range v.Shown {
			row = append(row, bare(v.Shown[i].Value, r))
		}
		x.Rows = append(x.Rows, row)
	}
	m.block(cures, "table", x)
	for i := range v.Turns {
		t := &v.Turns[i]
		at := v.Axes[0].Name() + " = " + m.value(v.Axes[0].Value.Row(t.Row))
		m.block(cures, "verdict", judged{t.Now, "from " + at + " on: " + t.Cond.String()})
	}
}

// Show sets columns side by side.
func (m studies) Show(t *answer.Table) {
	x := table{Heads: []string{""}}
	for i := range t.Columns {
		head := t.Columns[i].Name
		if u := t.Columns[i].Value.Unit; !u.IsZero() {
			head += ", " + u.Shown()
		}
		x.Heads = append(x.Heads, head)
	}
	n := t.Shown()
	for r := range min(n, mostRows) {
		row := []string{t.Columns[0].Value.Label(r)}
		for i := range t.Columns {
			row = append(row, bare(t.Columns[i].Value, r))
		}
		x.Rows = append(x.Rows, row)
	}
	if n > 0 {
		x.More = n - len(x.Rows)
		m.block("", "table", x)
	}
	for _, text := range t.Says() {
		m.block("", "prose", text)
	}
}

// bare is a cell without its unit.
func bare(v *answer.Value, r int) string {
	switch {
	case v.Fault(r) != "":
		return "no answer"
	case v.Quantity():
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
}

// Working goes from the inputs up. A step that only hands a value over is no step.
func (m *maker) Working(_ *outline.Item, w *answer.Working) {
	var steps []step
	rounded := false
	for _, i := range upward(w.Steps) {
		s := &w.Steps[i]
		if s.Formula.IsZero() || s.Formula.Bare() || s.Answer == nil {
			continue
		}
		x := step{Title: s.Meaning, Words: m.words(w.Steps, i), Blank: s.Blank || m.opt.Blank, Answer: m.value(s.Answer)}
		if x.Title == "" || !noun(x.Title) {
			x.Title = s.Name
		}
		if s.Answer.Column() {
			x.Answer = m.value(s.Answer.Row(0))
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
	if len(steps) > 0 {
		m.block("The working", "working", struct {
			Steps   []step
			Rounded bool
		}{steps, rounded})
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

// words is the formula of a step with the meaning of each name in its place.
func (m *maker) words(steps []answer.Step, i int) string {
	meant := map[string]string{}
	seen := map[string]int{}
	for k := range steps {
		s := &steps[k]
		if s.Meaning == "" || !noun(s.Meaning) {
			continue
		}
		meaning := s.Meaning
		if cut := strings.IndexAny(meaning, ":;"); cut > 0 {
			meaning = meaning[:cut]
		}
		for name := s.Name; ; {
			meant[name] = meaning
			_, rest, more := strings.Cut(name, ".")
			if !more {
				break
			}
			name = rest
		}
	}
	text := signs(syntax.PrintExpr(steps[i].Formula.Expr))
	names := map[string]bool{}
	syntax.Walk(&syntax.Question{Expr: steps[i].Formula.Expr}, func(e syntax.Expr) {
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
func signs(formula string) string {
	return strings.NewReplacer(" * ", " \u00d7 ", " / ", " \u00f7 ", " - ", " \u2212 ", "<=", "\u2264", ">=", "\u2265").Replace(formula)
}

// noun reports whether a meaning can stand in a formula: one that begins with such a word cannot.
func noun(meaning string) bool {
	first, _, _ := strings.Cut(meaning, " ")
	return !strings.Contains(" of in that by at to from with between into turned drawn ", " "+strings.ToLower(first)+" ")
}
