package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/units"
)

// Bench is what is pinned up beside a layout: cards of placed sheets, labels for what is fitted, what to buy, and a
// sheet for the meter.
type Bench struct {
	File   string
	Cards  []string // names of placed sheets; All for each
	Labels bool
	Parts  bool
	Meter  bool
	Wide   float64 // of a label, in mm
	High   float64
	Needs  *outline.Needs
	Spread func(name string) *answer.Spread // of an answer; nil for none
}

// All stands for the cards of all placed sheets.
const All = "all"

// least type of a label is 9 pt, so that a label has room for two rows of it with its margins.
const leastLabelWide, leastLabelHigh = 30, 12

var (
	//go:embed bench.html
	benchText string
	//go:embed bench.css
	benchStyle string
)

type (
	bench struct {
		data
		Cards  []pinned
		Labels []label
		Full   []string // names that do not fit their labels
		Needs  []need
		Twice  []string // what is in the list for something else, or may be in it twice
		Meter  []metered
	}
	pinned struct {
		Title, Do, Foot, Hazard string
		Verdict                 answer.Verdict
		Defaults                bool
		Asks, Gives             []rest
		Coin                    bool // a rule asks whether a short trips
	}
	label   struct{ Title, Text, Way string }
	need    struct{ What, Amount, Spare, Keys, For, None, Open string }
	metered struct{ Name, Meaning, Sum, Range, Unit string }
)

// mostPinned is how many inputs, and how many answers, a card has room for.
const mostPinned = 8

// Write writes the page. The error is that of the writer, says which card there is not, or that a label is too small.
func (b *Bench) Write(w io.Writer, o *outline.Outline, opt Options) error {
	m := &maker{opt: opt, o: o}
	d := &bench{data: data{Title: o.Name}}
	missing := slices.Clone(b.Cards)
	for i := range o.Items {
		switch body := o.Items[i].Body.(type) {
		case *outline.Heading:
			if body.Title {
				d.Title = body.Text
			}
		case *outline.Card:
			name := cardName(body.Card)
			if slices.Contains(b.Cards, name) || slices.Contains(b.Cards, All) {
				d.Cards = append(d.Cards, m.pinned(body.Card, b.File, o.Items[i].Line.Row)...)
			}
			missing = slices.DeleteFunc(missing, func(s string) bool { return s == name || s == All })
			if b.Meter {
				d.Meter = append(d.Meter, m.metered(body.Card, b.Spread)...)
			}
		}
	}
	if len(missing) > 0 {
		return fmt.Errorf("no sheet in use is called %s", missing[0])
	}
	if b.Labels {
		if b.Wide < leastLabelWide || b.High < leastLabelHigh {
			return fmt.Errorf("a label takes %d x %d mm at least", leastLabelWide, leastLabelHigh)
		}
		d.Labels = labels(b.Needs)
		for _, l := range d.Labels {
			if room := (b.Wide - 9) / labelEm; !slices.Contains(d.Full, l.Title) && clip(l.Title, 2*room) != l.Title {
				d.Full = append(d.Full, l.Title)
			}
		}
	}
	if b.Parts {
		d.Needs = shopping(b.Needs)
		d.Twice = b.Needs.Says(units.Unit.Shown)
	}
	d.Style = sheetStyle(opt, d.Title) + template.CSS(benchStyle)
	d.Style += template.CSS(fmt.Sprintf("\n.labels{grid-template-columns:repeat(auto-fill,%gmm)}.label{width:%gmm;height:%gmm}", b.Wide, b.Wide, b.High))
	return written(w, "bench", d)
}

// labelEm is the size of a label's title, in mm: 11 pt.
const labelEm = 3.9

// pinned are the cards of a placed sheet: one, or one for each row of the table it is placed over.
func (m *maker) pinned(c *answer.Card, file string, row int) []pinned {
	var over *answer.Value
	for i := range c.Asks {
		if v := c.Asks[i].Value; v != nil && v.Column() && over == nil {
			over = v
		}
	}
	rows := 1
	if over != nil {
		rows = min(over.Rows(), mostRows)
	}
	var all []pinned
	for r := range rows {
		p := pinned{Title: cardName(c), Verdict: c.Verdict, Defaults: c.OnDefaults}
		if c.Edition > 0 {
			p.Foot = fmt.Sprintf("%s line %d \u00b7 %s %d", file, row, c.Sheet, c.Edition)
		} else {
			p.Foot = fmt.Sprintf("%s line %d \u00b7 %s", file, row, c.Sheet)
		}
		if m.opt.Date != "" {
			p.Foot += " \u00b7 " + m.opt.Date
		}
		label := ""
		if over != nil {
			label = over.Label(r)
			p.Title += ", " + label
		}
		worst := answer.Clear
		for i := range c.Rules {
			j := &c.Rules[i]
			p.Coin = p.Coin || trips(j)
			v := j.Verdict
			if over != nil && j.Rows > 0 && len(j.Fails) > 0 && !slices.Contains(j.Fails, label) {
				v = answer.Clear
			}
			if v > worst {
				worst = v
				p.Do = m.sentence(j)
				if over != nil && j.Compared != nil && j.Compared.Row != label { // the figures are of another row
					p.Do = j.Sentence() + ". To cure it: " + j.Cure + "."
				}
			}
		}
		if over != nil {
			p.Verdict = worst
		}
		if p.Do == "" {
			p.Do = "As built, every check holds."
		}
		if len(c.Hazards) > 0 {
			p.Hazard = c.Hazards[0]
		}
		one := func(l *answer.CardLine) (rest, bool) {
			v := l.Value
			if v == nil {
				return rest{}, false
			}
			if v.Column() {
				if over == nil || v.Type.Of != over.Type.Of || r >= v.Rows() {
					return rest{}, false
				}
				v = v.Row(r)
			}
			name := noun(l.Meaning)
			if name == "" || len([]rune(name)) > longMeaning {
				name = l.Name
			}
			return rest{Name: name, Value: m.value(v), State: l.State}, true
		}
		for i := range c.Asks {
			if l := &c.Asks[i]; l.State.Settled() || l.State == answer.Assumed {
				if x, is := one(l); is && len(p.Asks) < mostPinned {
					p.Asks = append(p.Asks, x)
				}
			}
		}
		used := ruled(c)
		for i := range c.Gives {
			if l := &c.Gives[i]; used[l.Name] {
				if x, is := one(l); is && len(p.Gives) < mostPinned {
					p.Gives = append(p.Gives, x)
				}
			}
		}
		all = append(all, p)
	}
	return all
}

// longMeaning is how many letters of meaning a row of a card has room for.
const longMeaning = 44

// ruled are the answers that the rules of a card use.
func ruled(c *answer.Card) map[string]bool {
	used := map[string]bool{}
	for i := range c.Rules {
		if r := &c.Rules[i]; r.Piece == "" && r.Cond.Expr != nil {
			syntax.Walk(&syntax.Rule{Cond: r.Cond.Expr}, func(e syntax.Expr) {
				if n, is := e.(*syntax.Name); is {
					used[n.String()] = true
				}
			})
		}
	}
	return used
}

// trips reports whether a rule asks whether something trips.
func trips(j *answer.Judged) bool {
	found := false
	if j.Cond.Expr != nil {
		syntax.Walk(&syntax.Rule{Cond: j.Cond.Expr}, func(e syntax.Expr) {
			if n, is := e.(*syntax.Name); is && n.Parts[len(n.Parts)-1].Text == "trip" {
				found = true
			}
		})
	}
	return found
}

// labels are two for each conductor of a run of wire, one for each of its ends, and one for any other part.
func labels(needs *outline.Needs) []label {
	var all []label
	for _, n := range needs.Each {
		text := n.Spelled(units.Unit.Shown)
		if n.Length > 0 && n.Count <= 1 {
			half := units.Known("m").Format(n.Length / 2)
			for _, way := range []string{"out", "back"} {
				for range 2 {
					all = append(all, label{n.Places[0] + ", " + way, text + ", " + half + " m", way})
				}
			}
			continue
		}
		all = append(all, label{n.Places[0], n.What + ", " + text, ""})
	}
	return all
}

// shopping is what to buy, in words.
func shopping(needs *outline.Needs) []need {
	var all []need
	for _, n := range needs.Sorted() {
		x := need{What: n.What, Amount: n.Amount(), Spare: n.Spare(),
			Keys: n.Spelled(units.Unit.Shown), For: strings.Join(n.Places, ", "),
			Open: strings.Join(n.Open, ", "), None: strings.Join(n.None, ", ")}
		all = append(all, x)
	}
	return all
}

// metered are the rows of a sheet for the meter: the answers that rules use, each with how far it may lie off.
func (m *maker) metered(c *answer.Card, spread func(string) *answer.Spread) []metered {
	used := ruled(c)
	var all []metered
	for i := range c.Gives {
		g := &c.Gives[i]
		if v := g.Value; !used[g.Name] || v == nil || v.Column() || !v.Quantity() || v.Fault(0) != "" {
			continue
		}
		x := metered{Name: cardName(c) + "." + g.Name, Meaning: noun(g.Meaning), Sum: m.value(g.Value),
			Range: "no tolerance is given"}
		if !g.Value.Unit.IsZero() {
			x.Unit = g.Value.Unit.Shown()
		}
		if s := spread(x.Name); s != nil && s.Lowest != nil && s.Highest != nil && !s.Exact {
			if low, high := m.value(s.Lowest), m.value(s.Highest); low == high {
				x.Range = "as good as exact"
			} else {
				x.Range = low + " to " + high
			}
		}
		all = append(all, x)
	}
	return all
}
