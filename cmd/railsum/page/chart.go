package page

import (
	"fmt"
	"html"
	"math"
	"strings"

	"railsum/calc/answer"
	"railsum/calc/types"
	"railsum/cmd/railsum/typeface"
	"railsum/units"
)

// chart is curves over one axis: of a sweep of one input a curve, of two a curve for each value of the second.
type chart struct {
	title, across string
	curves        []curve
	limits        []level
	along         units.Unit
	up            units.Unit
}

type curve struct {
	name string
	x, y []float64 // in the units of the axes; y is no number where there is no answer
}

type level struct {
	name string
	at   float64
}

// mostCurves is how many curves a chart has.
const mostCurves = 6

// chartOf is the chart of one shown value, nil where there is no curve to draw.
func chartOf(v *answer.Varied, i int) *chart {
	s := &v.Shown[i]
	axis := &v.Axes[0]
	if !s.Value.Quantity() || !axis.Value.Quantity() || s.Value.Type.Kind == types.Text {
		return nil
	}
	c := &chart{title: headOf(s), across: headOf(axis), along: axis.Value.Unit, up: s.Value.Unit}
	byName := map[string]int{}
	for r := range axis.Value.Numbers {
		name := ""
		if len(v.Axes) > 1 {
			other := &v.Axes[1]
			name = strings.TrimSpace(other.Value.Number(r) + " " + other.Value.Unit.Shown())
		}
		at, known := byName[name]
		if !known {
			if len(c.curves) == mostCurves {
				continue
			}
			at = len(c.curves)
			byName[name] = at
			c.curves = append(c.curves, curve{name: name})
		}
		y := math.NaN()
		if s.Value.Fault(r) == "" {
			y = s.Value.InUnit(r)
		}
		c.curves[at].x = append(c.curves[at].x, axis.Value.InUnit(r))
		c.curves[at].y = append(c.curves[at].y, y)
	}
	for _, l := range v.Limits {
		if l.Shown == s.Of && l.At != nil && len(l.At.Numbers) > 0 && l.At.Fault(0) == "" {
			c.limits = append(c.limits, level{l.Must.String() + " " + l.Cond.String(), s.Value.Unit.FromSI(l.At.Numbers[0])})
		}
	}
	x, y := c.spans()
	if !(x.hi > x.lo) || y.lo > y.hi {
		return nil
	}
	return c
}

type span struct{ lo, hi float64 }

func (s *span) take(x float64) {
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		s.lo, s.hi = math.Min(s.lo, x), math.Max(s.hi, x)
	}
}

func (c *chart) spans() (x, y span) {
	x, y = span{math.Inf(1), math.Inf(-1)}, span{math.Inf(1), math.Inf(-1)}
	for _, k := range c.curves {
		for i := range k.x {
			if y.take(k.y[i]); !math.IsNaN(k.y[i]) {
				x.take(k.x[i])
			}
		}
	}
	for _, l := range c.limits { // a limit far away leaves the curves no room
		if far := 2 * (y.hi - y.lo); l.at > y.lo-far && l.at < y.hi+far {
			y.take(l.at)
		}
	}
	if y.lo > 0 && y.lo < y.hi/2 {
		y.lo = 0
	}
	if y.hi == y.lo {
		y.lo, y.hi = y.lo-math.Abs(y.lo)/2-0.5, y.hi+math.Abs(y.hi)/2+0.5
	}
	return x, y
}

// Caption is what is drawn over what.
func (c *chart) Caption() string { return c.title + ", over " + c.across }

// Sentence tells where each curve begins and ends.
func (c *chart) Sentence() string {
	var parts []string
	for _, k := range c.curves {
		last := len(k.x) - 1
		name := ""
		if k.name != "" {
			name = k.name + ": "
		}
		parts = append(parts, fmt.Sprintf("%sfrom %s at %s to %s at %s", name, units.Format(k.y[0]), units.Format(k.x[0]),
			units.Format(k.y[last]), units.Format(k.x[last])))
	}
	for _, l := range c.limits {
		parts = append(parts, l.name+", at "+units.Format(l.at))
	}
	return c.Caption() + ": " + strings.Join(parts, "; ") + "."
}

// Text is the sentence: the terminal draws its own.
func (c *chart) Text(int) []string { return []string{c.Sentence()} }

// SVG draws the curves between round numbers at the axes. A name stands behind the end of its curve, on a wide page,
// else in a row below.
func (c *chart) SVG(wide int, id string) string {
	const size, high, top, foot = 14.5, 240.0, 26.0, 44.0
	x, y := c.spans()
	ys := round(y.lo, y.hi, 5)
	y.lo, y.hi = math.Min(y.lo, ys[0]), math.Max(y.hi, ys[len(ys)-1])
	left := 12.0
	for _, v := range ys {
		left = math.Max(left, size*typeface.Width(units.Format(v), false)+14)
	}
	right := 14.0
	if wide >= 600 {
		for _, k := range c.curves {
			right = math.Max(right, size*typeface.Width(k.name, true)+14)
		}
	}
	px := func(v float64) float64 { return left + (v-x.lo)/(x.hi-x.lo)*(float64(wide)-left-right) }
	py := func(v float64) float64 { return top + (y.hi-v)/(y.hi-y.lo)*(high-top-foot) }
	var b, words strings.Builder
	label := func(class, anchor string, at, line float64, s string) {
		fmt.Fprintf(&words, `<text class=%q x="%.2f" y="%.2f" text-anchor=%q>%s</text>`, class, at, line, anchor, html.EscapeString(s))
	}
	label("lab", "start", 0, 14, clip(c.title, float64(wide)/size))
	for _, v := range ys {
		fmt.Fprintf(&b, `<line class="grid" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, left, py(v), float64(wide)-right, py(v))
		label("tick", "end", left-7, py(v)+5, units.Format(v))
	}
	end := -math.MaxFloat64
	for _, v := range round(x.lo, x.hi, wide/90) {
		s := units.Format(v)
		half := size * typeface.Width(s, false) / 2
		at := math.Min(math.Max(px(v), half), float64(wide)-half)
		fmt.Fprintf(&b, `<line class="axis" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, px(v), high-foot, px(v), high-foot+5)
		if at-half > end+6 {
			label("tick", "middle", at, high-foot+20, s)
			end = at + half
		}
	}
	fmt.Fprintf(&b, `<line class="axis" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, left, high-foot, float64(wide)-right, high-foot)
	label("lab", "middle", left+(float64(wide)-left-right)/2, high-6, clip(c.across, (float64(wide)-left-right)/size))
	rows := 0
	below := func(class, s string) {
		rows++
		y := high + 18*float64(rows)
		fmt.Fprintf(&b, `<line class="curve %s" x1="0" y1="%.2f" x2="26" y2="%.2f"/>`, class, y-5, y-5)
		label("lab", "start", 34, y, clip(s, (float64(wide)-34)/size))
	}
	for _, l := range c.limits {
		if l.at < y.lo || l.at > y.hi {
			continue
		}
		fmt.Fprintf(&b, `<line class="curve limit" x1="%.2f" y1="%.2f" x2="%.2f" y2="%.2f"/>`, left, py(l.at), float64(wide)-right, py(l.at))
		below("limit", l.name+", "+strings.TrimSpace(units.Format(l.at)+" "+c.up.Shown()))
	}
	taken := []float64{}
	for i, k := range c.curves {
		class := fmt.Sprintf("c%d", i%mostCurves)
		var path strings.Builder
		pen := "M"
		lastX, lastY, drawn := 0.0, 0.0, false
		for j := range k.x {
			if math.IsNaN(k.y[j]) || math.IsInf(k.y[j], 0) {
				pen = "M"
				continue
			}
			lastX, lastY, drawn = px(k.x[j]), py(k.y[j]), true
			fmt.Fprintf(&path, "%s%.2f %.2f", pen, lastX, lastY)
			pen = "L"
		}
		if !drawn {
			continue
		}
		fmt.Fprintf(&b, `<path class="curve %s" d=%q/>`, class, path.String())
		switch {
		case k.name == "":
		case wide >= 600 && free(taken, lastY):
			taken = append(taken, lastY)
			label("b", "start", lastX+7, lastY+5, k.name)
		default:
			below(class, k.name)
		}
	}
	var s strings.Builder
	fmt.Fprintf(&s, `<svg class="pic chart" viewBox="0 0 %d %.0f" role="img" aria-labelledby="t%[3]s d%[3]s"><title id="t%[3]s">%s</title><desc id="d%[3]s">%s</desc>`,
		wide, high+18*float64(rows)+6, id, html.EscapeString(c.Caption()), html.EscapeString(c.Sentence()))
	s.WriteString(b.String() + words.String() + "</svg>")
	return s.String()
}

// free reports whether a line of text finds room between others.
func free(taken []float64, y float64) bool {
	for _, t := range taken {
		if math.Abs(t-y) < 17 {
			return false
		}
	}
	return true
}

// clip shortens a text to so many ems.
func clip(s string, ems float64) string {
	if typeface.Width(s, false) <= ems {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && typeface.Width(string(r)+"\u2026", false) > ems {
		r = r[:len(r)-1]
	}
	return string(r) + "\u2026"
}

// round gives about n round numbers from lo to hi.
func round(lo, hi float64, n int) []float64 {
	raw := (hi - lo) / math.Max(float64(n), 2)
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, k := range []float64{1, 2, 5, 10} {
		if step*k >= raw {
			step *= k
			break
		}
	}
	var all []float64
	for v := math.Ceil(lo/step-1e-9) * step; v <= hi+step*1e-9 && len(all) < 20; v += step {
		all = append(all, math.Round(v/step)*step)
	}
	if len(all) == 0 {
		all = []float64{lo, hi}
	}
	return all
}
