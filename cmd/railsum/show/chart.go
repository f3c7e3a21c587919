package show

import (
	"math"
	"strings"

	"github.com/fatih/color"

	"railsum/units"
)

// chart draws curves over two axes with letters, so that it reads the same in
// every terminal and without colour. Limits are lines right across; a place
// below the axis is marked with ^.
//
// A library would draw the curves, but not the rest: round numbers at the axes,
// points that lie unevenly, a limit's own line, curves told apart by letters.
type chart struct {
	title, across string // what the axes carry, safe to write
	xUnit, yUnit  units.Unit
	curves        []curve
	levels        []level
	marks         []float64 // places on the axis across
	wide          int       // columns for all of it
	high          int       // rows for all of it, 0 for as many as it likes
}

// curve is a row of points, in the units of the axes and sorted across; y is no
// number where there is no answer.
type curve struct {
	letter       byte // of several; 0 for a single curve
	first, every int  // in which columns the letter stands
	name         string
	x, y         []float64
}

// span is a range of numbers.
type span struct{ lo, hi float64 }

func (s *span) take(x float64) {
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		s.lo, s.hi = math.Min(s.lo, x), math.Max(s.hi, x)
	}
}

func (s span) wide() float64 { return s.hi - s.lo }

func nothing() span { return span{math.Inf(1), math.Inf(-1)} }

// spans are the ranges that the points take.
func (c *chart) spans() (x, y span) {
	x, y = nothing(), nothing()
	for _, k := range c.curves {
		for i := range k.x {
			if !math.IsNaN(k.y[i]) && !math.IsInf(k.y[i], 0) {
				x.take(k.x[i])
				y.take(k.y[i])
			}
		}
	}
	return x, y
}

// plot is the field that is drawn in: rows from the bottom up.
type plot struct {
	x, y   span
	cells  [][]byte
	paints [][]*color.Color
	labels []string // at the left, for some rows
	cols   int
}

// rowsAbove is about how many rows a chart has above its lowest.
const rowsAbove = 12

// leastColumns is what a chart needs to be readable.
const leastColumns = 20

// layOut makes the field: the range upwards in round steps, a limit included
// where that does not squash the curves.
func (c *chart) layOut() (f *plot, beyond []level) {
	x, y := c.spans()
	if !(x.wide() > 0) || !(y.wide() > 0) || math.IsInf(y.wide(), 0) || math.IsInf(x.wide(), 0) {
		return nil, nil
	}
	reach := y
	for _, l := range c.levels {
		if at := c.yUnit.FromSI(l.si); at >= y.lo-y.wide() && at <= y.hi+y.wide() {
			reach.take(at)
		} else {
			beyond = append(beyond, l)
		}
	}
	switch {
	case reach.lo > 0 && reach.lo <= reach.hi/2:
		reach.lo = 0
	case reach.hi < 0 && reach.hi >= reach.lo/2:
		reach.hi = 0
	}
	step := roundStep(reach.wide() / 4)
	first, last := math.Floor(reach.lo/step+1e-9), math.Ceil(reach.hi/step-1e-9)
	steps := max(1, int(last-first))
	each := max(2, int(math.Round(float64(rowsAbove)/float64(steps))))
	if c.high > 0 {
		each = max(1, min(each, (c.high-c.around())/steps))
	}
	f = &plot{x: x, y: span{first * step, last * step}, labels: make([]string, steps*each+1)}
	left := 0
	for i := range steps + 1 {
		f.labels[i*each] = units.Format((first + float64(i)) * step)
		left = max(left, len(f.labels[i*each]))
	}
	for _, l := range c.levels {
		if r, ok := f.row(c.yUnit.FromSI(l.si)); ok && f.labels[r] == "" {
			f.labels[r] = units.Format(c.yUnit.FromSI(l.si))
			left = max(left, len(f.labels[r]))
		}
	}
	f.cols = min(c.wide-left-2, 100)
	if f.cols < leastColumns {
		return nil, nil
	}
	for i := range f.labels {
		f.labels[i] = padLeft(f.labels[i], left)
	}
	f.cells = make([][]byte, len(f.labels))
	f.paints = make([][]*color.Color, len(f.labels))
	for i := range f.cells {
		f.cells[i] = []byte(strings.Repeat(" ", f.cols))
		f.paints[i] = make([]*color.Color, f.cols)
	}
	return f, beyond
}

// around is how many rows a chart has besides its steps: the lowest, the title, the
// axis with what stands below it, and what is named.
func (c *chart) around() int {
	n := 5 + len(c.levels) + 2*min(len(c.marks), 1) + len(c.marks)
	if len(c.curves) > 1 {
		n += len(c.curves)
	}
	return n
}

// roundStep is the next of 1, 2, 2.5, 5 times a power of ten.
func roundStep(x float64) float64 {
	ten := math.Pow(10, math.Floor(math.Log10(x)))
	for _, k := range []float64{1, 2, 2.5, 5} {
		if k*ten >= x*(1-1e-9) {
			return k * ten
		}
	}
	return 10 * ten
}

// height is where a value lies, in rows from the lowest.
func (f *plot) height(y float64) float64 {
	return (y - f.y.lo) / f.y.wide() * float64(len(f.labels)-1)
}

func (f *plot) row(y float64) (int, bool) {
	r := int(math.Round(f.height(y)))
	return r, y >= f.y.lo && y <= f.y.hi && r >= 0 && r < len(f.labels)
}

func (f *plot) col(x float64) int {
	return int(math.Round((x - f.x.lo) / f.x.wide() * float64(f.cols-1)))
}

// limit draws a line right across, in its own sign for each kind of rule.
func (f *plot) limit(y float64, sign byte, paint *color.Color) {
	r, ok := f.row(y)
	if !ok {
		return
	}
	for c := 0; c < f.cols; c += 2 {
		f.cells[r][c] = sign
		f.paints[r][c] = paint
	}
}

// draw puts a curve into the field: a straight line from each point to the
// next, then the points themselves where they stand apart, else a curve's letter
// now and then.
func (f *plot) draw(k *curve) {
	lo, hi := f.reaches(k)
	f.strokes(lo, hi)
	if len(k.x)*3 <= f.cols {
		for i, y := range k.y {
			if r, ok := f.row(y); ok {
				f.name(r, f.col(k.x[i]), k)
			}
		}
		return
	}
	last := -1
	for c := range lo {
		if lo[c] > hi[c] {
			continue
		}
		last = c
		if k.letter != 0 && c%k.every == k.first {
			f.name(f.middle(lo[c], hi[c]), c, k)
		}
	}
	if k.letter != 0 && last >= 0 {
		f.name(f.middle(lo[last], hi[last]), last, k)
	}
}

func (f *plot) middle(lo, hi float64) int { return int(math.Round(f.height((lo + hi) / 2))) }

// reaches gives the lowest and the highest that a curve comes to in each column;
// where it has no point the lowest is above the highest.
func (f *plot) reaches(k *curve) (lo, hi []float64) {
	lo, hi = make([]float64, f.cols), make([]float64, f.cols)
	for c := range lo {
		lo[c], hi[c] = math.Inf(1), math.Inf(-1)
	}
	reach := func(c int, y float64) { lo[c], hi[c] = math.Min(lo[c], y), math.Max(hi[c], y) }
	before := -1
	for i, y := range k.y {
		if math.IsNaN(y) || math.IsInf(y, 0) {
			before = -1
			continue
		}
		to := f.col(k.x[i])
		reach(to, y)
		if before >= 0 {
			from := f.col(k.x[before])
			for c := from + 1; c < to; c++ {
				reach(c, k.y[before]+(y-k.y[before])*float64(c-from)/float64(to-from))
			}
		}
		before = i
	}
	return lo, hi
}

// strokes draws what a curve covers in each column, and joins columns that lie
// more than a row apart.
func (f *plot) strokes(lo, hi []float64) {
	lowest, highest := 0, -1 // of the column before
	for c := range lo {
		if lo[c] > hi[c] {
			lowest, highest = 0, -1
			continue
		}
		a, b := int(math.Round(f.height(lo[c]))), int(math.Round(f.height(hi[c])))
		if f.height(hi[c])-f.height(lo[c]) < 1 {
			a = f.middle(lo[c], hi[c])
			b = a
			f.put(a, c, stroke(f.height((lo[c]+hi[c])/2)-float64(a)))
		}
		for r := a; r <= b && a != b; r++ {
			f.put(r, c, '|')
		}
		if highest >= lowest {
			for r := highest + 1; r < a; r++ {
				f.put(r, c, '|')
			}
			for r := b + 1; r < lowest; r++ {
				f.put(r, c, '|')
			}
		}
		lowest, highest = a, b
	}
}

// stroke is a sign at one of three heights within a row.
func stroke(part float64) byte {
	switch {
	case part < -1.0/6:
		return '.'
	case part > 1.0/6:
		return '\''
	}
	return '-'
}

// put sets a place, but for letters, which stay.
func (f *plot) put(r, c int, sign byte) {
	if r >= 0 && r < len(f.cells) && (f.cells[r][c] < 'a' || f.cells[r][c] > 'z') {
		f.cells[r][c], f.paints[r][c] = sign, nil
	}
}

// name sets a point, or the letter of a curve; where two meet stands a star.
func (f *plot) name(r, c int, k *curve) {
	if r < 0 || r >= len(f.cells) {
		return
	}
	sign := byte('o')
	if k.letter != 0 {
		sign = k.letter
		if old := f.cells[r][c]; old >= 'a' && old <= 'z' && old != sign {
			sign = '*'
		}
	}
	f.cells[r][c], f.paints[r][c] = sign, nil
}
