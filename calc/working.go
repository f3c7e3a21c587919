package calc

import (
	"strconv"

	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
)

// Working tells how a value arose.
func (a *asking) Working(node *syntax.Working) {
	s := a.Study()
	a.worked = a.book.working(s.X, node.Levels, s.Row)
	leave(a.worked.(*answer.Working).Steps, node.Leaving)
}

// leave keeps the last answers back of a working that goes from its inputs to the
// value, and with them the figures of those in what is left: a formula with an
// answer put in that is to be found would tell it.
func leave(steps []answer.Step, n int) {
	if n == 0 {
		return
	}
	var order []int // the steps as one comes to them from the inputs up
	var open []int
	up := func(level int) {
		for len(open) > 0 && steps[open[len(open)-1]].Level >= level {
			order, open = append(order, open[len(open)-1]), open[:len(open)-1]
		}
	}
	for i := range steps {
		up(steps[i].Level)
		open = append(open, i)
	}
	up(0)
	for i := len(order) - 1; i >= 0 && n > 0; i-- {
		if s := &steps[order[i]]; !s.Formula.IsZero() {
			s.Blank = true
			if !s.Formula.Bare() { // one that repeats another is no answer of its own
				n--
			}
		}
	}
	for i := range steps {
		s := &steps[i]
		for k := i + 1; k < len(steps) && steps[k].Level > s.Level; k++ {
			if steps[k].Blank {
				s.Filled = answer.Expr{}
			}
		}
	}
}

// mostSteps bounds a working; what lies deeper can be asked for by its name.
const mostSteps = 500

// working shows how a value arose: itself, then each ingredient in turn, each
// once, down to the inputs or to a number of levels. Of the columns of one table
// it is the row that was asked for, of all others the first.
func (b *Book) working(d *check.Def, levels, row int) *answer.Working {
	w := &answer.Working{}
	seen := map[*check.Def]bool{}
	told := map[*check.Placement]bool{}
	at := rowOf{d.Type.Of, row}
	var visit func(d *check.Def, level, deep int)
	visit = func(d *check.Def, level, deep int) {
		if seen[d] || len(w.Steps) >= mostSteps || d.Role == check.Constant || d.Line < 0 {
			return
		}
		seen[d] = true
		step, deps := b.step(d, level, at)
		if d.At != nil && !d.Set() {
			step.Sheet = d.At.Sheet.Name
			if !told[d.At] {
				told[d.At] = true
				step.Sources = d.At.Sources
			}
		}
		if d.Role != check.Cell || level == 1 {
			w.Steps = append(w.Steps, step)
		}
		if !step.Formula.Bare() { // what only hands a value over is no level that anybody asked for
			deep++
		}
		if levels > 0 && deep > levels {
			return
		}
		for _, dep := range deps {
			visit(dep, level+1, deep)
		}
	}
	visit(d, 1, 1)
	return w
}

// rowOf is the row of a table that a working is of.
type rowOf struct {
	of  *types.Table
	row int
}

func (r rowOf) in(of *types.Table) int {
	if of != nil && of == r.of {
		return r.row
	}
	return 0
}

// step is a Def in a working, and the ingredients that its formula is left with.
func (b *Book) step(d *check.Def, level int, at rowOf) (s answer.Step, deps []*check.Def) {
	s = answer.Step{Name: d.Name, Answer: b.Value(d), Level: level, Default: d.Default}
	if d.Src != nil {
		s.Meaning = d.Src.Note
	}
	if d.Set() { // the note of a use line is about the sheet in use, that of the sheet about its input
		if _, use := d.Src.Node.(*syntax.Use); use || s.Meaning == "" {
			s.Meaning = askedFor(d)
		}
	}
	if d.Role == check.Question && d.Name == "" {
		s.Name = "line " + strconv.Itoa(d.Line+1)
	}
	if d.Role == check.Cell {
		s.Name = b.CellName(d)
	}
	s.Input = len(d.Deps) == 0
	if s.Input || d.Expr == nil || d.Role == check.Column {
		return s, d.Deps
	}
	s.Formula, deps = answer.Expr{Expr: d.Expr}, d.Deps
	if s.Answer != nil && s.Answer.Sound() && len(s.Answer.Numbers) > 0 {
		g := b.decided(d, at)
		s.Decided, deps = g.said, g.left(deps)
		s.Left = answer.Expr{Expr: (&filling{b: b, taken: g.taken}).alone(d.Expr)}
		s.Filled = b.filled(d, g, s.Answer)
		if of := d.Type.Of; of != nil && !s.Filled.IsZero() {
			s.Row = of.Labels[at.in(of)]
		}
	}
	return s, deps
}

// askedFor is what a sheet says of an input that somebody has set.
func askedFor(d *check.Def) string {
	name := view.ShortName(d)
	for _, l := range d.At.Sheet.File.Lines {
		if a, is := l.Node.(*syntax.Ask); is && a.Name.Text == name {
			return l.Note
		}
	}
	return ""
}

// filled is a formula with the values put in. It has as many digits as it takes
// for it to give the answer that is shown when it is read again. Of a column it
// is one row. It is empty where there is nothing to put in.
func (b *Book) filled(d *check.Def, g *deciding, shown *answer.Value) (best answer.Expr) {
	want := shown.Cell(g.at.in(d.Type.Of))
	for digits := 4; digits <= 15; digits++ {
		f := filling{b: b, digits: digits, refs: g.refs, at: g.at, taken: g.taken}
		e := f.alone(d.Expr)
		if !f.put {
			return answer.Expr{}
		}
		best = answer.Expr{Expr: e}
		if f.left { // names stand in it still, so it cannot be read alone
			return best
		}
		text := best.String()
		if !shown.Unit.IsZero() {
			text += " as " + shown.Unit.String()
		}
		line, _ := syntax.ParseLine(text)
		v := Open([]*syntax.Line{line}, b.lib).Answer(0).Value
		if v == nil || len(v.Numbers) != 1 || !v.Sound() {
			continue
		}
		if v.Unit = shown.Unit; v.Cell(0) == want || !shown.Literal.IsZero() {
			return best
		}
	}
	return best
}
