package main

import (
	"bufio"
	"io"
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
)

const plainHelp = `
--plain writes a record a row, its eight fields separated by tabs: file, row,
what it is (verdict, value, tolerance, rule, card, ask, take, tell, outside, a study,
waiting, hazard, source, error, notice, heard, reading, correction, proposal), name,
label, value, unit, remark. A column
has a record for each of its rows, a value with a tolerance one more record after
it. A rule has its verdict as the value, its condition as the remark, and the piece
it belongs to as the label; after it come the values compared (left, right; over
rows those of the worst row, which is the label) and a record (fails) for each row
where it does not hold. A card has its sheet as the label and its verdict as the
value; an ask has set, default or assumed as the remark, and after it (outside) the
range that it lies outside. A hazard has the cards it is of as the name, a source
the sheet.

A study writes records of its own kind: find (labels at, from, to, jump, pole,
nearest, none, take; an end that is left out says so), vary (one for each point and
shown value, its label the place on the axes), turn, suppose (labels now, supposed,
change), spread (labels nominal, lowest, highest, root sum square, low 95, high 95,
part, and must or should with the share of cases), working (its formula as the
remark), measured (labels sum, meter, difference, inside or outside, and explains).
`

// record is a row of --plain.
type record struct {
	what, name, label, value, unit, remark string
	row                                    int
}

// records writes notebooks as records.
type records struct {
	w     *bufio.Writer
	file  string
	wrong []record // told at the end
}

func newRecords(w io.Writer) *records { return &records{w: bufio.NewWriter(w)} }

func (p *records) emit(r record) {
	row := ""
	if r.row > 0 {
		row = strconv.Itoa(r.row)
	}
	for i, field := range []string{p.file, row, r.what, r.name, r.label, r.value, r.unit, r.remark} {
		if i > 0 {
			p.w.WriteByte('\t')
		}
		p.w.WriteString(show.Safe(field))
	}
	p.w.WriteByte('\n')
}

func (p *records) Begin(o *outline.Outline) {
	p.file, p.wrong = o.Name, nil
	p.emit(record{what: "verdict", value: o.Tally.Worst.String(), remark: o.Tally.Words()})
}

func (p *records) Each(*syntax.Line)                          {}
func (p *records) Heading(*outline.Item, *outline.Heading)    {}
func (p *records) Prose(*outline.Item, *outline.Prose)        {} // a record is of an answer
func (p *records) Working(i *outline.Item, w *answer.Working) { p.Study(i, w) }

func (p *records) End(*outline.Outline) {
	for _, r := range p.wrong {
		p.emit(r)
	}
}

func (p *records) Answer(i *outline.Item, a *outline.Answer) {
	base := record{row: i.Line.Row, what: "value", name: a.Name}
	if a.Assumed {
		base.remark = "assumed"
	}
	if a.Value != nil {
		p.typed(base, a.Value)
	}
	base.remark = ""
	for k := range a.Columns {
		p.cardLine(base, &a.Columns[k])
	}
}

// value writes a value, a record for each row.
func (p *records) value(base record, v *answer.Value) {
	label := base.label
	for i := range v.Rows() {
		r := base
		r.label = strings.TrimLeft(label+" "+v.Label(i), " ")
		if !v.Column() {
			r.label = label
		}
		r.value, r.unit = v.Full(i), v.Unit.String()
		if why := v.Fault(i); why != "" {
			r.unit, r.remark = "", why
		}
		p.emit(r)
	}
}

// typed writes a value with its tolerance.
func (p *records) typed(base record, v *answer.Value) {
	p.value(base, v)
	if !v.Tol.IsZero() {
		base.what, base.value, base.unit, base.remark = "tolerance", v.Tol.Number, v.Tol.Unit.String(), ""
		p.emit(base)
	}
}

func (p *records) Verdict(i *outline.Item, v *outline.Verdict) {
	p.rule(record{row: i.Line.Row, name: v.Name}, &v.Judged)
}

func (p *records) rule(base record, j *answer.Judged) {
	r := base
	r.what, r.label, r.value, r.remark = "rule", j.Piece, j.Verdict.String(), j.String()
	p.emit(r)
	if c := j.Compared; c != nil {
		base.label = c.Row
		base.what, base.remark = "left", c.Sign
		p.value(base, c.Left)
		base.what, base.remark = "right", ""
		p.value(base, c.Right)
	}
	for _, label := range j.Fails {
		p.emit(record{row: base.row, what: "fails", name: base.name, label: label, remark: j.String()})
	}
}

func (p *records) Card(i *outline.Item, c *outline.Card) {
	base := record{row: i.Line.Row, name: c.Name}
	head := base
	head.what, head.label, head.value = "card", c.Sheet, c.Verdict.String()
	if c.OnDefaults {
		head.remark = answer.OwnDefaults
	}
	p.emit(head)
	for k := range c.Asks {
		ask := base
		ask.what, ask.remark = "ask", c.Asks[k].Settled()
		if c.Asks[k].Granted {
			ask.what = "take"
		}
		p.cardLine(ask, &c.Asks[k])
	}
	for k := range c.Gives {
		tell := base
		tell.what = "tell"
		p.cardLine(tell, &c.Gives[k])
	}
	for k := range c.Rules {
		p.rule(base, &c.Rules[k])
	}
}

func (p *records) cardLine(base record, l *answer.CardLine) {
	base.name = dotted(base.name, l.Name)
	for i := range l.Columns {
		p.cardLine(base, &l.Columns[i])
	}
	switch {
	case l.Value != nil:
		p.typed(base, l.Value)
	case len(l.Columns) == 0:
		base.remark = l.Why
		p.emit(base)
	}
	if l.Outside {
		p.emit(record{row: base.row, what: "outside", name: base.name, remark: l.Range.String()})
	}
}

func dotted(card, name string) string {
	if card == "" {
		return name
	}
	return card + "." + name
}

func (p *records) Study(i *outline.Item, s answer.Study) {
	for f := range s.Facts() {
		r := record{row: i.Line.Row, what: s.Word(), name: f.Name, label: f.Label, value: f.Text, remark: f.Remark}
		if f.Turn {
			r.what = "turn"
		}
		if f.Value == nil {
			p.emit(r)
		} else {
			p.value(r, f.Value)
		}
	}
}

func (p *records) Hazard(_ *outline.Item, h *outline.Hazard) {
	p.emit(record{what: "hazard", name: strings.Join(h.Cards, ", "), label: h.Sheet, remark: h.Text})
}

func (p *records) Source(_ *outline.Item, s *outline.Source) {
	p.emit(record{what: "source", name: strings.Join(append([]string{s.Sheet}, s.Also...), ", "), remark: s.Text})
}

func (p *records) Heard(i *outline.Item, h *outline.Heard) {
	row := i.Line.Row
	if h.Line != nil {
		p.emit(record{row: row, what: "heard", value: h.Text(), remark: strings.Join(h.Said, "; ")})
	}
	for _, r := range h.Readings {
		p.emit(record{row: row, what: "reading", value: r.Line, remark: r.Value})
	}
	if h.Correction != "" {
		p.emit(record{row: row, what: "correction", value: h.Correction})
	}
	for _, s := range h.Proposals {
		p.emit(record{row: row, what: "proposal", label: s.Sheet, value: s.Line})
	}
}

func (p *records) Fault(i *outline.Item, f *outline.Fault) {
	for _, name := range f.Waiting {
		p.emit(record{row: i.Line.Row, what: "waiting", name: f.Name, remark: name})
	}
	for _, d := range f.Errors {
		p.wrong = append(p.wrong, record{row: d.At.Row, what: "error", name: f.Name, remark: d.Error()})
	}
	for _, d := range f.Notices {
		p.wrong = append(p.wrong, record{row: d.At.Row, what: "notice", name: f.Name, remark: d.Error()})
	}
}

// Unread leaves a file out that cannot be read; standard error says so.
func (p *records) Unread(string, string, string) {}

// Close writes out what is buffered.
func (p *records) Close() error { return p.w.Flush() }
