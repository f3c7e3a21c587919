package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/picture"
	"railsum/cmd/railsum/show"
	"railsum/units"
)

// maker makes a page from the list of what is to be shown.
type maker struct {
	opt      Options
	o        *outline.Outline
	cards    []*answer.Card // that are on the page
	editions []string
	replies  []reply
	secrets  []*answer.Value // that the page still asks for
	drawings int
	numbered int // questions to be worked out alone
	now      *section
	stopped  error // the page is not to be made after all
	line     *syntax.Line
	above    *columns            // that the last block is, nil for another
	dotted   map[string][]string // of inLines, once asked for
}

// sections divides the items at their headings. A page that is of one section or one placed sheet has that alone. A
// section keeps back what it asks for itself; what stands before the first heading is of all sections and tells no
// answer of theirs, and neither do the warnings.
func (m *maker) sections(d *data) {
	items := m.o.Items
	all := asks(items)
	defer func() { m.secrets = all }()
	if len(items) > 0 {
		if h, is := items[0].Body.(*outline.Heading); is && h.Title {
			d.Title, items = h.Text, items[1:]
			if len(items) > 0 {
				if p, is := items[0].Body.(*outline.Prose); is && !p.Aside {
					d.By, items = p.Text, items[1:]
				}
			}
		}
	}
	numbered := 0
	for len(items) > 0 && items[0].Line != nil {
		n := 1
		for n < len(items) && items[n].Line != nil && !heads(&items[n]) {
			n++
		}
		if m.secrets = all; heads(&items[0]) {
			m.secrets = asks(items[:n])
		}
		if s := m.section(items[:n]); s != nil {
			if s.Title != "" {
				numbered++
				s.No = numbered
			}
			d.Sections = append(d.Sections, s)
		}
		items = items[n:]
	}
	d.Contents = len(d.Sections) > mostSections
}

// mostSections is how many sections are on a page without a list of them.
const mostSections = 12

func heads(i *outline.Item) bool {
	_, is := i.Body.(*outline.Heading)
	return is
}

// section writes the items of one section, nil for one that is not wanted or empty.
func (m *maker) section(items []outline.Item) *section {
	s := &section{}
	if h, is := items[0].Body.(*outline.Heading); is {
		s.Title, items = h.Text, items[1:]
	}
	if m.opt.Only != "" && s.Title != m.opt.Only {
		if items = slices.DeleteFunc(slices.Clone(items),
			func(i outline.Item) bool { return !m.about(&i) }); len(items) == 0 {
			return nil
		}
	}
	m.now = s
	for i := range items {
		if m.opt.Stopped != nil && m.stopped == nil {
			m.stopped = m.opt.Stopped()
		}
		if m.stopped != nil {
			break
		}
		m.line = items[i].Line
		m.found(&items[i])
		items[i].Write(m)
	}
	if len(s.Rows) == 0 && s.Title == "" {
		return nil
	}
	return s
}

// found takes what an item asks for, and all that was asked for before it, off the secrets.
func (m *maker) found(i *outline.Item) {
	if all := secret(i); len(all) > 0 {
		if at := slices.Index(m.secrets, all[len(all)-1]); at >= 0 {
			m.secrets = m.secrets[at+1:]
		}
	}
}

// about reports whether an item is of the placed sheet that alone is wanted: its card, or what a line asks of it.
func (m *maker) about(i *outline.Item) bool {
	if c, is := i.Body.(*outline.Card); is {
		return cardName(c.Card) == m.opt.Only
	}
	found := false
	syntax.Walk(i.Line.Node, func(e syntax.Expr) {
		if n, is := e.(*syntax.Name); is && n.Parts[0].Text == m.opt.Only {
			found = true
		}
	})
	if p, is := i.Line.Node.(*syntax.Picture); is && p.Of != nil && p.Of.Parts[0].Text == m.opt.Only {
		found = true
	}
	return found
}

// asks are the values that items ask for, in their order.
func asks(items []outline.Item) []*answer.Value {
	var all []*answer.Value
	for i := range items {
		all = append(all, secret(&items[i])...)
	}
	return all
}

// secret are the values that an item asks for.
func secret(i *outline.Item) []*answer.Value {
	switch s := study(i).(type) {
	case *answer.Guess:
		return []*answer.Value{s.Answer}
	case *answer.Working:
		var all []*answer.Value
		for k := range s.Steps {
			if s.Steps[k].Blank {
				all = append(all, s.Steps[k].Answer)
			}
		}
		return all
	}
	return nil
}

// study is the study of an item, nil for none.
func study(i *outline.Item) answer.Study {
	var t taken
	i.Write(&t)
	return t.study
}

// asked reports whether the page still asks for a value further down.
func (m *maker) asked(v *answer.Value) bool {
	return v != nil && slices.ContainsFunc(m.secrets, func(s *answer.Value) bool {
		return s != nil && s.Quantity() && v.Quantity() && !s.Column() && !v.Column() && s.Type.Dim == v.Type.Dim &&
			len(v.Numbers) == 1 && len(s.Numbers) == 1 && v.Numbers[0] == s.Numbers[0]
	})
}

// block adds to the row of a tag, beginning one if the last row has another.
func (m *maker) block(tag, name string, x any) {
	m.above = nil
	rows := m.now.Rows
	if n := len(rows); n == 0 || rows[n-1].Tag != tag {
		m.now.Rows = append(rows, row{Tag: tag})
	}
	last := &m.now.Rows[len(m.now.Rows)-1]
	last.Blocks = append(last.Blocks, filled(name, x))
}

// again writes the last block anew.
func (m *maker) again(name string, x any) {
	last := &m.now.Rows[len(m.now.Rows)-1]
	last.Blocks[len(last.Blocks)-1] = filled(name, x)
}

// filled is a template of the page with something put in.
func filled(name string, x any) template.HTML {
	var b strings.Builder
	if err := pages().ExecuteTemplate(&b, name, x); err != nil {
		panic(err) // of our own template
	}
	return template.HTML(b.String())
}

func (m *maker) Begin(*outline.Outline)                  {}
func (m *maker) Heard(*outline.Item, *outline.Heard)     {}
func (m *maker) Each(*syntax.Line)                       {}
func (m *maker) End(*outline.Outline)                    {}
func (m *maker) Heading(*outline.Item, *outline.Heading) {}
func (m *maker) Hazard(*outline.Item, *outline.Hazard)   {} // before everything
func (m *maker) Source(*outline.Item, *outline.Source)   {} // behind everything

// Prose is for the readers, an aside for the speaker alone.
func (m *maker) Prose(_ *outline.Item, p *outline.Prose) {
	if !p.Aside {
		m.block("", "prose", p.Text)
	}
}

// Fault says that a line has no answer.
func (m *maker) Fault(i *outline.Item, f *outline.Fault) {
	for _, e := range f.Errors {
		m.block("In error", "fault", fmt.Sprintf("line %d: %s", i.Line.Row, e.Error()))
	}
	if len(f.Waiting) > 0 {
		m.block("In error", "fault", fmt.Sprintf("line %d waits for %s", i.Line.Row, f.Waits()))
	}
}

// Answer is a row for a name, a paragraph for a question.
func (m *maker) Answer(i *outline.Item, a *outline.Answer) {
	if a.Value == nil && len(a.Columns) == 0 || m.onCard(i.Line) {
		return
	}
	name := a.Name
	if q, is := i.Line.Node.(*syntax.Question); is {
		name = syntax.PrintExprIn(q.Expr, units.Unit.Shown)
	}
	if a.Value == nil || a.Value.Column() {
		m.tabled(i, a, name)
		return
	}
	x := struct{ Name, Value, Meaning, State string }{Name: name, Value: m.hidden(a.Value), Meaning: a.Meaning}
	if a.Assumed {
		x.State = "assumed"
	}
	m.block("", "answer", x)
}

// onCard reports whether a line sets an input of a placed sheet, whose card has it.
func (m *maker) onCard(l *syntax.Line) bool {
	d, is := l.Node.(*syntax.Define)
	return is && len(d.Target.Parts) > 1 && slices.ContainsFunc(m.o.Items, func(i outline.Item) bool {
		c, is := i.Body.(*outline.Card)
		return is && c.Name == d.Target.Parts[0].Text
	})
}

// hidden is a value, or a sign for one that is still to be found.
func (m *maker) hidden(v *answer.Value) string {
	if m.asked(v) {
		return "?"
	}
	return m.value(v)
}

// Verdict is a rule of the notebook.
func (m *maker) Verdict(_ *outline.Item, v *outline.Verdict) {
	m.block("The check", "verdict", m.judged(&v.Judged))
}

type judged struct {
	Verdict answer.Verdict
	Text    string
}

func (m *maker) judged(j *answer.Judged) judged {
	if j.Verdict > answer.Clear {
		return judged{j.Verdict, m.sentence(j)}
	}
	text := j.Sentence()
	if text == "" && j.Compared == nil {
		text = j.String()
	} else if text == "" {
		text = j.Cond.String()
	}
	if c := j.Compared; c != nil && !m.asked(c.Left) && !m.asked(c.Right) {
		text += ": " + m.value(c.Left) + " " + sign[c.Sign] + " " + m.value(c.Right)
	}
	return judged{j.Verdict, text}
}

var sign = map[string]string{"<": "is less than", "<=": "is at most", ">": "is more than", ">=": "is at least",
	"=": "is", "!=": "is not"}

// Card shows what was set, what rules and lines use, and the rules that are not clear; with Whole all of it.
func (m *maker) Card(_ *outline.Item, c *outline.Card) {
	m.cards = append(m.cards, c.Card)
	edition := c.Sheet
	if c.Edition > 0 {
		edition = fmt.Sprintf("%s %d", c.Sheet, c.Edition)
	}
	if !slices.Contains(m.editions, edition) {
		m.editions = append(m.editions, edition)
	}
	x := struct {
		Title, Sheet, About string
		Verdict             answer.Verdict
		Defaults            bool
		Asks, Gives         []rest
		Columns             []*columns
		Rules               []judged
	}{Title: cardName(c.Card), Sheet: c.Sheet, About: c.About, Verdict: c.Verdict, Defaults: c.OnDefaults}
	if m.line.Note != "" {
		x.About = m.line.Note
	}
	used := m.used(c.Card)
	fails := map[string]bool{}
	for i := range c.Rules {
		for _, label := range c.Rules[i].Fails {
			fails[label] = true
		}
	}
	take := func(to *[]rest, lines []answer.CardLine, wanted func(*answer.CardLine) bool) {
		lines = slices.DeleteFunc(slices.Clone(lines), func(l answer.CardLine) bool { return !m.opt.Whole && !wanted(&l) })
		all, single := abreast(lines, fails)
		x.Columns = append(x.Columns, all...)
		for i := range single {
			l := &single[i]
			*to = append(*to, restOf(l.Name, m.hidden(l.Value), l))
		}
	}
	take(&x.Asks, c.Asks, func(l *answer.CardLine) bool { return l.State != answer.Default && l.State != answer.Agreed })
	take(&x.Gives, c.Gives, func(l *answer.CardLine) bool { return used[l.Name] })
	if !m.opt.Whole { // the meanings stand once, below all sections
		for _, t := range x.Columns {
			t.Notes = nil
		}
	}
	for i := range c.Rules {
		if j := &c.Rules[i]; m.opt.Whole || j.Verdict > answer.Clear {
			x.Rules = append(x.Rules, m.judged(j))
		}
	}
	m.block("The sheet", "card", x)
	for _, p := range c.Pictures {
		if outline.NoDrawing(p) == "" {
			m.Picture(p)
		}
	}
}

// used are the answers of a card that its rules or the lines of the notebook use.
func (m *maker) used(c *answer.Card) map[string]bool {
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
	for _, name := range m.inLines()[c.Name] {
		used[name] = true
	}
	return used
}

// inLines are the names that stand in the lines of the notebook behind that of a placed sheet, by the sheet's.
func (m *maker) inLines() map[string][]string {
	if m.dotted != nil {
		return m.dotted
	}
	m.dotted = map[string][]string{}
	for _, l := range m.o.Lines {
		syntax.Walk(l.Node, func(e syntax.Expr) {
			if n, is := e.(*syntax.Name); is && len(n.Parts) > 1 && !n.Parts[0].Quoted {
				place := n.Parts[0].Text
				m.dotted[place] = append(m.dotted[place], strings.TrimPrefix(n.String(), place+"."))
			}
		})
	}
	return m.dotted
}

// mostDrawings is how many pictures are on a page.
const mostDrawings = 60

// Picture draws twice: for a wide page and for a narrow one, of which the style shows one.
func (m *maker) Picture(p *answer.Picture) {
	m.drawings++
	if m.drawings > mostDrawings {
		return
	}
	d := outline.Drawing(m.veiled(p), units.Unit.Shown)
	if d == nil {
		m.block("The picture", "fault", outline.NoDrawing(p))
		return
	}
	m.block("The picture", "figure", drawn(d, m.drawings))
}

type figure struct {
	Wide, Narrow template.HTML
	Caption      string
	Title        string // for a screen reader, where there is no caption
}

func drawn(d picture.Drawing, n int) figure {
	svg := func(wide int, id string) template.HTML {
		return template.HTML(show.Safe(d.SVG(wide, fmt.Sprintf("%s%d", id, n)))) // its texts are escaped
	}
	return figure{svg(640, "w"), svg(320, "n"), d.Caption(), d.Sentence()}
}

// veiled is a picture in which the values of a circuit that are still to be found are question marks.
func (m *maker) veiled(p *answer.Picture) *answer.Picture {
	if p.Kind != "circuit" {
		return p
	}
	q := *p
	q.Rows = slices.Clone(p.Rows)
	for i := range q.Rows {
		q.Rows[i].Cells = slices.Clone(q.Rows[i].Cells)
		for k, v := range q.Rows[i].Cells {
			if m.asked(v) {
				q.Rows[i].Cells[k] = unknown
			}
		}
	}
	return &q
}
