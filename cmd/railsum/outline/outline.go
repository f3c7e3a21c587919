// Package outline makes the one list of what is to be shown of a notebook, in
// the order of the notebook: values and no text with colours, tags or wraps.
//
// The model: an Item belongs to a line and has one Body; a Writer has a method
// for each kind of Body, so that one that forgets a kind does not compile. A
// writer may leave an item out; it changes no figure and no word. Text, records
// (--plain), JSON and comma-separated values are writers of this list.
//
// Not its business: computing anything, and how anything looks.
package outline

import (
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/units"
)

// Outline is a notebook with all that is to be shown of it.
type Outline struct {
	Name  string
	OK    bool // no line is in error and no must fails
	Lines []*syntax.Line
	Tally Tally
	Items []Item
}

// Item is one thing to be shown.
type Item struct {
	Line *syntax.Line // that it belongs to, nil for what is of the whole notebook
	Body Body
}

// Body is what an item shows: one of the types below.
type Body interface{ write(*Item, Writer) }

// Writer writes a list.
type Writer interface {
	// Begin comes before everything, Each before the items of a line, whether it
	// has any or not, and End after everything.
	Begin(*Outline)
	Each(*syntax.Line)
	End(*Outline)

	Heading(*Item, *Heading)
	Prose(*Item, *Prose)
	Answer(*Item, *Answer)
	Verdict(*Item, *Verdict)
	Card(*Item, *Card)
	Working(*Item, *answer.Working)
	Study(*Item, answer.Study)
	Hazard(*Item, *Hazard)
	Source(*Item, *Source)
	Fault(*Item, *Fault)
	Heard(*Item, *Heard)
}

// Files is a writer of several notebooks.
type Files interface {
	Writer
	// Unread tells of one that cannot be read.
	Unread(name, message, cure string)
	Close() error
}

type (
	// Heading opens a section; the title is the first note of a notebook.
	Heading struct {
		Text  string
		Title bool
	}

	// Prose is a paragraph: notes of their own that follow one another. An aside
	// is for the speaker alone.
	Prose struct {
		Text  string
		Aside bool
	}

	// Answer is the value of a line, or the columns of a table; a line in error has
	// but its name.
	Answer struct {
		Name    string // empty for a question
		Meaning string
		Value   *answer.Value
		Columns []answer.CardLine
		Assumed bool
		Repeats bool // it says no more than the line itself
	}

	// Verdict is a rule of the notebook.
	Verdict struct {
		Name string
		answer.Judged
	}

	// Card is a sheet in use.
	Card struct{ *answer.Card }

	// Hazard is a caution of the sheets in use, and Source what they rest on; each
	// text comes once.
	Hazard struct{ Note }
	Source struct{ Note }

	// Fault is what is wrong with a line or worth saying of it, or which names it
	// waits for.
	Fault struct {
		Name    string
		Errors  []syntax.Diag
		Notices []syntax.Diag
		Waiting []string
	}

	// Heard is what a line was heard as, or what may be typed in its place.
	Heard struct{ *hear.Heard }

	study   struct{ answer.Study }
	working struct{ *answer.Working }
)

func (b *Heading) write(i *Item, w Writer) { w.Heading(i, b) }
func (b *Prose) write(i *Item, w Writer)   { w.Prose(i, b) }
func (b *Answer) write(i *Item, w Writer)  { w.Answer(i, b) }
func (b *Verdict) write(i *Item, w Writer) { w.Verdict(i, b) }
func (b *Card) write(i *Item, w Writer)    { w.Card(i, b) }
func (b *Hazard) write(i *Item, w Writer)  { w.Hazard(i, b) }
func (b *Source) write(i *Item, w Writer)  { w.Source(i, b) }
func (b *Fault) write(i *Item, w Writer)   { w.Fault(i, b) }
func (b *Heard) write(i *Item, w Writer)   { w.Heard(i, b) }
func (b study) write(i *Item, w Writer)    { w.Study(i, b.Study) }
func (b working) write(i *Item, w Writer)  { w.Working(i, b.Working) }

// Of makes the list of a notebook's answers; ok is what the book says of them.
func Of(name string, answers []*calc.Answer, ok bool) *Outline {
	o := &Outline{Name: name, OK: ok, Tally: Count(slices.All(answers))}
	for _, a := range answers {
		o.Lines = append(o.Lines, a.Line)
		o.add(Line(a))
	}
	for _, n := range notes(answers, func(c *answer.Card) []string { return c.Hazards }) {
		o.Items = append(o.Items, Item{Body: &Hazard{*n}})
	}
	for _, n := range notes(answers, func(c *answer.Card) []string { return c.Sources }) {
		o.Items = append(o.Items, Item{Body: &Source{*n}})
	}
	return o
}

// Draw puts their pictures on the cards, for whom wants whole ones.
func (o *Outline) Draw(book *calc.Book) {
	for i := range o.Items {
		if c, is := o.Items[i].Body.(*Card); is {
			book.Draw(o.Items[i].Line, c.Card)
		}
	}
}

// add puts the items of the next line behind the others. The first note is the
// title; notes that follow one another are one paragraph.
func (o *Outline) add(items []Item) {
	if len(items) != 1 {
		o.Items = append(o.Items, items...)
		return
	}
	prose, is := items[0].Body.(*Prose)
	switch n := len(o.Items); {
	case !is || prose.Aside:
	case n == 0:
		items[0].Body = &Heading{prose.Text, true}
	default:
		above, is := o.Items[n-1].Body.(*Prose)
		at := len(o.Lines) - 1
		if is && !above.Aside && len(above.Text) < mostProse && o.together(o.Items[n-1].Line, at) {
			above.Text += " " + prose.Text
			return
		}
	}
	o.Items = append(o.Items, items...)
}

// mostProse is how long a paragraph of notes, a row each, may become before another is
// begun.
const mostProse = 5000

// together reports whether from a line to line i all are notes.
func (o *Outline) together(from *syntax.Line, i int) bool {
	for ; i >= 0 && o.Lines[i] != from; i-- {
		if r, is := o.Lines[i].Node.(*syntax.Remark); !is || r.Text == "" {
			return false
		}
	}
	return true
}

// Line makes the items of one line: what is wrong with it first.
func Line(a *calc.Answer) []Item {
	var items []Item
	add := func(b Body) { items = append(items, Item{a.Line, b}) }
	if len(a.Errors)+len(a.Notices)+len(a.Waiting) > 0 {
		add(&Fault{a.Name, a.Errors, a.Notices, a.Waiting})
	}
	if note, is := a.Line.Node.(*syntax.Remark); is {
		switch {
		case note.Heading() != "":
			add(&Heading{Text: note.Heading()})
		case note.Aside() != "":
			add(&Prose{note.Aside(), true})
		case note.Text != "":
			add(&Prose{Text: note.Text})
		}
	}
	if a.Value != nil || len(a.Columns) > 0 || a.Name != "" && a.Rule == nil {
		add(&Answer{a.Name, a.Line.Note, a.Value, a.Columns, a.Assumed, Repeats(a)})
	}
	if a.Rule != nil {
		add(&Verdict{a.Name, *a.Rule})
	}
	for _, c := range a.Cards {
		add(&Card{c})
	}
	switch s := a.Study.(type) {
	case nil:
	case *answer.Working:
		add(working{s})
	case *answer.Picture:
		if d := Drawing(s, units.Unit.Shown); d != nil {
			s.Sentence = d.Sentence()
		}
		add(study{s})
	default:
		add(study{s})
	}
	return items
}

// Hear puts what was heard of a line before what it has to say.
func (o *Outline) Hear(l *syntax.Line, h *hear.Heard) {
	// The items of a line stand together, in the order of the lines.
	at := 0
	for _, before := range o.Lines[:slices.Index(o.Lines, l)] {
		for at < len(o.Items) && o.Items[at].Line == before {
			at++
		}
	}
	o.Items = slices.Insert(o.Items, at, Item{l, &Heard{h}})
	o.Cure(l, h)
}

// Cure gives the first error of a line the cure that was heard, in the place of
// one that knows the line's form alone.
func (o *Outline) Cure(l *syntax.Line, h *hear.Heard) {
	for _, i := range o.Items {
		if f, ok := i.Body.(*Fault); ok && i.Line == l && len(f.Errors) > 0 && h.Cure() != "" {
			f.Errors = slices.Clone(f.Errors)
			f.Errors[0].Cure = h.Cure()
		}
	}
}

// Write gives the list to a writer.
func (o *Outline) Write(w Writer) {
	w.Begin(o)
	rest := o.Items
	for _, l := range o.Lines {
		w.Each(l)
		for len(rest) > 0 && rest[0].Line == l {
			rest[0].Write(w)
			rest = rest[1:]
		}
	}
	for i := range rest {
		rest[i].Write(w)
	}
	w.End(o)
}

// Write gives the item to a writer.
func (i *Item) Write(w Writer) { i.Body.write(i, w) }

// Repeats reports whether a line's answer says no more than the line does, as
// for "track = 15 V".
func Repeats(a *calc.Answer) bool {
	switch n := a.Line.Node.(type) {
	case *syntax.Define:
		return a.Value != nil && !a.Value.Column() && !a.Assumed && asTyped(n) == a.Value.String()
	case *syntax.Table:
		return n.From == nil && literal(n) && len(a.Errors)+len(a.Waiting) == 0
	}
	return false
}

// asTyped is the right side of a definition as it stands in a file.
func asTyped(n *syntax.Define) string {
	text := syntax.PrintExpr(n.Expr)
	if n.Tail.Tol != nil {
		text += " +- " + n.Tail.Tol.By.Text
	}
	return text
}

// literal reports whether a table's cells are all values, not formulas.
func literal(t *syntax.Table) bool {
	for _, row := range t.Rows {
		for _, cell := range row.Cells {
			switch cell.Expr.(type) {
			case *syntax.Literal, *syntax.Text, *syntax.Truth, *syntax.Date:
			default:
				return false
			}
		}
	}
	return true
}

// Waits says what a line waits for, in words.
func (f *Fault) Waits() string { return strings.Join(f.Waiting, ", ") }
