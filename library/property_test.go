package library_test

import (
	"context"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/function"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/library"
)

// propertyRows is how many rows each sheet is tried with.
const propertyRows = 10_000

// trial is a sheet put to work, with its inputs to be drawn from their ranges.
type trial struct {
	t     *testing.T
	name  string
	book  *calc.Book
	place *check.Placement
	study run.Study
	asks  map[string][]float64
}

func newTrial(t *testing.T, name string) *trial {
	t.Helper()
	book := calc.Open(syntax.ParseFile([]byte("use "+name+" for x\n")).Lines, library.Shipped())
	if a := book.Answer(0); len(a.Errors) > 0 || len(a.Cards) != 1 {
		t.Fatalf("%s: %v", name, a.Errors)
	}
	tr := &trial{t: t, name: name, book: book, place: book.C.Places[0][0], asks: map[string][]float64{}}
	tr.study.Rows = propertyRows
	rng := rand.New(rand.NewPCG(uint64(len(name)), 7))
	for _, d := range tr.place.Asks {
		tr.draw(d, rng)
	}
	return tr
}

// draw fills an input with values from its range, by ratio where the range
// spans more than two powers of ten, or with its choices.
func (tr *trial) draw(d *check.Def, rng *rand.Rand) {
	m := tr.book.M
	v := make([]float64, propertyRows)
	switch {
	case len(d.Choice) > 0:
		for i := range v {
			v[i] = m.Col(d.Choice[rng.IntN(len(d.Choice))]).V[0]
		}
	case d.Bounds[0] != nil:
		lo, hi := m.Col(d.Bounds[0]).V[0], m.Col(d.Bounds[1]).V[0]
		whole := d.Type.Dim.IsPlain() && m.Col(d).V[0] == math.Trunc(m.Col(d).V[0]) && !d.Show.Percent() && hi > 3
		for i := range v {
			switch {
			case i < 2:
				v[i] = []float64{lo, hi}[i]
			case lo > 0 && hi/lo > 100:
				v[i] = lo * math.Pow(hi/lo, rng.Float64())
			default:
				v[i] = lo + (hi-lo)*rng.Float64()
			}
			if whole {
				v[i] = math.Round(v[i])
			}
		}
	default:
		return
	}
	tr.asks[d.Name] = v
	tr.study.Replace(d, func(first int, dst []float64) { copy(dst, v[first:]) })
}

// run gives the columns of Defs over all rows; a mark is a failure.
func (tr *trial) run(want []*check.Def) map[*check.Def][][]float64 {
	tr.t.Helper()
	tr.study.Want = want
	out := map[*check.Def][][]float64{}
	said := 0
	err := tr.book.M.Study(context.Background(), tr.study, func(first, n int, cols []*run.Col) error {
		for j, c := range cols {
			for w := range n {
				row := make([]float64, c.Rows)
				for r := range row {
					v, mk := c.At(r, w)
					row[r] = v
					if mk != 0 && mk.Fault() != function.None && said < 3 {
						said++
						tr.t.Errorf("%s: %s has no answer in row %d: %s (%s)", tr.name, want[j].Name, first+w, mk.Fault().Words(), tr.inputs(first+w))
					}
				}
				out[want[j]] = append(out[want[j]], row)
			}
		}
		return nil
	})
	if err != nil {
		tr.t.Fatal(err)
	}
	return out
}

func (tr *trial) inputs(row int) string {
	s := ""
	for _, d := range tr.place.Asks {
		if v := tr.asks[d.Name]; v != nil {
			s += d.Name + " = " + d.Show.String() + " " + strconv.FormatFloat(d.Show.FromSI(v[row]), 'g', 6, 64) + "; "
		}
	}
	return s
}

// Every sheet answers everywhere in the ranges that it says it is good for, and
// its rules say what their two sides say.
func TestSheetsHoldOverTheirRanges(t *testing.T) {
	for _, name := range library.Shipped().SheetNames() {
		t.Run(name, func(t *testing.T) {
			tr := newTrial(t, name)
			want := append([]*check.Def(nil), tr.place.Gives...)
			var rules []*check.Def
			for _, p := range tr.place.Whole() {
				rules = append(rules, p.Rules...)
			}
			for _, r := range rules {
				want = append(append(want, r), r.Sides...)
			}
			got := tr.run(want)
			for _, r := range rules {
				if len(r.Sides) == 2 {
					tr.recompute(r, got)
				}
			}
			tr.shares(got)
		})
	}
}

// recompute judges a comparison from its two sides again.
func (tr *trial) recompute(rule *check.Def, got map[*check.Def][][]float64) {
	x, y, verdict := got[rule.Sides[0]], got[rule.Sides[1]], got[rule]
	op := rule.Expr.(*syntax.Compare).Ops[0]
	for i := range verdict {
		for r := range verdict[i] {
			a, b := at(x[i], r), at(y[i], r)
			holds := map[string]bool{"<": run.Less(a, b), "<=": !run.Less(b, a), ">": run.Less(b, a), ">=": !run.Less(a, b), "=": run.Equal(a, b), "!=": !run.Equal(a, b)}[op]
			if holds != (verdict[i][r] != 0) {
				tr.t.Fatalf("%s: %s is %v in row %d, with %v and %v", tr.name, syntax.PrintExpr(rule.Expr), verdict[i][r] != 0, i, a, b)
			}
		}
	}
}

func at(row []float64, r int) float64 {
	if len(row) == 1 {
		return row[0]
	}
	return row[r]
}

// shares checks that a share lost is one, wherever less is lost than there is.
func (tr *trial) shares(got map[*check.Def][][]float64) {
	var lost, share *check.Def
	for _, d := range tr.place.Gives {
		switch d.Name {
		case "x.lost":
			lost = d
		case "x.share":
			share = d
		}
	}
	supply := tr.asks["x.supply"]
	if lost == nil || share == nil || supply == nil {
		return
	}
	for i, row := range got[lost] {
		if row[0] < supply[i] && (got[share][i][0] < 0 || got[share][i][0] > 1) {
			tr.t.Fatalf("%s: a share of %v in row %d", tr.name, got[share][i][0], i)
		}
	}
}

// monotone lists what can only grow, or only fall, when an input grows: plain
// physics, no source needed.
var monotone = []struct {
	sheet, input, output string
	grows                bool
}{
	{"drop", "length", "lost", true}, {"drop", "load", "lost", true}, {"drop", "wire", "lost", false}, {"drop", "temperature", "lost", true},
	{"drop", "length", "fault", false}, {"drop", "wire", "fault", true}, {"drop", "allowance", "heat", true}, {"drop", "length", "least_wire", true},
	{"loop", "length", "resistance", true}, {"loop", "wire", "resistance", false}, {"loop", "joints", "resistance", true},
	{"stub", "span", "longest", true}, {"stub", "gap", "longest", false}, {"stub", "module", "shortest", true}, {"stub", "fastest", "shortest", true},
	{"stub", "length", "dead", true}, {"input_resistor", "resistor", "current", false}, {"input_resistor", "normal", "heat", true},
	{"headroom", "coaches", "standing", true}, {"headroom", "rating", "spare", true}, {"headroom", "axles", "total", true},
	{"scale", "full", "model", true}, {"scale", "speed", "time", false},
	{"axles", "resistor", "current", false}, {"hold_up", "cells", "capacitance", false}, {"hold_up", "speed", "distance", true},
	{"coil", "capacitance", "energy", true}, {"battery", "current", "time", false}, {"led", "current", "resistor", false},
}

func TestSheetsAreMonotone(t *testing.T) {
	for _, c := range monotone {
		t.Run(c.sheet+"/"+c.input, func(t *testing.T) {
			tr := newTrial(t, c.sheet)
			var in, out *check.Def
			for _, d := range tr.place.Asks {
				if d.Name == "x."+c.input {
					in = d
				}
			}
			for _, d := range tr.place.Gives {
				if d.Name == "x."+c.output {
					out = d
				}
			}
			if in == nil || out == nil || tr.asks[in.Name] == nil {
				t.Fatalf("%s has no %s or no %s", c.sheet, c.input, c.output)
			}
			before := tr.run([]*check.Def{out})[out]
			hi := tr.book.M.Col(in.Bounds[1]).V[0]
			for i, x := range tr.asks[in.Name] {
				tr.asks[in.Name][i] = x + (hi-x)/2
			}
			after := tr.run([]*check.Def{out})[out]
			for i := range before {
				a, b := before[i][0], after[i][0]
				if !c.grows {
					a, b = b, a
				}
				if run.Less(b, a) {
					t.Fatalf("%s falls the wrong way in row %d: %v and %v (%s)", c.output, i, before[i][0], after[i][0], tr.inputs(i))
				}
			}
		})
	}
}

// The doublings and limits that need no numbers to trust.
func TestMetamorphic(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"twice the length loses twice", "use drop for a with joints = 0\nuse drop for b with joints = 0, length = 16 m\nmust b.lost = 2 * a.lost"},
		{"a run in two pieces adds up", "use drop for w with joints = 0\nuse drop for a with joints = 0, length = 3 m\nuse drop for b with joints = 0, length = 5 m\nmust a.lost + b.lost = w.lost"},
		{"two parallel runs halve", "use drop for a with joints = 0\nuse drop for b with joints = 0, wire = 3 mm2\nmust b.lost = a.lost / 2"},
		{"volts and amperes together keep the share", "use drop for a\nuse drop for b with supply = 30 V, load = 6 A\nmust b.share = a.share"},
		{"heat is what the load does not get", "use drop for a\nmust a.heat = 15 V * a.load - (15 V - a.lost) * a.load"},
		{"a long way back is a short way there", "use scale for a with full = 12.5 m\nmust full_size(a.model, scale_H0) = 12.5 m"},
		{"no current through an endless resistor", "use input_resistor for a with resistor = 100k\nmust a.current < 0.2 mA"},
		{"one engine alone draws what it draws", "table one | count | moving | draw as A | stall as A\n  engine | 1 | 1 | 0.5 | 1\nend\nuse headroom for a with coaches = 0, axles = 0, idle = 0 mA, capacitors = 0\na.engines = one\nmust a.total = 0.5 A\nmust a.stalled = 1 A"},
		{"a whole layout of one section is the lumped case", "table run | length\n  all | 8 m\nend\nuse drop for a with length = run.length\nuse drop for b\nmust a.lost = b.lost"},
	} {
		t.Run(c.name, func(t *testing.T) {
			book := calc.Open(syntax.ParseFile([]byte(c.text)).Lines, library.Shipped())
			for _, a := range book.Answers() {
				if len(a.Errors) > 0 {
					t.Fatal(a.Errors[0].Message)
				}
				if a.Rule != nil && a.Rule.Verdict != answer.Clear {
					t.Errorf("%s: %s", a.Rule.Cond.String(), a.Rule.Figures())
				}
			}
		})
	}
}
