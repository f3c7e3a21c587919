package page

import (
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/typeface"
	"railsum/units"
)

// Papers are sets of questions to be answered by hand, with one page of answers for all of them.
type Papers struct {
	Title   string
	By      string // what made them
	Hazards []string
	Each    []Paper
}

// Paper is what one person gets.
type Paper struct {
	Title string
	Call  string // what asks the same at a terminal
	Sets  []*outline.Set
}

// mostWorked is how many papers have their workings among the answers.
const mostWorked = 1

// Write writes the questions, and the answers behind them or alone. The error is that of the writer, or says that the
// page is too large.
func (p *Papers) Write(w io.Writer, opt Options) error {
	m := &maker{opt: opt}
	d := &papers{data: data{Title: p.Title, Large: opt.Large, Style: sheetStyle(opt, p.Title+" \u00b7 "+p.By)}}
	d.By = strings.Join(slices.DeleteFunc([]string{p.By, opt.Date}, func(s string) bool { return s == "" }), " \u00b7 ")
	for _, text := range p.Hazards {
		d.First = append(d.First, warning{"", text})
	}
	for i := range p.Each {
		one := &p.Each[i]
		m.replies, m.numbered = nil, 0
		x := paper{No: i + 1, Title: one.Title, Call: one.Call}
		for _, set := range one.Sets {
			x.Sets = append(x.Sets, paperSet{set.Title, m.tasks(set, len(p.Each) <= mostWorked)})
		}
		d.Each = append(d.Each, x)
		d.Replies = append(d.Replies, paperReplies{one.Title, m.replies})
	}
	name := "papers"
	switch opt.Answers {
	case Apart:
		name = "papers apart"
	case None:
		d.Replies = nil
	}
	return written(w, name, d)
}

type (
	papers struct {
		data
		Each    []paper
		Replies []paperReplies
	}
	paper struct {
		No          int
		Title, Call string
		Sets        []paperSet
	}
	paperSet struct {
		Title string
		Tasks []task
	}
	paperReplies struct {
		Title   string
		Replies []reply
	}

	// task is a question with room for its answer.
	task struct {
		No     int
		Ask    string
		Given  []fact
		Tables []*columns
	}
	fact struct{ Meaning, Value string }

	// mistake is what a usual mistake comes to.
	mistake struct{ Value, Why string }
)

// tasks writes the questions of a set and keeps their answers.
func (m *maker) tasks(set *outline.Set, worked bool) []task {
	var all []task
	for _, q := range set.Questions {
		m.numbered++
		t := task{No: m.numbered, Ask: q.Ask}
		for _, g := range q.Given {
			if g.Value == nil || !g.Value.Column() {
				t.Given = append(t.Given, fact{g.Meaning, m.value(g.Value)})
				continue
			}
			t.Tables = column(t.Tables, g)
		}
		all = append(all, t)
		r := reply{No: m.numbered, Question: q.Ask, Answer: m.value(q.Right)}
		for _, s := range q.Slips {
			r.Mistakes = append(r.Mistakes, mistake{m.value(s.Wrong), s.Why})
		}
		if worked {
			r.Work = m.worked(q.Steps())
		}
		m.replies = append(m.replies, r)
	}
	return all
}

// column puts what a question tells of each row of a table beside what it tells of the same rows.
func column(all []*columns, g outline.Given) []*columns {
	l := &answer.CardLine{Name: g.Meaning, Value: g.Value}
	if n := len(all); n > 0 && all[n-1].with(l, nil) {
		return all
	}
	x := &columns{of: g.Value.Type.Of}
	x.with(l, nil)
	return append(all, x)
}

// worked is a working, a row for each step, from the inputs up.
func (m *maker) worked(steps []answer.Step) []string {
	var rows []string
	for _, i := range upward(steps) {
		s := &steps[i]
		if s.Formula.IsZero() || s.Formula.Bare() || s.Answer == nil {
			continue
		}
		row := s.Name + " = " + signs(syntax.PrintExprIn(left(s), units.Unit.Shown))
		for _, d := range s.Decided {
			row += ", as " + signs(syntax.PrintExprIn(d.By.Expr, units.Unit.Shown)) + " " + d.Why + ","
		}
		if !s.Filled.IsZero() {
			row += " = " + signs(syntax.PrintExprIn(s.Filled.Expr, units.Unit.Shown))
		}
		value := s.Answer
		if value.Column() {
			value = value.Row(0)
		}
		rows = append(rows, row+" = "+m.value(value))
	}
	return rows
}

// Exercise is questions to be answered on the page, if somebody makes them.
func (m studies) Exercise(e *answer.Exercise) {
	if m.opt.Set == nil {
		return
	}
	set, err := m.opt.Set(e)
	if err != nil {
		m.block("Your turn", "fault", err.Error())
		return
	}
	for _, t := range m.tasks(set, false) { // the page has workings enough
		m.block("Your turn", "task", t)
	}
}

// sheetStyle is the style of a page, with what stands in the margin of each sheet of paper.
func sheetStyle(opt Options, margin string) template.CSS {
	s := style
	if !opt.Plain {
		s = typeface.Faces() + style
	}
	return template.CSS(s + "\n@media print{@page{@bottom-left{content:" + cssText(clip(margin, marginEms)) + "}}}")
}

// written writes a page that is not too large.
func written(w io.Writer, name string, d any) error {
	var b strings.Builder
	if err := pages().ExecuteTemplate(&b, name, d); err != nil {
		return err
	}
	if b.Len() > MostBytes {
		return fmt.Errorf("the page would be larger than %d MB", MostBytes>>20)
	}
	_, err := io.WriteString(w, b.String())
	return err
}
