// Package page writes a notebook as one page for a browser and for paper: sections with pictures, questions, workings
// and charts, what to mind before anybody touches a wire, what the sums rest on, and the answers on a page of their
// own.
//
// The page is one file. It has no script, asks for nothing and links to nothing but its own headings. All that comes
// from a notebook goes through html/template; drawings come from packages picture and chart with their texts escaped.
package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"railsum/calc/answer"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
)

// Options are what the call says of the page.
type Options struct {
	Date    string // as it is to be read, empty for none
	Only    string // a placed sheet or a heading, the only one that is wanted
	Answers Answers
	Blank   bool // every answer of a working is left to be filled in
	Large   bool // large print from the start
	Whole   bool // whole cards
	Plain   bool // the system's own type: a smaller page

	// Stopped is asked while the page is made, and its error ends that; nil for never.
	Stopped func() error

	// Set makes the questions of an exercise; without it there are none on the page.
	Set func(*answer.Exercise) (*outline.Set, error)
}

// Answers says where the answers stand.
type Answers string

// Answers stand on the last page, are the only thing, or are left out.
const (
	Last  Answers = "last"
	Apart Answers = "apart"
	None  Answers = "none"
)

// MostBytes is how large a page may be.
const MostBytes = 4 << 20

var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	style string
)

// pages are the templates, made when the first page is.
var pages = sync.OnceValue(func() *template.Template {
	t := template.New("page").Funcs(template.FuncMap{"text": text, "arm": arm, "safe": show.Safe, "broken": broken})
	return template.Must(template.Must(t.Parse(pageText)).Parse(benchText))
})

// Write writes the page of a notebook. The error is that of the writer, or says that there is nothing of the name that
// alone is wanted, or that the page is too large.
func Write(w io.Writer, o *outline.Outline, opt Options) error {
	m := &maker{opt: opt, o: o}
	d := m.page()
	if m.stopped != nil {
		return m.stopped
	}
	if opt.Only != "" && len(d.Sections) == 0 {
		return fmt.Errorf("nothing in it is called %s", opt.Only)
	}
	name := "page"
	if opt.Answers == Apart {
		name = "apart"
	}
	return written(w, name, d)
}

// data is what the page is made of.
type data struct {
	Title, By string
	Large     bool
	Style     template.CSS
	Tally     []tally
	Unsettled string
	First     []warning
	Sections  []*section
	Contents  bool
	Rests     []rest
	MoreRests int
	Answers   []reply
	Sources   []source
}

type (
	tally struct {
		Verdict answer.Verdict
		Count   int
	}
	warning struct{ Strong, Text string }
	section struct {
		No    int
		Title string
		Rows  []row
	}
	row struct {
		Tag    string
		Blocks []template.HTML
	}
	rest struct {
		Name, Value, Meaning string
		State                answer.State
		Known                string // whose value it is
		Of                   string // the placed sheets that it is an input of
	}
	reply struct {
		No               int // of a question that is to be worked out alone
		Question, Answer string
		Work             []string
		Mistakes         []mistake
	}
	source struct{ Sheets, Text string }
)

// page makes the page from the list of what is to be shown.
func (m *maker) page() *data {
	d := &data{Large: m.opt.Large, Title: m.o.Name}
	t := &m.o.Tally
	for _, v := range []answer.Verdict{answer.Danger, answer.NoVerdict, answer.Caution, answer.Clear} {
		if n := t.Verdicts[v]; n > 0 {
			d.Tally = append(d.Tally, tally{v, n})
		}
	}
	if t.Unsettled > 0 {
		d.Unsettled = count(t.Unsettled, "input is still a default or a guess", "inputs are still defaults or guesses")
	}
	m.sections(d)
	m.first(d)
	m.rests(d)
	if m.opt.Answers != None {
		d.Answers = m.replies
	}
	for i := range m.o.Items {
		if s, is := m.o.Items[i].Body.(*outline.Source); is {
			d.Sources = append(d.Sources, source{strings.Join(append([]string{s.Sheet}, s.Also...), ", "), s.Text})
		}
	}
	d.By = strings.Join(slices.DeleteFunc([]string{d.By, m.opt.Date}, func(s string) bool { return s == "" }), " \u00b7 ")
	d.Style = sheetStyle(m.opt, clip(d.Title, marginEms*2/3)+" \u00b7 "+strings.Join(m.editions, ", "))
	return d
}

// marginEms is how wide the text in the margin of a printed page is: 150 mm in 9 pt.
const marginEms = 46

// mostRests is how many inputs are listed.
const mostRests = 40

// rests lists what the sums rest on. An input that several placed sheets have in common, with one value, has one row.
func (m *maker) rests(d *data) {
	type key struct {
		sheet, name, value string
		state              answer.State
	}
	known := map[key]int{}
	for _, c := range m.cards {
		for i := range c.Asks {
			a := &c.Asks[i]
			of := a.Value
			if len(a.Columns) > 0 {
				of = a.Columns[0].Value
			}
			if of == nil {
				continue
			}
			r := restOf(a.Name, m.value(of), a)
			r.Of = cardName(c)
			if of.Column() {
				r.Value = "a row for each of " + of.Type.Of.Name
			}
			if !m.opt.Whole {
				r.Meaning = noun(r.Meaning)
			}
			k := key{c.Sheet, r.Name, r.Value, r.State}
			if at, is := known[k]; is {
				d.Rests[at].Of += ", " + r.Of
				continue
			}
			known[k] = len(d.Rests)
			d.Rests = append(d.Rests, r)
		}
	}
	slices.SortStableFunc(d.Rests, func(a, b rest) int { return order(a.State) - order(b.State) })
	if n := len(d.Rests) - mostRests; n > 0 {
		d.MoreRests, d.Rests = n, d.Rests[:mostRests]
	}
}

// restOf is an input as it is listed.
func restOf(name, value string, a *answer.CardLine) rest {
	r := rest{Name: name, Value: value, Meaning: a.Meaning, State: a.State, Known: a.Settled()}
	if a.State == answer.Set {
		r.Known = "known"
	}
	return r
}

// order puts what somebody has settled first, then guesses, then defaults.
func order(s answer.State) int {
	switch {
	case s.Settled():
		return 0
	case s == answer.Assumed:
		return 1
	}
	return 2
}

// first lists what to mind before anybody touches a wire: rules that are not clear with their cure, then hazards.
func (m *maker) first(d *data) {
	for i := range m.o.Tally.Findings {
		f := &m.o.Tally.Findings[i]
		if f.Lapsed != nil && (m.opt.Only == "" || m.wanted(f.Lapsed.Name)) {
			d.First = append(d.First, warning{fmt.Sprintf("line %d, %s:", f.Row, answer.Caution), f.Lapsed.Sentence() + "."})
		}
		if f.Rule == nil || f.Rule.Verdict <= answer.Clear || m.opt.Only != "" && !m.wanted(f.Card) {
			continue
		}
		of := f.Card
		if of == "" {
			of = fmt.Sprintf("line %d", f.Row)
		}
		d.First = append(d.First, warning{of + ", " + f.Rule.Verdict.String() + ":", m.sentence(f.Rule)})
	}
	for i := range m.o.Items {
		if h, is := m.o.Items[i].Body.(*outline.Hazard); is && (m.opt.Only == "" || slices.ContainsFunc(h.Cards, m.wanted)) {
			d.First = append(d.First, warning{strings.Join(append([]string{h.Sheet}, h.Also...), ", ") + ":", h.Text})
		}
	}
}

// sentence is what a rule says that is not clear: what is wrong, the figures, and what to do about it.
func (m *maker) sentence(j *answer.Judged) string {
	s := j.Sentence()
	switch {
	case j.Why != "":
		s = strings.TrimLeft(s+": "+j.Why, ": ")
	case s == "":
		s = j.String()
	}
	s += m.figures(j)
	if j.Cure != "" && j.Verdict != answer.NoVerdict {
		s += ". To cure it: " + j.Cure
	}
	return s + "."
}

// figures are the two sides of a rule that is not clear, but for those that the page asks for.
func (m *maker) figures(j *answer.Judged) string {
	c := j.Compared
	if c == nil || m.asked(c.Left) || m.asked(c.Right) {
		return ""
	}
	s := ": " + m.value(c.Left) + " " + against[c.Sign] + " " + m.value(c.Right)
	if c.Row != "" {
		s += ", " + c.Row
	}
	return s
}

// against says how the left side lies to the right where a rule does not hold.
var against = map[string]string{"<": "is not less than", "<=": "is more than", ">": "is not more than",
	">=": "is less than",
	"=":  "is not", "!=": "is"}

// wanted reports whether a placed sheet is on a page that is of one alone.
func (m *maker) wanted(card string) bool {
	for _, c := range m.cards {
		if name := cardName(c); name == card || strings.HasPrefix(card, name+".") {
			return true
		}
	}
	return false
}

func cardName(c *answer.Card) string {
	if c.Name == "" {
		return c.Sheet
	}
	return c.Name
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// cssText is a text as a string of CSS, safe within a style element.
func cssText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range show.Safe(s) {
		if r < 0x80 && !strings.ContainsRune(" .,:-_", r) &&
			!(r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z') {
			fmt.Fprintf(&b, "\\%06x", r)
			continue
		}
		b.WriteRune(r)
	}
	b.WriteByte('"')
	return b.String()
}
