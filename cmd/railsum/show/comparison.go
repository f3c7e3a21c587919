package show

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"railsum/calc/answer"
	"railsum/units/words"
)

// mostMoved is how many values of one kind a comparison shows.
const mostMoved = 40

// Comparison writes what has changed from one state of a notebook to another:
// verdicts first, then inputs, answers, sheets and names. Now and was are what the
// two are called.
func (p *Printer) Comparison(was, now string, c *answer.Comparison) {
	if c.Same() {
		p.row(p.paint(p.head, Safe(now)) + ": the same as " + Safe(was) + ", name by name")
		p.shared(c)
		return
	}
	head := p.paint(p.head, Safe(now)) + " against " + Safe(was) + ": " + p.Verdict(c.Now.Verdict)
	if c.Was.Verdict != c.Now.Verdict {
		head += ", was " + p.Verdict(c.Was.Verdict)
	}
	p.row(head)
	if c.Was.Errors != c.Now.Errors {
		p.wrapped("  ", count(c.Now.Errors, "line is",
			"lines are")+" in error or waiting, "+strconv.Itoa(c.Was.Errors)+" before")
	}
	p.rejudged(c)
	p.moved("inputs", c.Inputs)
	p.moved("answers", c.Answers)
	if c.Slight > 0 {
		p.wrapped("  ", count(c.Slight, "answer", "answers")+" moved by 1 % or less")
	}
	if len(c.Sheets) > 0 {
		p.Heading("sheets")
	}
	for _, s := range c.Sheets {
		p.wrapped("  ", sheetChange(&s))
	}
	p.names("new", c.New)
	p.names("gone", c.Gone)
	p.shared(c)
}

// shared says which files both were read with, for what has changed in them does not show.
func (p *Printer) shared(c *answer.Comparison) {
	if len(c.Shared) > 0 {
		p.wrapped("  ", "both read with "+Safe(words.And(c.Shared))+" as of today")
	}
}

// rejudged writes the rules and cards that are judged otherwise.
func (p *Printer) rejudged(c *answer.Comparison) {
	if len(c.Rules)+len(c.Cards) == 0 {
		return
	}
	p.Heading("verdicts")
	for i := range c.Rules {
		r := &c.Rules[i]
		at := ""
		if r.Name != "" {
			at = Safe(r.Name) + ", "
		}
		switch {
		case r.Now == nil:
			p.wrapped("  ", "gone, was "+p.Verdict(r.Was.Verdict)+": "+at+p.ruled(r.Was))
			continue
		case r.Was == nil:
			p.wrapped("  ", p.Verdict(r.Now.Verdict)+", new: "+at+p.ruled(r.Now)+p.because(r.Now))
		case r.Was.Verdict == r.Now.Verdict:
			p.wrapped("  ", p.Verdict(r.Now.Verdict)+" as before: "+at+p.ruled(r.Now)+", was a "+r.Was.Must.String())
		default:
			p.wrapped("  ", p.Verdict(r.Now.Verdict)+", was "+p.Verdict(r.Was.Verdict)+": "+at+p.ruled(r.Now)+p.because(r.Now))
		}
	}
	for _, r := range c.Cards {
		p.wrapped("  ", p.Verdict(r.Now)+", was "+p.Verdict(r.Was)+": "+Safe(r.Name)+", for its inputs")
	}
}

// moved writes values that are other ones. Of a column it is the row that moved
// most, and how many more.
func (p *Printer) moved(heading string, all []answer.Moved) {
	if len(all) == 0 {
		return
	}
	p.Heading("%s", heading)
	settled, all := p.settled(all)
	for _, row := range settled {
		p.wrapped("  ", row)
	}
	told := 0
	for from, to := 0, 0; from < len(all); from = to {
		for to = from + 1; to < len(all) && all[to].Name == all[from].Name; to++ {
		}
		if told++; told <= mostMoved {
			p.movedRows(all[from:to])
		}
	}
	if more := told - mostMoved; more > 0 {
		p.wrapped("  ", fmt.Sprintf("and %d more", more))
	}
}

// settled takes out the inputs whose value is the same and settled otherwise, and
// gives a row for each way in which they are.
func (p *Printer) settled(all []answer.Moved) (rows []string, rest []answer.Moved) {
	type way struct{ was, now answer.State }
	names := map[way][]string{}
	var ways []way
	for _, m := range all {
		if was, now := p.apart(m.Was, m.Now); m.WasState == m.NowState || was != now {
			rest = append(rest, m)
			continue
		}
		w := way{m.WasState, m.NowState}
		if names[w] == nil {
			ways = append(ways, w)
		}
		names[w] = append(names[w], Safe(m.Name))
	}
	for _, w := range ways {
		in := strings.Trim(stated(w.now), " ()") + ", " + "was " + strings.Trim(stated(w.was), " ()") + ": "
		some := names[w]
		if more := len(some) - mostMoved; more > 0 {
			some = append(some[:mostMoved:mostMoved], fmt.Sprintf("and %d more", more))
		}
		rows = append(rows, in+strings.Join(some, ", "))
	}
	return rows, rest
}

// movedRows writes the rows of one name.
func (p *Printer) movedRows(rows []answer.Moved) {
	m := &rows[0]
	for i := range rows {
		if by := rows[i].Percent; by == nil || m.Percent != nil && math.Abs(*by) > math.Abs(*m.Percent) {
			m = &rows[i]
		}
	}
	name := Safe(m.Name)
	if m.Label != "" {
		name += " of " + Safe(m.Label)
	}
	if len(rows) > 1 {
		name += fmt.Sprintf(" and %d more", len(rows)-1)
	}
	was, now := p.apart(m.Was, m.Now)
	if m.Was == nil && m.Now == nil { // a table that a sheet asks for
		was, now = "", ""
	}
	if m.Percent != nil {
		now += percent(m.Percent)
	}
	if m.WasState != m.NowState {
		was, now = strings.TrimLeft(was+stated(m.WasState), " "), strings.TrimLeft(now+stated(m.NowState), " ")
	}
	p.wrapped("  ", name+": "+was+" "+p.arrow()+" "+now)
}

// stated is where an input's value comes from, in words behind it.
func stated(s answer.State) string {
	switch s {
	case answer.From:
		return " (from elsewhere)"
	case answer.Agreed:
		return " (agreed)"
	case answer.Default:
		return " (the sheet's own)"
	case answer.Assumed:
		return " (assumed)"
	case answer.Set:
		return " (yours)"
	}
	return ""
}

// apart spells two values with as many figures as tell them apart.
func (p *Printer) apart(was, now *answer.Value) (string, string) {
	left, right := p.Value(was), p.Value(now)
	if left != right || was == nil || now == nil || !was.Quantity() || was.Column() || !was.Sound() ||
		was.Numbers[0] == now.Numbers[0] {
		return left, right
	}
	for digits := 5; digits <= 12 && left == right; digits++ {
		left, right = p.figures(was, digits), p.figures(now, digits)
	}
	return left, right
}

func sheetChange(s *answer.SheetChange) string {
	switch {
	case s.Name != "":
		return Safe(s.Name) + " is a " + Safe(s.Now.Sheet) + " now, was a " + Safe(s.Was.Sheet)
	case s.Was.Edition != s.Now.Edition:
		return Safe(s.Now.Sheet) + ": edition " + strconv.Itoa(s.Now.Edition) + " now, was " + strconv.Itoa(s.Was.Edition)
	}
	return Safe(s.Now.Sheet) + ": its lines have changed"
}

// names writes a list of names behind its heading.
func (p *Printer) names(heading string, names []string) {
	if len(names) == 0 {
		return
	}
	shown := make([]string, 0, len(names))
	for _, name := range names[:min(mostMoved, len(names))] {
		shown = append(shown, Safe(name))
	}
	if more := len(names) - mostMoved; more > 0 {
		shown = append(shown, "and "+strconv.Itoa(more)+" more")
	}
	p.wrapped("", p.paint(p.head, heading)+": "+strings.Join(shown, ", "))
}
