package show

import (
	"strconv"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
)

// text writes the items of lines as text, each below its line.
type text struct {
	*Printer
	card func(*outline.Item) CardForm
}

func (t *text) Begin(*outline.Outline)                     {}
func (t *text) Each(*syntax.Line)                          {}
func (t *text) End(*outline.Outline)                       {}
func (t *text) Heading(*outline.Item, *outline.Heading)    {} // the line says it
func (t *text) Prose(*outline.Item, *outline.Prose)        {} // the line says it
func (t *text) Hazard(*outline.Item, *outline.Hazard)      {} // the card says it
func (t *text) Source(*outline.Item, *outline.Source)      {}
func (t *text) Study(_ *outline.Item, s answer.Study)      { s.Visit(t.Printer) }
func (t *text) Card(i *outline.Item, c *outline.Card)      { t.AtMargin().Card(c.Card, t.card(i)) }
func (t *text) Working(_ *outline.Item, w *answer.Working) { t.Printer.Working(w) }

// Fault says that a line waits or is in error; what is wrong with it is told
// elsewhere.
func (t *text) Fault(_ *outline.Item, f *outline.Fault) {
	switch {
	case len(f.Waiting) > 0:
		t.wrapped(t.indent, t.paint(t.none, "waiting")+" for "+Safe(f.Waits()))
	case len(f.Errors) > 0:
		t.row(t.indent + t.paint(t.bad, "in error"))
	}
}

func (t *text) Answer(_ *outline.Item, a *outline.Answer) {
	switch {
	case a.Repeats:
	case len(a.Columns) > 0:
		t.columns(a.Columns, t.indent, nil)
	case a.Value == nil:
	case a.Value.Column():
		t.Column(a.Value, t.indent)
	case a.Assumed:
		t.row(t.indent + t.Cell(a.Value, 0) + " (" + t.paint(t.warn, "assumed") + ")")
	default:
		t.row(t.indent + t.Cell(a.Value, 0))
	}
}

func (t *text) Verdict(_ *outline.Item, v *outline.Verdict) {
	t.wrapped(t.indent, t.Printer.Verdict(v.Verdict)+t.because(&v.Judged))
}

// notebook writes a whole notebook: what is not clear, the lines with their
// numbers and answers, then the hazards and the sources of the sheets.
type notebook struct {
	text
	errs  *Printer
	begun bool
	wide  int // of the numbers
	name  string
	wrong []fault // told at the end
	notes string  // the heading and the sheet that notes are being written under
	sheet string
}

type fault struct {
	line *syntax.Line
	*outline.Fault
}

// Notebook is a writer of notebooks; what is wrong with their lines goes to
// another Printer.
func (p *Printer) Notebook(errs *Printer) outline.Files {
	p.SourcesLater = true
	card := func(i *outline.Item) CardForm { return CardForm{Length: First, Row: i.Line.Row} }
	return &notebook{text: text{p, card}, errs: errs}
}

func (n *notebook) Begin(o *outline.Outline) {
	if n.begun {
		n.Blank()
	}
	n.begun = true
	n.name, n.wrong, n.notes, n.sheet = o.Name, nil, "", ""
	if len(o.Lines) > 0 {
		last := o.Lines[len(o.Lines)-1]
		n.wide = len(strconv.Itoa(last.Row+last.Rows()-1)) + len(". ")
	}
	if t := &o.Tally; len(t.Verdicts)+len(t.Findings)+t.Unsettled > 0 {
		n.Verdicts(o.Name, *t)
		n.Blank()
	}
}

func (t *text) Heard(_ *outline.Item, h *outline.Heard) {
	if h.Line != nil {
		t.Printer.Heard(h.Heard)
	}
}

func (n *notebook) Each(l *syntax.Line) {
	if _, blank := l.Node.(*syntax.Blank); blank {
		n.row("")
		return
	}
	n.Numbered(l, n.wide)
}

// Study leaves out what is kept back: a notebook that is read has the question
// alone.
func (n *notebook) Study(i *outline.Item, s answer.Study) {
	if _, guess := s.(*answer.Guess); !guess {
		n.text.Study(i, s)
	}
}

func (n *notebook) Fault(i *outline.Item, f *outline.Fault) {
	n.text.Fault(i, f)
	if len(f.Errors)+len(f.Notices) > 0 {
		n.wrong = append(n.wrong, fault{i.Line, f})
	}
}

func (n *notebook) Hazard(_ *outline.Item, h *outline.Hazard) { n.note("hazards", &h.Note) }

func (n *notebook) Source(_ *outline.Item, s *outline.Source) {
	n.note("sources", &s.Note)
}

// note writes a text under its sheet.
func (n *notebook) note(heading string, text *outline.Note) {
	if n.notes != heading {
		n.Blank()
		n.Printer.Heading("%s", heading)
		n.notes, n.sheet = heading, ""
	}
	if n.sheet != text.Sheet {
		n.wrapped("  ", n.paint(n.head, Safe(text.Sheet)))
		n.sheet = text.Sheet
	}
	where := text.Where()
	if where != "" {
		where = " (" + where + ")"
	}
	n.wrapped("    ", Safe(text.Text+where))
}

// mostTold is of how many lines it is told what is wrong with them: nobody reads
// more, and a file that is no notebook would fill the screen for minutes.
const mostTold = 1000

func (n *notebook) End(*outline.Outline) {
	told := n.wrong[:min(len(n.wrong), mostTold)]
	for _, f := range told {
		n.errs.Diags(n.name, f.line, f.Errors)
		n.errs.Diags(n.name, f.line, marked(f.Notices))
	}
	if more := len(n.wrong) - len(told); more > 0 {
		n.errs.Say("And %s more in error; mend these first.", count(more, "line", "lines"))
	}
}

// marked marks messages as notices, so that they are told from errors.
func marked(diags []syntax.Diag) []syntax.Diag {
	all := make([]syntax.Diag, len(diags))
	for i, d := range diags {
		d.Notice = true
		all[i] = d
	}
	return all
}

// Unread has nothing to add: standard error says why a file cannot be read.
func (n *notebook) Unread(string, string, string) {}

// Close has nothing to do.
func (n *notebook) Close() error { return nil }

// called writes the answers to lines that were typed just now, without the
// lines: what is wrong comes at once, without the place, and a named value is
// told only where it is the last.
type called struct {
	notebook
	asked int // the row of the last question
	last  *syntax.Line
	wrong *syntax.Line // the line that is in error or waits
	told  bool         // and why has been told with what was heard
}

// Called is a writer of the answers to lines given with the call. A card with a
// question below it is told in one row, unless all of it is wanted.
func (p *Printer) Called(errs *Printer, whole bool) outline.Files {
	c := &called{notebook: notebook{errs: errs}}
	c.text = text{p.AtMargin(), func(i *outline.Item) CardForm {
		switch {
		case whole:
			return CardForm{Length: Whole}
		case i.Line.Row < c.asked:
			return CardForm{Length: Title}
		}
		return CardForm{More: "`railsum answer --whole` adds every check, meaning and source"}
	}}
	return c
}

func (c *called) Begin(o *outline.Outline) {
	c.last = o.Lines[len(o.Lines)-1]
	for _, l := range o.Lines {
		if asks(l) {
			c.asked = l.Row
		}
	}
}

// asks reports whether a line is a question, a rule or a study.
func asks(l *syntax.Line) bool {
	switch l.Node.(type) {
	case *syntax.Define, *syntax.Use, *syntax.Table, *syntax.Blank, *syntax.Remark, *syntax.Header, *syntax.Broken:
		return false
	}
	return true
}

func (c *called) Each(*syntax.Line)                         {}
func (c *called) Hazard(i *outline.Item, h *outline.Hazard) { c.text.Hazard(i, h) }
func (c *called) Source(i *outline.Item, s *outline.Source) { c.text.Source(i, s) }

// Heard says what was heard above its answer: on standard error where the answer
// goes to a program.
func (c *called) Heard(i *outline.Item, h *outline.Heard) {
	switch {
	case h.Line == nil:
		if !h.Nothing() {
			c.errs.Unheard(i.Line, h.Heard)
			c.wrong, c.told = i.Line, true
		}
	case c.Terminal:
		c.Printer.Heard(h.Heard)
	default:
		c.errs.Heard(h.Heard)
	}
}

func (c *called) Fault(i *outline.Item, f *outline.Fault) {
	if c.told && c.wrong == i.Line {
		return
	}
	for _, d := range append(f.Errors[:len(f.Errors):len(f.Errors)], f.Notices...) {
		c.errs.Complaint(i.Line, d)
	}
	if len(f.Waiting) > 0 && len(f.Errors) == 0 {
		c.errs.Line(i.Line)
		c.errs.Say("nothing is called %s", f.Waits())
	}
	if len(f.Waiting)+len(f.Errors) > 0 {
		c.wrong, c.told = i.Line, false
	}
}

func (c *called) Answer(i *outline.Item, a *outline.Answer) {
	if _, question := i.Line.Node.(*syntax.Question); c.wrong != i.Line && (question || i.Line == c.last) {
		again := *a
		again.Repeats = false
		c.text.Answer(i, &again)
	}
}

func (c *called) Verdict(i *outline.Item, v *outline.Verdict) {
	if c.wrong != i.Line {
		c.text.Verdict(i, v)
	}
}

func (c *called) Card(i *outline.Item, card *outline.Card) {
	if c.wrong != i.Line {
		c.text.Card(i, card)
	}
}
