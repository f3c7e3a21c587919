package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Limits is each rule that compares two numbers, on an axis of its own: what is, and what is allowed.
type Limits struct {
	Title string
	Rows  []Limit
}

// A Limit is one such rule. Low and High are the bounds, NaN where there is none.
type Limit struct {
	Label     string // the rule in words, or as it is written
	Value     float64
	Low, High float64
	Axis      Axis
	Holds     bool
}

// mostLimits is how many rules are drawn, the worst first.
const mostLimits = 8

// arrange leaves out what cannot be drawn and puts the worst first: those that fail, then those nearest their limit.
func (l Limits) arrange() (rows []Limit, left int) {
	for _, r := range l.Rows {
		if finite(r.Value) && (finite(r.Low) || finite(r.High)) {
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(a, b Limit) int {
		if a.Holds != b.Holds {
			if b.Holds {
				return -1
			}
			return 1
		}
		return compare(a.used(), b.used())
	})
	if len(rows) > mostLimits {
		left = len(rows) - mostLimits
		rows = rows[:mostLimits]
	}
	return rows, left
}

// compare puts the larger first.
func compare(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}

// used is how much of its limit a value uses up: 1 at the limit.
func (r Limit) used() float64 {
	worst := math.Inf(-1)
	if finite(r.High) && r.High != 0 {
		worst = max(worst, r.Value/r.High)
	}
	if finite(r.Low) && r.Value != 0 {
		worst = max(worst, r.Low/r.Value)
	}
	return worst
}

// span is the axis of a rule: from nothing, or below if a bound or the value is, to 1.6 times its limit, and as far as
// the value where that lies near beyond.
func (r Limit) span() (lo, hi float64) {
	limit := r.High
	if !finite(limit) {
		limit = r.Low
	}
	lo, hi = min(0, 1.6*limit, r.Value), max(0, 1.6*limit)
	if finite(r.Low) {
		lo, hi = min(lo, 1.6*r.Low), max(hi, 1.6*r.Low)
	}
	if r.Value > hi && r.Value < 3*hi || hi == 0 {
		hi = r.Value * 1.05
	}
	if hi <= lo {
		hi = lo + 1
	}
	return lo, hi
}

// allowed is the bound in words.
func (r Limit) allowed() string {
	switch {
	case !finite(r.High):
		return r.Axis.value(r.Low) + " at least"
	case !finite(r.Low):
		return r.Axis.value(r.High) + " at most"
	}
	return r.Axis.between(r.Low, r.High) + " allowed"
}

// Empty tells whether no rule can be drawn.
func (l Limits) Empty() bool {
	rows, _ := l.arrange()
	return len(rows) == 0
}

// Caption is the title.
func (l Limits) Caption() string { return l.Title }

// Sentence tells each rule with its value and its limit.
func (l Limits) Sentence() string {
	rows, left := l.arrange()
	var parts []string
	for _, r := range rows {
		verdict := "holds"
		if !r.Holds {
			verdict = "does not hold"
		}
		parts = append(parts, fmt.Sprintf("%s %s: %s, %s", r.Label, verdict, r.Axis.value(r.Value), r.allowed()))
	}
	if left > 0 {
		parts = append(parts, more(left))
	}
	return sentence(l.Title, parts)
}

// SVG draws a row a rule: its words above, the axis with the side that is bad hatched, the value as a dot.
func (l Limits) SVG(wide int, id string) string {
	rows, left := l.arrange()
	b := newBoard(wide, id)
	y := 0.0
	for _, r := range rows {
		y = l.row(b, r, y)
	}
	if left > 0 {
		b.key = append(b.key, keyed{text: more(left)})
	}
	return b.finish("limits", l.Caption(), l.Sentence())
}

// row draws one rule from y down and tells where the next begins.
func (l Limits) row(b *board, r Limit, y float64) float64 {
	lo, hi := r.span()
	x := func(v float64) float64 {
		v = min(max(v, lo), hi)
		return sideMargin + (v-lo)/(hi-lo)*(b.wide-2*sideMargin)
	}
	for _, line := range wrap(r.Label+": "+r.Axis.value(r.Value)+", "+r.allowed(), b.wide-2*sideMargin) {
		y += lineHeight
		at := around([]string{line}, false, 0, y-lineHeight/2)
		shift := sideMargin - at.x0 - edge
		b.write("lab", []string{line}, rect{at.x0 + shift, at.y0, at.x1 + shift, at.y1}, false)
	}
	low, high := lo, hi
	if finite(r.Low) {
		low = r.Low
	}
	if finite(r.High) {
		high = r.High
	}
	bar := rect{x(low), y + 4, x(high), y + 18}
	b.box("bar good", bar)
	if low > lo {
		b.box("bar bad", rect{x(lo), bar.y0, x(low), bar.y1})
	}
	if high < hi {
		b.box("bar bad", rect{x(high), bar.y0, x(hi), bar.y1})
	}
	class := "is"
	if !r.Holds {
		class = "is failing"
	}
	middle := (bar.y0 + bar.y1) / 2
	b.shape("circle", class, `cx="%.2f" cy="%.2f" r="6"`, x(r.Value), middle)
	if r.Value > hi { // off the axis: an arrow says that it goes on
		b.shape("path", class, `d="M%.2f %.2f l7 5 l-7 5 z"`, x(hi)+7, middle-5)
	}
	b.take(rect{sideMargin, y, b.wide - sideMargin, bar.y1 + 10})
	return bar.y1 + 10
}

// Text draws a row a rule, as wide as there is room beside its words.
func (l Limits) Text(wide int) []string {
	rows, left := l.arrange()
	out := wrapColumns(l.Title, wide)
	bar := max(16, min(30, wide/3))
	for _, r := range rows {
		lo, hi := r.span()
		column := func(v float64) int {
			return int(math.Round((min(max(v, lo), hi) - lo) / (hi - lo) * float64(bar-1)))
		}
		c := newCanvas(bar, 1)
		c.fill(0, bar, 0, "=")
		if finite(r.Low) {
			c.fill(0, column(r.Low), 0, "x")
			c.put(column(r.Low), 0, "|")
		}
		if finite(r.High) {
			c.fill(column(r.High), bar, 0, "x")
			c.put(column(r.High), 0, "|")
		}
		c.put(column(r.Value), 0, "o")
		drawn := c.lines()[0] + strings.Repeat(" ", bar-len(c.lines()[0]))
		value, allowed := r.Axis.value(r.Value), r.allowed()
		line := r.Label + "   " + value + " " + drawn + " " + allowed
		if columns(line) <= wide {
			out = append(out, line)
			continue
		}
		out = append(out, wrapColumns(r.Label, wide)...)
		out = append(out, fold([]string{"  " + value, drawn, allowed}, wide)...)
	}
	if left > 0 {
		out = append(out, more(left))
	}
	return out
}
