package show

import (
	"fmt"
	"slices"
	"strings"

	"railsum/calc/answer"
)

// What is shown of a long sweep; --csv writes all of it.
const (
	mostRows   = 24 // of a table
	mostCurves = 6  // of a chart, and blocks of a family
	mostCharts = 4
)

// Vary writes a sweep: a table, in which the places where a verdict turns are
// marked in words, and a chart of each shown value. For a screen reader and in
// a narrow window a sentence stands in place of the chart.
func (p *Printer) Vary(v *answer.Varied) {
	if v.TooMuch { // a notice says so, and what to do
		return
	}
	g := gridOf(v)
	if g.main.n == 0 || len(v.Shown) == 0 {
		p.say("no rows")
		return
	}
	p.in(v.With)
	if v.Every > 1 {
		p.say(fmt.Sprintf("of %d rows, one value in %d is looked at here; railsum read --csv writes all", v.Rows, v.Every))
	}
	switch {
	case !g.two():
		p.along(g)
	case len(v.Shown) == 1:
		p.twoWays(g, &v.Shown[0])
	default:
		p.families(g)
	}
	p.unanswered(v)
	if unmoved(v) {
		p.say(p.unmovedBy(v))
		return
	}
	if p.spoken() {
		p.courses(g)
		return
	}
	p.charts(g)
}

// unmoved reports whether no shown value is another anywhere in the sweep.
func unmoved(v *answer.Varied) bool {
	for i := range v.Shown {
		s := v.Shown[i].Value
		for row := range s.Rows() {
			switch {
			case s.Fault(row) != s.Fault(0):
				return false
			case row < len(s.Numbers) && s.Numbers[row] != s.Numbers[0]:
				return false
			case row < len(s.Texts) && s.Texts[row] != s.Texts[0]:
				return false
			}
		}
	}
	return len(v.Axes[0].Value.Numbers) > 1
}

// unmovedBy says that a sweep has changed nothing.
func (p *Printer) unmovedBy(v *answer.Varied) string {
	var axes []string
	for i := range v.Axes {
		axes = append(axes, Safe(v.Axes[i].Name()))
	}
	by := strings.Join(axes, " and ")
	if len(v.Shown) == 1 {
		return Safe(v.Shown[0].Name()) + " does not change with " + by
	}
	return "no shown value changes with " + by
}

// spoken reports whether sentences stand in place of charts.
func (p *Printer) spoken() bool { return p.Stacked || p.Width < narrow }

// grid is a sweep with its axes in their parts: along the main axis run the
// rows of a table and the curves of a chart, and there is one column of a table
// and one curve for each value of the other, which has no more values than it.
type grid struct {
	v           *answer.Varied
	main, other axis
}

// axis is an axis of a sweep: how many values it takes, and how many rows of
// the sweep lie between one value and the next.
type axis struct {
	*answer.Series
	n, every int
}

func gridOf(v *answer.Varied) grid {
	kept := len(v.Axes[0].Value.Numbers)
	if len(v.Axes) == 1 {
		return grid{v: v, main: axis{&v.Axes[0], kept, 1}}
	}
	inner := max(1, min(v.Axes[1].Points, kept))
	first := axis{&v.Axes[0], kept / inner, inner}
	second := axis{&v.Axes[1], inner, 1}
	if first.n < second.n {
		first, second = second, first
	}
	return grid{v, first, second}
}

func (g *grid) two() bool { return g.other.Series != nil }

// row is the row of the sweep for a value of each axis.
func (g *grid) row(main, other int) int { return main*g.main.every + other*g.other.every }

// along writes the table of a sweep with one axis.
func (p *Printer) along(g grid) {
	must := []int{}
	turns := map[int][]answer.TurnAt{}
	for _, t := range g.v.Turns {
		if t.Row < g.main.n && len(turns[t.Row])+len(must) < mostRows {
			must = append(must, t.Row-1, t.Row)
			turns[t.Row] = append(turns[t.Row], t)
		}
	}
	shown := chosen(g.main.n, mostRows, must)
	rows := p.cells(g, shown, func(i int) int { return i }, g.v.Shown)
	before := make([][]string, len(rows))
	for k, i := range shown {
		for _, t := range turns[i] {
			before[k] = append(before[k], p.turnsBetween(g, t))
		}
	}
	heads := heads(g.main.Series, g.v.Shown)
	p.sweepTable(heads, rows, before, p.indent)
	p.thinned(len(shown), g.main.n, "rows")
	if g.v.MoreTurns > 0 {
		p.say(fmt.Sprintf("%d more verdicts turn along the way", g.v.MoreTurns))
	}
}

// turnsBetween says between which two values of the axis a verdict turns.
func (p *Printer) turnsBetween(g grid, t answer.TurnAt) string {
	x := g.main.Value
	return p.turn(&t.Turn) + " between " + p.Cell(x, t.Row-1) + " and " + p.Cell(x, t.Row)
}

// heads are the heads of a table: the axis and what is shown, made safe.
func heads(x *answer.Series, shown []answer.Series) []string {
	all := []string{Safe(x.Name())}
	for i := range shown {
		all = append(all, Safe(shown[i].Name()))
	}
	return all
}

// cells are the rows of a table; row finds the row of the sweep.
func (p *Printer) cells(g grid, at []int, row func(i int) int, shown []answer.Series) [][]string {
	rows := make([][]string, len(at))
	for k, i := range at {
		r := row(i)
		rows[k] = []string{p.Cell(g.main.Value, r)}
		for s := range shown {
			rows[k] = append(rows[k], p.point(&shown[s], r))
		}
	}
	return rows
}

// point is a value of a series; why there is none is told below the table.
func (p *Printer) point(s *answer.Series, row int) string {
	if s.Value.Fault(row) != "" {
		return "no answer"
	}
	return p.Cell(s.Value, row)
}

// families writes a table for each value of the axis with fewer values.
func (p *Printer) families(g grid) {
	blocks := chosen(g.other.n, mostCurves, nil)
	at := chosen(g.main.n, mostRows/2, nil)
	for _, o := range blocks {
		p.row(p.indent + p.paint(p.head, Safe(g.other.Name())+" = "+p.Cell(g.other.Value, g.row(0, o))))
		rows := p.cells(g, at, func(i int) int { return g.row(i, o) }, g.v.Shown)
		p.sweepTable(heads(g.main.Series, g.v.Shown), rows, nil, p.indent+"  ")
	}
	p.thinned(len(at), g.main.n, "values of "+Safe(g.main.Name()))
	p.thinned(len(blocks), g.other.n, "values of "+Safe(g.other.Name()))
}

// thinned says that not everything is shown.
func (p *Printer) thinned(shown, of int, what string) {
	if shown < of {
		p.say(fmt.Sprintf("%d of %d %s shown; railsum read --csv writes all", shown, of, what))
	}
}

// unanswered says how often and why there is no answer.
func (p *Printer) unanswered(v *answer.Varied) {
	for i := range v.Shown {
		s := &v.Shown[i]
		n, why := 0, ""
		for _, f := range s.Value.Faults {
			if f != "" {
				n++
				why = f
			}
		}
		if n > 0 {
			p.say(fmt.Sprintf("%s has %s in %s: %s", Safe(s.Name()), p.paint(p.none, "no answer"), count(n, "row", "rows"),
				Safe(why)))
		}
	}
}

// chosen picks at most about so many of n places: every so manieth, the last,
// and those that must be among them.
func chosen(n, most int, must []int) []int {
	picked := slices.Clone(must)
	if n > most && most < mostCurves*2 { // few: evenly, down to two
		for i := range most {
			picked = append(picked, i*(n-1)/(most-1))
		}
	} else {
		for i := 0; i < n; i += stride(n, most) {
			picked = append(picked, i)
		}
	}
	if n > 0 {
		picked = append(picked, n-1)
	}
	slices.Sort(picked)
	return slices.Compact(picked)
}

// stride is the least of 1, 2, 5, 10, 20 … that leaves no more than so many of
// n places, so that round steps stay round.
func stride(n, most int) int {
	for ten := 1; ; ten *= 10 {
		for _, k := range []int{1, 2, 5} {
			if (n-1)/(k*ten)+1 <= most {
				return k * ten
			}
		}
	}
}
