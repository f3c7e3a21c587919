package present

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
)

// block is rows that belong together.
type block struct {
	draw    func(*show.Printer)
	instead func(*show.Printer) // where the rows are more than the screen has; nil for none
	blank   bool                // it fills what was left blank before
}

// step is what stands on the screen until somebody goes on.
type step struct {
	line     *syntax.Line // nil for what is of the whole notebook
	heading  string
	blocks   []block
	asides   []string
	guess    *answer.Guess  // asked here
	question question       // which one it is
	slips    []*answer.Slip // usual mistakes about it, where no sheet of the notebook has them
	revealed bool           // with its answer
	grows    bool           // a block a key press
	hazards  bool
	given    bool // named values, gathered
	prose    bool // notes, to which more may be added
}

// question is what a line asks, counted from 0: an exercise asks several things.
type question struct {
	line *syntax.Line
	nth  int
}

// deck is a notebook as steps. It is a writer of the outline.
type deck struct {
	*Config
	title   string
	steps   []*step
	section string
	secret  secrets
}

func newDeck(o *outline.Outline, c *Config) *deck {
	d := &deck{Config: c, title: o.Name}
	d.secret = secretsOf(o)
	o.Write(d)
	// A heading without a word below it stands on the step that comes next.
	d.steps = slices.DeleteFunc(d.steps, func(s *step) bool { return len(s.blocks)+len(s.asides) == 0 })
	if len(d.steps) == 0 {
		d.add(nil).say("nothing to show")
	}
	return d
}

// add begins a step under the heading at hand.
func (d *deck) add(l *syntax.Line) *step {
	s := &step{line: l, heading: d.section}
	d.steps = append(d.steps, s)
	return s
}

// last is the step before, nil at the start.
func (d *deck) last() *step {
	if len(d.steps) == 0 {
		return nil
	}
	return d.steps[len(d.steps)-1]
}

func (s *step) draw(f func(*show.Printer)) { s.blocks = append(s.blocks, block{draw: f}) }

func (s *step) say(text string) { s.draw(func(p *show.Printer) { p.Say("%s", text) }) }

// asTyped shows a line as it is written, without its note.
func (s *step) asTyped(l *syntax.Line) {
	text := l.Raw
	if l.Note != "" {
		if before, _, ok := strings.Cut(text, "# "+l.Note); ok && !strings.Contains(text, "\n") {
			text = before
		}
	}
	s.draw(func(p *show.Printer) {
		for _, row := range strings.Split(strings.TrimRight(text, " \r\n"), "\n") {
			p.Hanging(strings.TrimRight(row, "\r"))
		}
	})
}

func (d *deck) Begin(*outline.Outline) {}
func (d *deck) Each(*syntax.Line)      {}
func (d *deck) End(*outline.Outline)   {}

func (d *deck) Heading(i *outline.Item, h *outline.Heading) {
	if d.section = h.Text; h.Title {
		d.title = h.Text
	}
	d.add(i.Line).prose = true
}

func (d *deck) Prose(i *outline.Item, p *outline.Prose) {
	s := d.last()
	switch {
	case p.Aside && s != nil:
		s.asides = append(s.asides, p.Text)
		return
	case p.Aside:
		return
	case s == nil || !s.prose:
		s = d.add(i.Line)
		s.prose = true
	}
	s.say(p.Text)
}

// Answer gathers named values that are given; what is worked out has a step of its
// own.
func (d *deck) Answer(i *outline.Item, a *outline.Answer) {
	if a.Value == nil && len(a.Columns) == 0 {
		return
	}
	if a.Repeats || a.Assumed {
		s := d.last()
		if s == nil || !s.given {
			s = d.add(i.Line)
			s.given = true
		}
		d.answer(s, i, a)
		return
	}
	d.answer(d.add(i.Line), i, a)
}

func (d *deck) answer(s *step, i *outline.Item, a *outline.Answer) {
	name := a.Name
	if q, ok := i.Line.Node.(*syntax.Question); ok && name == "" {
		name = syntax.PrintExpr(q.Expr)
	}
	secret := d.secret.asks(i, name)
	s.draw(func(p *show.Printer) {
		switch {
		case len(a.Columns) > 0:
			p.Say("%s", name)
			p.Columns(a.Columns)
		case secret:
			p.Hanging(name + " = ?")
		case a.Value.Column():
			p.Say("%s", name)
			p.Column(a.Value, "  ")
		default:
			p.Hanging(name + " = " + p.Value(a.Value))
		}
		if a.Assumed {
			p.Say("  assumed")
		}
		if a.Meaning != "" {
			p.Say("  %s", a.Meaning)
		}
	})
}

func (d *deck) Verdict(i *outline.Item, v *outline.Verdict) {
	s := d.add(i.Line)
	s.draw(func(p *show.Printer) { p.Rule(&v.Judged) })
	d.danger(i.Line, "", &v.Judged)
}

// Card shows what a sheet judges, and its answers where nobody is going to be asked
// for one of them; then each danger alone.
func (d *deck) Card(i *outline.Item, c *outline.Card) {
	card := *c.Card
	card.Hazards = nil // they come at the end, each once
	card.Asks = slices.DeleteFunc(slices.Clone(card.Asks), func(l answer.CardLine) bool {
		// what is still the sheet's is on its page
		return (l.State == answer.Default || l.State == answer.Agreed) && !l.Outside && l.Why == ""
	})
	if d.secret.of(i, card.Name) {
		card.Gives, card.Rules = nil, withheld(card.Rules)
	}
	d.add(i.Line).draw(func(p *show.Printer) { p.Card(&card, show.CardForm{}) })
	for k := range card.Rules {
		d.danger(i.Line, card.Name, &card.Rules[k])
	}
}

func (d *deck) danger(l *syntax.Line, of string, j *answer.Judged) {
	if j.Verdict != answer.Danger {
		return
	}
	s := d.add(l)
	if s.heading = "Danger"; of != "" {
		s.heading += ", " + of
	}
	s.draw(func(p *show.Printer) { p.Rule(j) })
}

// Working comes a row a key press, from the inputs up; at the end what was left
// blank is filled.
func (d *deck) Working(i *outline.Item, w *answer.Working) {
	s := d.add(i.Line)
	s.grows = true
	steps := upward(w.Steps)
	for _, st := range steps {
		s.draw(func(p *show.Printer) { p.Working(&answer.Working{Steps: []answer.Step{st}}) })
	}
	for _, st := range steps {
		if st.Blank && st.Answer != nil {
			s.blocks = append(s.blocks, block{blank: true, draw: func(p *show.Printer) {
				p.Hanging(st.Name + " = " + p.Value(st.Answer))
			}})
		}
	}
}

// upward is a working from the inputs up, each ingredient after those it is made
// of; what only hands a value over is left out.
func upward(steps []answer.Step) []answer.Step {
	var order, open []answer.Step
	up := func(level int) {
		for len(open) > 0 && open[len(open)-1].Level >= level {
			order, open = append(order, open[len(open)-1]), open[:len(open)-1]
		}
	}
	for _, s := range steps {
		up(s.Level)
		open = append(open, s)
	}
	up(0)
	var kept []answer.Step
	for n, s := range order {
		if n < len(order)-1 && (s.Formula.IsZero() || s.Formula.Bare()) {
			continue
		}
		s.Level, s.Sources, s.Sheet = 1, nil, ""
		kept = append(kept, s)
	}
	return kept
}

// Study draws a picture by itself and shows the answer of anything else below its
// line.
func (d *deck) Study(i *outline.Item, st answer.Study) {
	switch st := st.(type) {
	case *answer.Guess:
		d.guess(i, st)
	case *answer.Picture:
		masked := d.secret.picture(i, st)
		d.add(i.Line).blocks = []block{{
			draw: func(p *show.Printer) { p.Picture(masked) },
			instead: func(p *show.Printer) {
				spoken := p.AtMargin()
				spoken.Stacked = true
				spoken.Picture(masked)
			},
		}}
	case *answer.Slip, *answer.Needed:
	case *answer.Exercise:
		d.exercise(i, st)
	default:
		s := d.add(i.Line)
		s.asTyped(i.Line)
		s.blocks = append(s.blocks, block{draw: func(p *show.Printer) { st.Visit(p) }})
	}
}

// asks adds the stops of a question: for the question, and with the answer. It gives
// the second.
func (d *deck) asks(i *outline.Item, g *answer.Guess, nth int, ask func(*step)) *step {
	var s *step
	for _, revealed := range []bool{false, true} {
		if d.Reveal && !revealed {
			continue
		}
		s = d.add(i.Line)
		s.guess, s.question, s.revealed = g, question{i.Line, nth}, revealed
		ask(s)
	}
	return s
}

// exercise asks its questions, each as a guess, and shows how the answer arises.
func (d *deck) exercise(i *outline.Item, ex *answer.Exercise) {
	set, err := d.Set(ex)
	if err != nil {
		d.add(i.Line).say(err.Error())
		return
	}
	for n, q := range set.Questions {
		of := answer.Expr{Expr: &syntax.Name{Parts: []syntax.Part{{Text: q.Name}}}}
		s := d.asks(i, &answer.Guess{Question: q.Ask, Of: of, Answer: q.Right}, n, func(s *step) {
			s.heading = fmt.Sprintf("%s: question %d of %d", set.Title, n+1, len(set.Questions))
			s.slips = q.Slips
			s.draw(func(p *show.Printer) {
				for _, g := range q.Given {
					p.Given(g)
				}
			})
			s.say(q.Ask)
		})
		s.draw(func(p *show.Printer) { p.Hanging(q.Name + " = " + p.Value(q.Right)) })
		for _, st := range upward(q.Steps()) {
			s.draw(func(p *show.Printer) { p.Working(&answer.Working{Steps: []answer.Step{st}}) })
		}
	}
}

// guess stops twice: for the question, and with the answer.
func (d *deck) guess(i *outline.Item, g *answer.Guess) {
	s := d.asks(i, g, 0, func(s *step) { s.say(g.Question) })
	s.draw(func(p *show.Printer) {
		p.Hanging(g.Of.String() + " = " + p.Value(g.Answer))
		if len(g.Sets) > 0 {
			p.Say("  with %s", strings.Join(g.Sets, ", "))
		}
	})
}

func (d *deck) Hazard(_ *outline.Item, h *outline.Hazard) {
	s := d.last()
	if s == nil || !s.hazards {
		s = d.add(nil)
		s.heading, s.hazards = "Hazards", true
	}
	text := h.Text
	if where := h.Where(); where != "" {
		text += " (" + where + ")"
	}
	s.say(text)
}

// Source has no step: a page has the sources.
func (d *deck) Source(*outline.Item, *outline.Source) {}

func (d *deck) Fault(i *outline.Item, f *outline.Fault) {
	if len(f.Errors)+len(f.Waiting) == 0 {
		return
	}
	s := d.add(i.Line)
	s.heading = fmt.Sprintf("Line %d is in error", i.Line.Row)
	if len(f.Errors) == 0 {
		s.heading = fmt.Sprintf("Line %d waits for %s", i.Line.Row, f.Waits())
		s.asTyped(i.Line)
	}
	for _, e := range f.Errors {
		s.draw(func(p *show.Printer) { p.Complaint(i.Line, e) })
	}
}

func (d *deck) Heard(*outline.Item, *outline.Heard) {}
