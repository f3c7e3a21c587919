package library_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/library"
)

// A hunt looks for a "clear" that is not: a sheet is put to work on 100,000
// random inputs within its ranges, and a judge that knows nothing of the sheet
// says of each whether it is safe. Judges are written from the trade's first
// principles, and hold the formulas that no other Go file may hold. Within 1e-9
// of a threshold either is right.

const huntRows = 100_000

// A hunted is a sheet with its judge. Extra lines come before the use line, each
// a number drawn from the range beside it: the cells of a table.
type hunted struct {
	sheet string
	extra []drawn
	lines string            // before the use line
	with  string            // after it: settings of tables
	judge func(v vars) bool // is it unsafe
}

type drawn struct {
	name, unit string
	lo, hi     float64
	whole      bool
}

// vars are the inputs of one row, in SI.
type vars struct {
	h   *hunt
	row int
}

func (v vars) n(name string) float64 {
	c := v.h.inputs[name]
	if c == nil {
		panic("no input " + name + " of " + v.h.name)
	}
	return c.v[v.row]
}

// none reports whether an input has been left alone that is none.
func (v vars) none(name string) bool { return v.h.inputs[name] == nil }

func (v vars) yes(name string) bool { return v.n(name) != 0 }

func (v vars) text(name string) string {
	c := v.h.inputs[name]
	return c.texts[c.choice[v.row]]
}

// over and under are what lies beyond a threshold for certain.
func over(a, b float64) bool  { return a > b+1e-9*math.Abs(b)+1e-300 }
func under(a, b float64) bool { return over(b, a) }

type hunt struct {
	t        *testing.T
	name     string
	book     *calc.Book
	place    *check.Placement
	study    run.Study
	inputs   map[string]*drawnInput
	optional bool // an input may be none
}

type drawnInput struct {
	v      []float64
	choice []int
	texts  []string
}

// spans say how far from its default an input is drawn, as a share of its
// range: near it, so that much is clear, and anywhere.
var spans = []float64{0.02, 0.1, 0.3, 1}

// newHunt draws the inputs of a sheet. One that is none where nobody says
// another is drawn if given, else left alone.
func newHunt(t *testing.T, c hunted, given bool) *hunt {
	t.Helper()
	text := ""
	for _, d := range c.extra {
		text += d.name + " = " + strings.TrimSpace(syntax.PrintExpr(literal(d.lo+(d.hi-d.lo)/3, d.whole))+" "+d.unit) + "\n"
	}
	text += c.lines + "use " + c.sheet + " for x\n" + c.with
	f := syntax.ParseFile([]byte(text))
	book := calc.Open(f.Lines, library.Shipped())
	h := &hunt{t: t, name: c.sheet, book: book, inputs: map[string]*drawnInput{}}
	h.study.Rows = huntRows
	for i := range f.Lines {
		if a := book.Answer(i); len(a.Errors) > 0 {
			t.Fatalf("%s: %s: %v", c.sheet, f.Lines[i].Raw, a.Errors[0])
		}
		if places := book.C.Places[i]; len(places) > 0 {
			h.place = places[0]
		}
	}
	rng := rand.New(rand.NewPCG(uint64(len(c.sheet)), uint64(c.sheet[0])))
	spread := make([]float64, huntRows)
	for i := range spread {
		spread[i] = spans[rng.IntN(len(spans))]
	}
	for i, d := range c.extra {
		def := book.C.Main[i]
		scale := 1.0
		if d.unit != "" {
			scale = def.Show.Scale()
		}
		h.number(def, d.name, scale*d.lo, scale*d.hi, d.whole, spread, rng)
	}
	for _, d := range h.place.Asks {
		name := strings.TrimPrefix(d.Name, "x.")
		_, none := book.M.Col(d).At(0, 0)
		h.optional = h.optional || none != 0
		switch {
		case strings.Contains(c.with, "x."+name+" = "): // follows what is drawn
		case none != 0 && !given:
		case len(d.Choice) > 0:
			h.pick(d, name, spread, rng)
		case d.Bounds[0] != nil:
			m := book.M
			h.number(d, name, m.Col(d.Bounds[0]).V[0], m.Col(d.Bounds[1]).V[0], d.Tail.Whole || h.looksWhole(d), spread, rng)
		}
	}
	return h
}

func (h *hunt) looksWhole(d *check.Def) bool {
	m := h.book.M
	return d.Type.Dim.IsPlain() && d.Type.Kind == types.Number && m.Col(d).V[0] == math.Trunc(m.Col(d).V[0]) && !d.Show.Percent() && m.Col(d.Bounds[1]).V[0] > 3 &&
		m.Col(d.Bounds[0]).V[0] == math.Trunc(m.Col(d.Bounds[0]).V[0])
}

func literal(v float64, whole bool) syntax.Expr {
	if whole {
		v = math.Round(v)
	}
	return &syntax.Literal{Text: formatted(v), Value: v}
}

func (h *hunt) number(d *check.Def, name string, lo, hi float64, whole bool, spread []float64, rng *rand.Rand) {
	usual := h.book.M.Col(d).V[0]
	if _, none := h.book.M.Col(d).At(0, 0); none != 0 {
		usual = math.Sqrt(lo * hi)
	}
	in := &drawnInput{v: make([]float64, huntRows)}
	for i := range in.v {
		x := usual + (2*rng.Float64()-1)*spread[i]*(hi-lo)
		if lo > 0 && hi/lo > 100 {
			x = usual * math.Pow(hi/lo, (2*rng.Float64()-1)*spread[i])
		}
		if spread[i] == 1 {
			x = lo + (hi-lo)*rng.Float64()
		}
		if whole {
			x = math.Round(x)
		}
		in.v[i] = max(lo, min(hi, x))
	}
	h.inputs[name] = in
	h.study.Replace(d, func(first int, dst []float64) { copy(dst, in.v[first:]) })
}

func (h *hunt) pick(d *check.Def, name string, spread []float64, rng *rand.Rand) {
	m := h.book.M
	in := &drawnInput{v: make([]float64, huntRows), choice: make([]int, huntRows)}
	usual := 0
	for k, c := range d.Choice {
		text := ""
		if x, ok := c.Expr.(*syntax.Text); ok {
			text = x.Value
		}
		in.texts = append(in.texts, text)
		if m.Col(c).V[0] == m.Col(d).V[0] {
			usual = k
		}
	}
	for i := range in.v {
		k := usual
		if rng.Float64() < spread[i] {
			k = rng.IntN(len(d.Choice))
		}
		in.choice[i], in.v[i] = k, m.Col(d.Choice[k]).V[0]
	}
	h.inputs[name] = in
	h.study.Replace(d, func(first int, dst []float64) { copy(dst, in.v[first:]) })
}

// clear says of each row whether every rule holds, of the sheet and its pieces.
func (h *hunt) clear() []bool {
	h.t.Helper()
	for _, p := range h.place.Whole() {
		h.study.Want = append(h.study.Want, p.Rules...)
	}
	out := slices.Repeat([]bool{true}, huntRows)
	err := h.book.M.Study(context.Background(), h.study, func(first, n int, cols []*run.Col) error {
		for _, c := range cols {
			for r := range c.Rows {
				for w := range n {
					if v, mark := c.At(r, w); v == 0 || mark != 0 {
						out[first+w] = false
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		h.t.Fatal(err)
	}
	return out
}

func TestNoClearThatIsNot(t *testing.T) {
	for _, c := range slices.Concat(huntedSheets, huntedParts, huntedTrack, huntedDigital, huntedClubs, huntedLaid) {
		t.Run(c.sheet, func(t *testing.T) {
			for _, given := range []bool{true, false} {
				h := newHunt(t, c, given)
				h.judged(c.judge)
				if !h.optional {
					break
				}
			}
		})
	}
}

// judged sets every verdict beside the judge's and counts.
func (h *hunt) judged(judge func(vars) bool) {
	h.t.Helper()
	clear, unsafe, wrong := 0, 0, 0
	for i, ok := range h.clear() {
		bad := judge(vars{h, i})
		if ok {
			clear++
		}
		if bad {
			unsafe++
		}
		if ok && bad {
			if wrong++; wrong <= 3 {
				h.t.Errorf("clear, and the judge calls it unsafe: %s", h.describe(i))
			}
		}
	}
	h.t.Logf("%s: %d inputs, %d clear, %d unsafe by the judge, %d clear though unsafe", h.name, huntRows, clear, unsafe, wrong)
	if clear < huntRows/200 || unsafe < huntRows/200 {
		h.t.Errorf("%d clear and %d unsafe of %d: the hunt looks in the wrong places", clear, unsafe, huntRows)
	}
}

func (h *hunt) describe(i int) string {
	s := ""
	for name, in := range h.inputs {
		if in.choice != nil && in.texts[in.choice[i]] != "" {
			s += name + " = " + in.texts[in.choice[i]] + "; "
		} else {
			s += name + " = " + formatted(in.v[i]) + "; "
		}
	}
	return s
}
