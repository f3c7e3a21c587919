package calc_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/run"
)

// spellSeries spells a series as it is shown.
func spellSeries(s answer.Series) string {
	cells := make([]string, len(s.Value.Numbers))
	for i := range cells {
		cells[i] = s.Value.Cell(i)
	}
	return s.Name() + ": " + strings.Join(cells, ", ")
}

// What a vary line shows, worked by hand: its axes and then what it shows.
func TestVary(t *testing.T) {
	for _, c := range []struct {
		what, lines string
		want        []string
	}{
		{"by a step, the last row too", "x = 1 m ; vary x from 2 m to 20 m by 6 m show 2 * x",
			[]string{"x: 2 m, 8 m, 14 m, 20 m", "2 * x: 4 m, 16 m, 28 m, 40 m"}},
		{"the last row not beyond the end", "x = 1 m ; vary x from 2 m to 19 m by 6 m show x", []string{"x: 2 m, 8 m, 14 m", "x: 2 m, 8 m, 14 m"}},
		{"a step larger than the range", "x = 1 m ; vary x from 2 m to 3 m by 6 m show x", []string{"x: 2 m", "x: 2 m"}},
		{"a range of one place", "x = 1 m ; vary x from 2 m to 2 m by 1 m show x", []string{"x: 2 m", "x: 2 m"}},
		{"a range of one place over steps", "x = 1 m ; vary x from 2 m to 2 m over 2 steps show x", []string{"x: 2 m, 2 m, 2 m", "x: 2 m, 2 m, 2 m"}},
		{"a step that is no binary fraction", "x = 1 ; vary x from 0 to 1 by 0.1 show x",
			[]string{"x: 0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1", "x: 0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1"}},
		{"over steps", "x = 1 m ; vary x from 1 m to 2 m over 4 steps show x", []string{"x: 1 m, 1.25 m, 1.5 m, 1.75 m, 2 m", "x: 1 m, 1.25 m, 1.5 m, 1.75 m, 2 m"}},
		{"a step in another unit", "x = 1 m ; vary x from 1 ft to 2 ft by 6 in show x as in", []string{"x: 1 ft, 1.5 ft, 2 ft", "x: 12 in, 18 in, 24 in"}},
		{"among values, in the order given", "x = 1 V ; vary x among 5 V, 2 V, 5 V show 3 * x", []string{"x: 5 V, 2 V, 5 V", "3 * x: 15 V, 6 V, 15 V"}},
		{"among a column", "a = 1 mm2 ; table w | area as mm2 ; p | 1.5 ; q | 4 ; end ; vary a among w.area show 2 * a", []string{"a: 1.5 mm2, 4 mm2", "2 * a: 3 mm2, 8 mm2"}},
		{"below nothing", "x = 1 V ; vary x from -2 V to 2 V by 2 V show abs(x)", []string{"x: -2 V, 0 V, 2 V", "abs(x): 2 V, 0 V, 2 V"}},
		{"as far as numbers go, over steps", "x = 1 ; vary x from -1.5e308 to 1.5e308 over 4 steps show x / 1e300", []string{"x: -1.5e308, -7.5e307, 0, 7.5e307, 1.5e308", "x / 1e300: -150000000, -75000000, 0, 75000000, 150000000"}},
		{"as far as numbers go, by steps", "x = 1 ; vary x from -1.5e308 to 1.5e308 by 1e308 show x / 1e300", []string{"x: -1.5e308, -5e307, 5e307, 1.5e308", "x / 1e300: -150000000, -50000000, 50000000, 150000000"}},
		{"temperatures", "t = 20 degC ; vary t from -10 degC to 20 degC by 15 K show t as degF", []string{"t: -10 degC, 5 degC, 20 degC", "t: 14 degF, 41 degF, 68 degF"}},
		{"temperatures by another scale's step", "t = 20 degC ; vary t from 32 degF to 68 degF by 10 K show t", []string{"t: 32 degF, 50 degF, 68 degF", "t: 0 degC, 10 degC, 20 degC"}},
		{"what does not move", "x = 1 m ; y = 3 V ; vary x from 1 m to 2 m by 1 m show y, x", []string{"x: 1 m, 2 m", "y: 3 V, 3 V", "x: 1 m, 2 m"}},
		{"a text", `x = 1 ; vary x from 1 to 3 by 1 show if x > 2 then "high" else "low"`, []string{"x: 1, 2, 3", `if x > 2 then "high" else "low": low, low, high`}},
		{"a truth", "x = 1 ; vary x from 1 to 3 by 1 show x > 2", []string{"x: 1, 2, 3", "x > 2: no, no, yes"}},
		{"a row without an answer", "x = 1 ; vary x from 0 to 2 by 1 show 1 / x", []string{"x: 0, 1, 2", "1 / x: no answer: a division by nothing, 1, 0.5"}},
		{"two axes, the second the quicker", "x = 1 ; y = 1 ; vary x from 1 to 2 by 1 and y among 10, 20, 30 show x * y",
			[]string{"x: 1, 1, 1, 2, 2, 2", "y: 10, 20, 30, 10, 20, 30", "x * y: 10, 20, 30, 20, 40, 60"}},
		{"a column gives a series for each row", "x = 2 ; table t | a ; p | 1 ; q | 10 ; end ; t.b = t.a * x ; vary x from 1 to 3 by 1 show t.b",
			[]string{"x: 1, 2, 3", "t.b: p: 1, 2, 3", "t.b: q: 10, 20, 30"}},
		{"a sum over a table adds its rows up and not those of the study", "x = 2 ; table t | a ; p | 1 ; q | 10 ; end ; t.b = t.a * x ; vary x from 1 to 3 by 1 show sum(t.b), most(t.b), count(t.b > 15)",
			[]string{"x: 1, 2, 3", "sum(t.b): 11, 22, 33", "most(t.b): 10, 20, 30", "count(t.b > 15): 0, 1, 1"}},
		{"a table of one row is a table still", "x = 2 ; table t | a ; p | 5 ; end ; vary x from 1 to 3 by 1 show sum(t.a * x), mean(t.a) + x",
			[]string{"x: 1, 2, 3", "sum(t.a * x): 5, 10, 15", "mean(t.a) + x: 6, 7, 8"}},
		{"a cell moves its own row", "table t | a ; p | 1 ; q | 10 ; end ; t.b = 2 * t.a ; vary t.q.a from 0 to 20 by 10 show t.b, sum(t.a)",
			[]string{"t.q.a: 0, 10, 20", "t.b: p: 2, 2, 2", "t.b: q: 0, 20, 40", "sum(t.a): 1, 11, 21"}},
		{"two cells", "table t | a ; p | 1 ; q | 10 ; end ; vary t.q.a from 0 to 20 by 20 and t.p.a among 1, 2 show sum(t.a)",
			[]string{"t.q.a: 0, 0, 20, 20", "t.p.a: 1, 2, 1, 2", "sum(t.a): 1, 2, 21, 22"}},
		{"a placed sheet over the rows of a table", "k = 1 m ; table runs | m as m ; p | 5 ; q | 10 ; end ; use drop for d with length = runs.m + k, joints = 0 ; " +
			"vary k from 0 m to 5 m by 5 m show d.lost / d.load / 1 ohm * 1 m / d.resistance * 1 ohm, sum(d.resistance) / most(d.resistance)",
			[]string{"k: 0 m, 5 m", "d.lost / d.load / 1 ohm * 1 m / d.resistance * 1 ohm: p: 1 m, 1 m", "d.lost / d.load / 1 ohm * 1 m / d.resistance * 1 ohm: q: 1 m, 1 m",
				"sum(d.resistance) / most(d.resistance): 1.5, 1.667"}},
	} {
		v := answeredStudy(t, c.lines).(*answer.Varied)
		var got []string
		for _, s := range append(v.Axes, v.Shown...) {
			got = append(got, spellSeries(s))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %s: got\n\t%s\nwant\n\t%s", c.what, c.lines, strings.Join(got, "\n\t"), strings.Join(c.want, "\n\t"))
		}
		if v.Rows != len(v.Axes[0].Value.Numbers) || v.Every > 1 {
			t.Errorf("%s: %d rows and %d numbers, cut: %v", c.what, v.Rows, len(v.Axes[0].Value.Numbers), v.Every > 1)
		}
	}
}

// A step is never added up: row i is a + i * step, and the last row is there
// whatever the rounding.
func TestVaryDoesNotAccumulate(t *testing.T) {
	for _, c := range []struct {
		by   float64
		rows int
	}{{0.1, 10_001}, {0.001, 1_000_001}, {1.0 / 3, 3_001}, {0.7, 1_429}} {
		book := open(fmt.Sprintf("x = 1 m ; vary x from 0 m to 1000 m by %.17g m show x", c.by))
		sweep, problem := book.Lab().Sweep(book.C.Studies[1])
		if problem != nil {
			t.Fatal(problem.Message)
		}
		if sweep.Rows != c.rows {
			t.Errorf("by %v: %d rows, want %d", c.by, sweep.Rows, c.rows)
		}
		err := sweep.Run(context.Background(), func(first, n int, cols []*run.Col) error {
			for w := range n {
				x, _ := cols[0].At(0, w)
				if want := float64(first+w) * c.by; x != want {
					return fmt.Errorf("row %d is %.17g, want %.17g", first+w, x, want)
				}
				if x != sweep.Axis(0, first+w) {
					return fmt.Errorf("row %d: the axis says %v and the value %v", first+w, sweep.Axis(0, first+w), x)
				}
			}
			return nil
		})
		if err != nil {
			t.Errorf("by %v: %v", c.by, err)
		}
	}
}

// Where a verdict turns is told with the row from which it is another, and the
// limit of a rule stands beside what it limits.
func TestVaryTellsOfRules(t *testing.T) {
	v := answeredStudy(t, "x = 1 m ; lost = x * 0.1 V/m ; must lost <= 0.75 V ; should lost <= 0.5 V ; should x < 3 m ; must 2 V > lost ; should lost <= x * 1 V/m ; "+
		"vary x from 1 m to 10 m by 1 m show lost").(*answer.Varied)
	var turns, limits []string
	for _, x := range v.Turns {
		turns = append(turns, fmt.Sprintf("%s at %s: %v to %v", x.Cond, v.Axes[0].Value.Cell(x.Row), x.Was, x.Now))
	}
	for _, l := range v.Limits {
		limits = append(limits, fmt.Sprintf("%s at %s must: %v", l.Cond, l.At.Cell(0), bool(l.Must)))
	}
	if want := []string{"x < 3 m at 3 m: clear to caution", "lost <= 0.5 V at 6 m: clear to caution", "lost <= 0.75 V at 8 m: clear to danger"}; !slices.Equal(turns, want) {
		t.Errorf("turns %q, want %q", turns, want)
	}
	if want := []string{"lost <= 0.75 V at 0.75 V must: true", "lost <= 0.5 V at 0.5 V must: false", "2 V > lost at 2 V must: true"}; !slices.Equal(limits, want) {
		t.Errorf("limits %q, want %q", limits, want)
	}
}

// A long sweep is kept in part, from end to end of its range, and told to be.
func TestVaryKeepsPart(t *testing.T) {
	v := answeredStudy(t, "x = 1 m ; vary x from 0 m to 1 km by 1 mm show 2 * x").(*answer.Varied)
	n := v.Axes[0].Points
	if v.Rows != 1_000_001 || v.Every < 100 || n > 10_000 || n < 9_000 || len(v.Shown[0].Value.Numbers) != n {
		t.Errorf("%d rows, each %d, %d kept", v.Rows, v.Every, n)
	}
	for i, x := range v.Shown[0].Value.Numbers {
		at := math.Min(float64(i*v.Every)*0.001, 1000)
		if math.Abs(x-2*at) > 1e-12*x || math.Abs(v.Axes[0].Value.Numbers[i]-at) > 1e-12*at {
			t.Fatalf("row %d is %v at %v, want %v", i, x, v.Axes[0].Value.Numbers[i], 2*at)
		}
	}
	v = answeredStudy(t, "x = 1 m ; y = 1 m ; vary x from 0 m to 1 m over 999 steps and y from 0 m to 1 m over 999 steps show x + y").(*answer.Varied)
	if p, q := v.Axes[0].Points, v.Axes[1].Points; p*q > 10_000 || p*q < 5_000 || len(v.Shown[0].Value.Numbers) != p*q || v.Shown[0].Value.Numbers[p*q-1] != 2 {
		t.Errorf("%d by %d points kept", p, q)
	}
}

// What suppose lines say: "name: now, then, change, per cent", then the turns.
func TestSuppose(t *testing.T) {
	for _, c := range []struct {
		what, lines string
		want        []string
	}{
		{"a change up", "x = 2 V ; y = 3 * x ; suppose x = 3 V show y", []string{"y: 6 V, 9 V, 3 V, +50 %"}},
		{"a change down", "x = 2 V ; y = 3 * x ; suppose x = 1 V show y as mV", []string{"y: 6000 mV, 3000 mV, -3000 mV, -50 %"}},
		{"no change", "x = 2 V ; y = 3 V ; suppose x = 1 V show y", []string{"y: 3 V, 3 V, 0 V, 0 %"}},
		{"two inputs at once", "x = 2 V ; i = 1 A ; suppose x = 4 V, i = 3 A show x * i, x / i", []string{"x * i: 2 W, 12 W, 10 W, +500 %", "x / i: 2 ohm, 1.333 ohm, -666.7 mohm, -33.33 %"}},
		{"by way of another value", "x = 2 V ; k = 5 V ; suppose x = k + 1 V show x", []string{"x: 2 V, 6 V, 4 V, +200 %"}},
		{"by way of its own value", "x = 2 V ; suppose x = 2 * x show x", []string{"x: 2 V, 4 V, 2 V, +100 %"}},
		{"from nothing there is no share", "x = 0 V ; suppose x = 2 V show x", []string{"x: 0 V, 2 V, 2 V, "}},
		{"from below nothing", "x = -4 V ; suppose x = 2 V show x", []string{"x: -4 V, 2 V, 6 V, +150 %"}},
		{"a temperature changes in kelvin and has no share", "t = 20 degC ; suppose t = 30 degC show t", []string{"t: 20 degC, 30 degC, 10 K, "}},
		{"a text", `x = 2 ; suppose x = 4 show if x > 3 then "high" else "low"`, []string{`if x > 3 then "high" else "low": low, high, -, `}},
		{"no answer then", "x = 2 ; suppose x = 0 show 1 / x", []string{"1 / x: 0.5, no answer: a division by nothing, -, "}},
		{"a cell", "table t | a ; p | 1 ; q | 10 ; end ; suppose t.p.a = 5 show sum(t.a)", []string{"sum(t.a): 11, 15, 4, +36.36 %"}},
		{"rules that turn, and no others", "x = 2 V ; must x <= 3 V ; should x <= 3 V ; must x <= 9 V ; should 1 V > 2 V ; must 1 / (x - 5 V) < 1 /(1 V) ; suppose x = 5 V show x",
			[]string{"x: 2 V, 5 V, 3 V, +150 %", "x <= 3 V: clear to danger", "x <= 3 V: clear to caution", "1 / (x - 5 V) < 1 / (1 V): clear to no verdict"}},
		{"rules of a placed sheet", "use drop for d ; suppose d.length = 50 m show d.length", []string{"d.length: 8 m, 50 m, 42 m, +525 %", "d: share <= allowed: clear to caution"}},
	} {
		x := answeredStudy(t, c.lines).(*answer.Supposed)
		var got []string
		for _, l := range x.Lines {
			change := "-"
			if l.Change != nil {
				change = l.Change.Cell(0)
			}
			got = append(got, fmt.Sprintf("%s: %s, %s, %s, %s", l.Name, l.Now.Cell(0), l.Then.Cell(0), change, percentOf(l.Percent)))
		}
		for _, turn := range x.Turns {
			name := ""
			if turn.Name != "" {
				name = turn.Name + ": "
			}
			got = append(got, fmt.Sprintf("%s%s: %v to %v", name, turn.Cond, turn.Was, turn.Now))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %s: got\n\t%s\nwant\n\t%s", c.what, c.lines, strings.Join(got, "\n\t"), strings.Join(c.want, "\n\t"))
		}
	}
}

// What is supposed is what an edit would give: every number and verdict.
func TestSupposeIsAnEdit(t *testing.T) {
	const given = "x = 8 m ; use drop for d with length = x ; must d.lost <= 1 V ; table t | a as m ; p | 1 ; q | 2 ; end ; t.b = t.a + x"
	edited := open(strings.Replace(given, "x = 8 m", "x = 30 m", 1) + " ; d.lost ; d.next_wire ; d.left ; sum(t.b)")
	book := open(given + " ; suppose x = 30 m show d.lost, d.next_wire, d.left, sum(t.b)")
	got := lastStudy(book).(*answer.Supposed)
	for i, l := range got.Lines {
		want := edited.Answer(len(edited.Lines()) - len(got.Lines) + i).Value
		if l.Then.Numbers[0] != want.Numbers[0] {
			t.Errorf("%s is supposed to be %s and after an edit %s", l.Name, l.Then, want)
		}
	}
	change := open(given)
	turned := change.Update(replaceLine(change, 0, "x = 30 m")).Turns
	var inNotebook []string
	for _, x := range turned {
		inNotebook = append(inNotebook, fmt.Sprint(x.Name, x.Cond, x.Was, x.Now))
	}
	var supposed []string
	for _, x := range got.Turns {
		supposed = append(supposed, fmt.Sprint(x.Name, x.Cond, x.Was, x.Now))
	}
	slices.Sort(inNotebook)
	slices.Sort(supposed)
	if !slices.Equal(supposed, inNotebook) || len(supposed) == 0 {
		t.Errorf("supposed turns\n\t%q\nafter an edit\n\t%q", supposed, inNotebook)
	}
}

// Rows of a study are what single edits give, one by one.
func TestVaryIsEdits(t *testing.T) {
	const given = "x = 8 m ; use drop for d with length = x, load = 2.5 A ; share = d.share"
	v := answeredStudy(t, given+" ; vary x from 1 m to 40 m over 7 steps show d.lost, d.fault, d.least_wire, share").(*answer.Varied)
	for row, x := range v.Axes[0].Value.Numbers {
		edited := open(strings.Replace(given, "8 m", fmt.Sprintf("%.17g m", x), 1) + " ; d.lost ; d.fault ; d.least_wire ; share")
		for k, s := range v.Shown {
			want := edited.Answer(3 + k).Value.Numbers[0]
			if got := s.Value.Numbers[row]; got != want {
				t.Errorf("%s at %v m is %v, and after an edit %v", s.Name(), x, got, want)
			}
		}
	}
}
