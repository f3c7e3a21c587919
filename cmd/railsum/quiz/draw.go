package quiz

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"

	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/calc/view"
	"railsum/units"
)

// draws are what is random in a question. Only the generator's raw bits are used,
// for what a library makes of them may change.
type draws struct{ pcg *rand.PCG }

// drawsFor is the generator for the nth question about an answer of a sheet.
func drawsFor(seed int, sheet string, edition int, answer string, n int) draws {
	h := fnv.New64a()
	for _, part := range []string{sheet, strconv.Itoa(edition), answer, strconv.Itoa(n)} {
		h.Write([]byte(part))
		h.Write([]byte{0})
	}
	return draws{rand.NewPCG(uint64(int64(seed)), h.Sum64())}
}

// share is a number from 0 up to 1.
func (r draws) share() float64 { return float64(r.pcg.Uint64()>>11) / (1 << 53) }

// one is one of n, from 0.
func (r draws) one(n int) int { return int(r.pcg.Uint64() % uint64(n)) }

// How far from its default an input is drawn, and of how many figures.
const (
	reach   = 2.5
	figures = 2
)

var (
	ohm   = units.Known("ohm")
	farad = units.Known("F")
)

// input draws a value for an input, as it is typed; empty to leave it as it is. The
// first kind that fits decides.
func (r draws) input(b *view.View, lib Library, d *check.Def) string {
	v := b.Value(d)
	switch {
	case v == nil || !v.Sound() || v.Fault(0) != "" || v.Column() || v.Type.Kind == types.Truth || v.Type.Kind == types.Date:
		return ""
	case len(d.Choice) > 0:
		return r.choice(d)
	case v.Type.Kind == types.Text:
		return ""
	}
	f := field{usual: v.Numbers[0], lo: math.Inf(-1), hi: math.Inf(1), unit: v.Unit}
	if d.Bounds[0] != nil {
		f.lo, f.hi = b.M.Col(d.Bounds[0]).V[0], b.M.Col(d.Bounds[1]).V[0]
	}
	plain := v.Type.Kind == types.Number && v.Type.Dim.IsPlain()
	switch {
	case d.Tail.Usual != nil:
		if text := r.listed(f, columnOf(lib, d.Tail.Usual)); text != "" {
			return text
		}
	case plain && strings.Contains(v.Literal.Number, ":"):
		return r.scale(f, lib)
	case !plain && v.Type.Dim == ohm.Dim() && f.usual >= 1:
		return r.preferred(f, lib, 12)
	case !plain && v.Type.Dim == farad.Dim() && f.usual > 0:
		return r.preferred(f, lib, 6)
	}
	switch {
	case d.Tail.Whole || plain && !f.unit.Percent() && f.whole():
		return r.whole(f)
	case v.Type.Kind == types.Point:
		return r.point(f)
	case f.usual == 0:
		if r.one(3) < 2 || math.IsInf(f.hi, 1) {
			return f.typed(0)
		}
		return f.typed(f.rounded(f.hi / 4 * r.share()))
	}
	return r.near(f)
}

// field is where an input is drawn, in SI.
type field struct {
	usual, lo, hi float64
	unit          units.Unit
}

func (f field) typed(si float64) string {
	x := si
	if !f.unit.IsZero() {
		x = f.unit.FromSI(si)
	}
	return strings.TrimSpace(units.Format(x) + " " + f.unit.String())
}

// rounded is a value of two figures in its unit.
func (f field) rounded(si float64) float64 {
	x := f.unit.FromSI(si)
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', figures-1, 64), 64)
	if x == 0 {
		return si
	}
	return si * (rounded / x)
}

// within reports whether a value lies in the range, its ends with it.
func (f field) within(si float64) bool {
	near := 1e-9 * math.Abs(si)
	return si >= f.lo-near && si <= f.hi+near
}

func (f field) whole() bool {
	for _, x := range []float64{f.usual, f.lo, f.hi} {
		if x != math.Trunc(x) && !math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// choice keeps a text in half of the draws.
func (r draws) choice(d *check.Def) string {
	_, text := d.Choice[0].Expr.(*syntax.Text)
	if text && r.one(2) == 0 {
		return ""
	}
	return syntax.PrintExpr(d.Choice[r.one(len(d.Choice))].Expr)
}

func columnOf(lib Library, name *syntax.Name) []float64 {
	table, column, _ := strings.Cut(syntax.PrintExpr(name), ".")
	return lib.Numbers(table, column)
}

// listed is one of several values that lies in the range.
func (r draws) listed(f field, all []float64) string {
	var fit []float64
	for _, x := range all {
		if f.within(x) && x <= f.usual*reach*2 && x >= f.usual/reach/2 {
			fit = append(fit, x)
		}
	}
	if len(fit) == 0 {
		return ""
	}
	return f.typed(fit[r.one(len(fit))])
}

// scale is one that railways have, if the default is one, else 1 to a whole number.
func (r draws) scale(f field, lib Library) string {
	ratios := lib.Numbers("scales", "ratio")
	known := false
	var fit []float64
	for _, x := range ratios {
		known = known || math.Abs(f.usual*x-1) < 1e-9
		if f.within(1 / x) {
			fit = append(fit, x)
		}
	}
	x := math.Round(r.between(1/f.usual/reach, 1/f.usual*reach))
	if known {
		x = fit[r.one(len(fit))]
	}
	if !f.within(1 / x) {
		return ""
	}
	return "1:" + units.Format(x)
}

// preferred is a value that parts are made with.
func (r draws) preferred(f field, lib Library, series float64) string {
	x := r.between(math.Max(f.lo, f.usual/reach), math.Min(f.hi, f.usual*reach))
	decade := math.Pow(10, math.Floor(math.Log10(x)))
	best := 0.0
	of, values := lib.Numbers("preferred", "series"), lib.Numbers("preferred", "value")
	for i, v := range values {
		for _, y := range []float64{v * decade, v * decade * 10} {
			if of[i] == series && f.within(y) && (best == 0 || math.Abs(math.Log(y/x)) < math.Abs(math.Log(best/x))) {
				best = y
			}
		}
	}
	if best == 0 {
		return ""
	}
	return f.typed(best)
}

// between is even on a scale of ratios.
func (r draws) between(lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.share()) }

func (r draws) whole(f field) string {
	lo, hi := math.Max(f.lo, math.Floor(f.usual/reach)), math.Min(f.hi, math.Ceil(math.Max(f.usual, 1)*reach))
	if f.usual == 0 {
		hi = math.Min(f.hi, 4)
	}
	if !(hi > lo) {
		return ""
	}
	return f.typed(lo + float64(r.one(int(hi-lo)+1)))
}

// point is a temperature of whole degrees, not far from the usual.
func (r draws) point(f field) string {
	quarter := (f.hi - f.lo) / 4
	if math.IsInf(quarter, 0) {
		return ""
	}
	si := f.usual + (2*r.share()-1)*quarter
	x := math.Round(f.unit.FromSI(si))
	return strings.TrimSpace(units.Format(math.Min(math.Max(x, math.Ceil(f.unit.FromSI(f.lo))),
		math.Floor(f.unit.FromSI(f.hi)))) +
		" " + f.unit.String())
}

// near is even on a scale of ratios around the usual, to two figures.
func (r draws) near(f field) string {
	if f.usual < 0 || f.lo > f.usual || f.hi < f.usual {
		return ""
	}
	for range 20 {
		x := f.rounded(r.between(math.Max(f.lo, f.usual/reach), math.Min(f.hi, f.usual*reach)))
		if f.within(x) && x > 0 {
			return f.typed(x)
		}
		if f.lo <= 0 {
			f.lo = math.Max(f.lo, f.usual/reach)
		}
	}
	return ""
}
