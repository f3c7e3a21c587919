package show

import (
	"math"
	"slices"
	"strings"

	"github.com/fatih/color"

	"railsum/calc/answer"
	"railsum/units"
)

// charts draws each shown value over the main axis.
func (p *Printer) charts(g grid) {
	drawn := 0
	left := 0
	for i := 0; i < len(g.v.Shown); {
		group := g.v.Shown[i : i+1]
		for !g.two() && i+len(group) < len(g.v.Shown) && g.v.Shown[i+len(group)].Of == group[0].Of {
			group = g.v.Shown[i : i+len(group)+1]
		}
		i += len(group)
		switch {
		case !group[0].Value.Quantity() || g.main.n < 3:
		case drawn == mostCharts:
			left++
		default:
			p.chart(g, group)
			drawn++
		}
	}
	if left > 0 {
		p.say(count(left, "chart more is", "charts more are") + " left out")
	}
}

// chart draws one shown value: of a column, or with two axes, several curves.
func (p *Printer) chart(g grid, group []answer.Series) {
	c := &chart{
		title: p.caption(titleOf(group), group[0].Value.Unit), across: p.caption(g.main.Name(), g.main.Value.Unit),
		xUnit: g.main.Value.Unit, yUnit: group[0].Value.Unit, wide: p.Width - len(p.indent), high: p.High,
	}
	all := p.curves(g, group, c)
	for i := range group {
		for _, l := range p.limitsOf(g.v, &group[i]) {
			c.levels = appendNew(c.levels, l)
		}
	}
	if !g.two() {
		for _, t := range g.v.Turns {
			if t.Row > 0 && t.Row < g.main.n && len(c.marks) < mostCurves {
				x := g.main.Value
				c.marks = append(c.marks, (x.Unit.FromSI(x.Numbers[t.Row-1])+x.Unit.FromSI(x.Numbers[t.Row]))/2)
			}
		}
	}
	field, beyond := c.layOut()
	if field == nil {
		if _, y := c.spans(); y.wide() == 0 {
			p.say(Safe(titleOf(group)) + " stays " + p.Number(firstSound(&group[0]), c.yUnit))
		}
		return
	}
	p.Blank()
	p.plot(c, field)
	p.legend(g, c, beyond)
	p.thinned(len(c.curves), all, "curves")
}

// titleOf is what a group of series shows: of several the expression without the
// row's label.
func titleOf(group []answer.Series) string {
	if len(group) > 1 {
		return group[0].Expr
	}
	return group[0].Name()
}

func firstSound(s *answer.Series) float64 {
	if lo, _ := extremes(s); lo >= 0 {
		return s.Value.Numbers[lo]
	}
	return 0
}

// curves makes the curves of a chart and says how many there could be.
func (p *Printer) curves(g grid, group []answer.Series, c *chart) (all int) {
	switch {
	case g.two():
		for n, o := range chosen(g.other.n, mostCurves, nil) {
			k := curveOf(g, &group[0], o)
			k.letter, k.name = byte('a'+n), Safe(g.other.Name())+" = "+p.Cell(g.other.Value, g.row(0, o))
			c.curves = append(c.curves, k)
		}
		return g.other.n
	case len(group) > 1:
		for n, i := range chosen(len(group), mostCurves, nil) {
			k := curveOf(g, &group[i], 0)
			k.letter, k.name = byte('a'+n), Safe(group[i].Label)
			c.curves = append(c.curves, k)
		}
		return len(group)
	}
	c.curves = []curve{curveOf(g, &group[0], 0)}
	return 1
}

// curveOf takes the points of a series along the main axis, sorted across.
func curveOf(g grid, s *answer.Series, other int) curve {
	rows := make([]int, g.main.n)
	for i := range rows {
		rows[i] = g.row(i, other)
	}
	x := g.main.Value
	slices.SortStableFunc(rows, func(a, b int) int {
		switch {
		case x.Numbers[a] < x.Numbers[b]:
			return -1
		case x.Numbers[a] > x.Numbers[b]:
			return 1
		}
		return 0
	})
	var k curve
	for _, r := range rows {
		y := math.NaN()
		if s.Value.Fault(r) == "" {
			y = s.Value.Unit.FromSI(s.Value.Numbers[r])
		}
		k.x = append(k.x, x.Unit.FromSI(x.Numbers[r]))
		k.y = append(k.y, y)
	}
	return k
}

// The signs that limits are drawn with.
const (
	mustSign   = '='
	shouldSign = '~'
)

func (p *Printer) limitPaint(must answer.Must) (byte, *color.Color) {
	if must {
		return mustSign, p.bad
	}
	return shouldSign, p.warn
}

// plot writes the field with its axes.
func (p *Printer) plot(c *chart, f *plot) {
	for _, l := range c.levels {
		sign, paint := p.limitPaint(l.must)
		f.limit(c.yUnit.FromSI(l.si), sign, paint)
	}
	for i := range c.curves {
		c.curves[i].first, c.curves[i].every = 6*i+2, 6*len(c.curves)
		f.draw(&c.curves[i])
	}
	p.row(p.indent + p.paint(p.head, c.title))
	for r := len(f.cells) - 1; r >= 0; r-- {
		p.row(p.indent + f.labels[r] + " |" + p.painted(f.cells[r], f.paints[r]))
	}
	below := strings.Repeat(" ", len(f.labels[0]))
	ticks, labels := f.across()
	p.row(p.indent + below + " +" + ticks)
	if marks := f.pointers(c.marks); marks != "" {
		p.row(p.indent + below + "  " + marks)
	}
	p.row(p.indent + below + "  " + labels)
	p.row(p.indent + padLeft(c.across, len(below)+2+f.cols))
}

// painted is a row of the field without the blanks at its end, coloured where
// it has a colour.
func (p *Printer) painted(cells []byte, paints []*color.Color) string {
	row := strings.TrimRight(string(cells), " ")
	var b strings.Builder
	for i := 0; i < len(row); {
		j := i + 1
		for j < len(row) && (paints[j] == paints[i] || row[j] == ' ' && paints[i] != nil) {
			j++
		}
		if paints[i] == nil {
			b.WriteString(row[i:j])
		} else {
			text := strings.TrimRight(row[i:j], " ")
			b.WriteString(p.paint(paints[i], text) + row[i+len(text):j])
		}
		i = j
	}
	return b.String()
}

// across is the axis with its ticks, and their labels below.
func (f *plot) across() (ticks, labels string) {
	line := []byte(strings.Repeat("-", f.cols))
	text := []byte(strings.Repeat(" ", f.cols))
	step := roundStep(f.x.wide() / float64(max(2, f.cols/14)))
	free := 0
	for i := math.Ceil(f.x.lo/step - 1e-9); i*step <= f.x.hi+step*1e-9; i++ {
		c := f.col(i * step)
		if c < 0 || c >= f.cols {
			continue
		}
		line[c] = '+'
		label := units.Format(i * step)
		at := min(max(0, c-len(label)/2), f.cols-len(label))
		if at >= free {
			copy(text[at:], label)
			free = at + len(label) + 1
		}
	}
	return string(line), strings.TrimRight(string(text), " ")
}

// pointers marks places below the axis.
func (f *plot) pointers(xs []float64) string {
	if len(xs) == 0 {
		return ""
	}
	row := []byte(strings.Repeat(" ", f.cols))
	for _, x := range xs {
		row[min(max(0, f.col(x)), f.cols-1)] = '^'
	}
	return strings.TrimRight(string(row), " ")
}

// legend names what is drawn: the curves, the limits, the places marked.
func (p *Printer) legend(g grid, c *chart, beyond []level) {
	for _, k := range c.curves {
		if k.letter != 0 {
			p.say(string(k.letter) + ": " + k.name)
		}
	}
	for _, l := range c.levels {
		if slices.Contains(beyond, l) {
			where := "above"
			if _, y := c.spans(); c.yUnit.FromSI(l.si) < y.lo {
				where = "below"
			}
			p.say(where + " the chart: " + p.limitText(&l, c.yUnit))
			continue
		}
		sign, paint := p.limitPaint(l.must)
		p.say(p.paint(paint, string([]byte{sign, ' ', sign})) + "  " + p.limitText(&l, c.yUnit))
	}
	if g.two() {
		return
	}
	for i, t := range g.v.Turns {
		if t.Row < g.main.n && i < len(c.marks) {
			p.say("^  " + p.turnsBetween(g, t))
		}
	}
}
