package main

import (
	"fmt"
	"strconv"
	"strings"

	"railsum/calc"
	"railsum/calc/types"
	"railsum/cmd/railsum/show"
)

const plainHelp = `
--plain writes a record a row, its eight fields separated by tabs: file, row,
what it is (verdict, value, tolerance, rule, card, ask, give, a study, waiting,
error, notice), name, label, value, unit, remark. A column has a record for each of
its rows, a value with a tolerance one more record behind it. A rule has its verdict
as the value, its condition as the remark, and the piece it belongs to as the label;
a card its sheet as the label and its verdict as the value; an ask has set, default
or assumed as the remark.
`

// record is a row of --plain.
type record struct {
	file, what, name, label, value, unit, remark string
	row                                          int
}

func (a *app) emit(r record) {
	fields := []string{r.file, "", r.what, r.name, r.label, r.value, r.unit, r.remark}
	for i := range fields {
		fields[i] = show.Safe(fields[i])
	}
	if r.row > 0 {
		fields[1] = strconv.Itoa(r.row)
	}
	fmt.Fprintln(a.out, strings.Join(fields, "\t"))
}

// plain writes a notebook as records.
func (a *app) plain(n *notebook) {
	tally := show.Count(n.answers)
	a.emit(record{file: n.name, what: "verdict", value: tally.Worst.String(), remark: tally.Words()})
	for _, ans := range n.answers {
		base := record{file: n.name, row: ans.Line.Row, name: ans.Name}
		if ans.Value != nil {
			remark := ""
			if ans.Assumed {
				remark = "assumed"
			}
			a.emitValue(base, "value", ans.Value, remark)
		}
		if ans.Rule != nil {
			a.emitRule(base, ans.Rule)
		}
		for _, c := range ans.Cards {
			a.emitCard(base, c)
		}
		for i := range ans.Columns {
			a.emitCardLine(base, "value", &ans.Columns[i], "")
		}
		if ans.Study != nil {
			a.emitStudy(base, ans.Study)
		}
		for _, name := range ans.Waiting {
			r := base
			r.what, r.remark = "waiting", name
			a.emit(r)
		}
	}
	for _, ans := range n.answers {
		for _, d := range ans.Errors {
			a.emit(record{file: n.name, row: d.At.Row, what: "error", name: ans.Name, remark: d.Error()})
		}
		for _, d := range ans.Notices {
			a.emit(record{file: n.name, row: d.At.Row, what: "notice", name: ans.Name, remark: d.Error()})
		}
	}
}

func (a *app) emitValue(base record, what string, v *calc.Value, remark string) {
	for i := range show.Rows(v) {
		r := base
		r.what, r.label, r.remark = what, show.Label(v, i), remark
		r.value, r.unit = plainValue(v, i), v.Unit.String()
		if why := show.Fault(v, i); why != "" {
			r.value, r.unit, r.remark = "", "", why
		}
		a.emit(r)
	}
	a.emitTolerance(base, v.Tol)
}

// emitTolerance writes the tolerance of the value before it.
func (a *app) emitTolerance(base record, tol string) {
	if tol == "" {
		return
	}
	base.what = "tolerance"
	base.value, base.unit, _ = strings.Cut(tol, " ")
	a.emit(base)
}

// plainValue is a row's number in its unit with all its digits, or its text.
func plainValue(v *calc.Value, i int) string {
	switch {
	case show.Fault(v, i) != "":
		return ""
	case v.Type.Kind == types.Text:
		return v.Texts[i]
	case v.Type.Kind == types.Truth && v.Numbers[i] != 0:
		return "yes"
	case v.Type.Kind == types.Truth:
		return "no"
	}
	return strconv.FormatFloat(inUnit(v, i), 'g', -1, 64)
}

func (a *app) emitRule(base record, j *calc.Judged) {
	base.what, base.label, base.value, base.remark = "rule", j.Piece, j.Verdict.String(), show.RuleText(j)
	a.emit(base)
}

func (a *app) emitCard(base record, c *calc.Card) {
	base.name = c.Name
	head := base
	head.what, head.value = "card", c.Verdict.String()
	if c.Sheet != nil {
		head.label = c.Sheet.Name
	}
	if show.OnDefaults(c) {
		head.remark = show.OwnDefaults
	}
	a.emit(head)
	for i := range c.Asks {
		a.emitCardLine(base, "ask", &c.Asks[i], stateOf(c.Asks[i].State))
	}
	for i := range c.Gives {
		a.emitCardLine(base, "give", &c.Gives[i], "")
	}
	for i := range c.Rules {
		a.emitRule(base, &c.Rules[i])
	}
}

func (a *app) emitCardLine(base record, what string, l *calc.CardLine, remark string) {
	base.name = dotted(base.name, l.Name)
	for i := range l.Columns {
		a.emitCardLine(base, what, &l.Columns[i], remark)
	}
	switch {
	case l.Value != nil:
		a.emitValue(base, what, l.Value, remark)
	case len(l.Columns) == 0:
		base.what, base.remark = what, l.Why
		a.emit(base)
	}
}

func dotted(card, name string) string {
	if card == "" {
		return name
	}
	return card + "." + name
}
