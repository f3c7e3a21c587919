package show

import (
	"fmt"
	"strings"
	"testing"

	"railsum/calc/answer"
)

// TestMeasuredShortly: five explanations, in their order, and whose their values are.
func TestMeasuredShortly(t *testing.T) {
	m := &answer.Measured{Name: "lost", Sum: quantity(t, 1, "V"), Meter: quantity(t, 2, "V"), Difference: quantity(t, 1, "V"),
		Low: quantity(t, 1, "V"), High: quantity(t, 1, "V")}
	for i := range 8 {
		e := answer.Suspect{Name: fmt.Sprintf("i%d", i), Now: quantity(t, 1, "m"), Wanted: quantity(t, 2, "m")}
		if i == 3 {
			e.State = answer.Assumed
		}
		m.Suspects = append(m.Suspects, e)
	}
	got := written(Options{Width: 80}, func(p *Printer) { p.Measured(m) })
	var names []string
	for _, row := range strings.Split(got, "\n") {
		if name, _, is := strings.Cut(strings.TrimSpace(row), " = "); is {
			names = append(names, name)
		}
	}
	if got, want := strings.Join(names, " "), "i0 i1 i2 i3 i4"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if !strings.Contains(got, "i3 = 2 m instead of 1 m (assumed)") {
		t.Errorf("it is not told what is assumed:\n%s", got)
	}
	if !strings.Contains(got, "and 3 inputs more\n") {
		t.Errorf("what is left out is not told:\n%s", got)
	}
}

// TestWorkingFolds: an ingredient that only repeats another shares its row, what
// lies below moves out with it, and sources come last, by sheet.
func TestWorkingFolds(t *testing.T) {
	v := quantity(t, 6, "V")
	w := &answer.Working{Steps: []answer.Step{
		{Name: "north.lost", Formula: expr("run.lost"), Answer: v, Level: 1, Sheet: "drop", Sources: []string{"one"}, Meaning: "all of it"},
		{Name: "north.run.lost", Formula: expr("a * 2"), Filled: expr("3 V * 2"), Answer: v, Level: 2, Sheet: "loop", Sources: []string{"two", "three"}},
		{Name: "north.run.a", Formula: expr("a"), Answer: quantity(t, 3, "V"), Level: 3},
		{Name: "north.a", Answer: quantity(t, 3, "V"), Level: 4, Input: true},
		{Name: "north.run.b", Formula: expr("a"), Answer: quantity(t, 3, "V"), Level: 3},
	}}
	want := `    north.lost = north.run.lost = a * 2 (sheet loop)
      = 3 V * 2
      = 6 V
      all of it
      north.run.a = north.a = 3 V (an input)
      north.run.b = a = 3 V
`
	sources := `    sources
      drop
        one
      loop
        two
        three
`
	if got := written(Options{Width: 80}, func(p *Printer) { p.Working(w) }); got != want+sources {
		t.Errorf("got\n%s\nwant\n%s", got, want+sources)
	}
	if got := written(Options{Width: 80}, func(p *Printer) { p.SourcesLater = true; p.Working(w) }); got != want {
		t.Errorf("with the sources later: got\n%s\nwant\n%s", got, want)
	}
}

// TestNothingMoves: a sweep that changes nothing says so in place of a chart.
func TestNothingMoves(t *testing.T) {
	series := func(name string, of int, xs ...float64) answer.Series {
		v := quantity(t, 1, "V")
		v.Numbers = xs
		return answer.Series{Expr: name, Value: v, Of: of, Points: len(xs)}
	}
	axis := series("x", 0, 1, 2, 3, 4)
	for _, c := range []struct {
		shown []answer.Series
		want  string
	}{
		{[]answer.Series{series("a", 0, 5, 5, 5, 5)}, "a does not change with x\n"},
		{[]answer.Series{series("a", 0, 5, 5, 5, 5), series("b", 1, 7, 7, 7, 7)}, "no shown value changes with x\n"},
		{[]answer.Series{series("a", 0, 5, 5, 5, 5), series("b", 1, 7, 7, 7, 8)}, "a stays 5 V\n"},
	} {
		v := &answer.Varied{Axes: []answer.Series{axis}, Shown: c.shown, Rows: 4, Every: 1}
		got := written(Options{Width: 80}, func(p *Printer) { p.Vary(v) })
		if !strings.Contains(got, c.want) {
			t.Errorf("got\n%s\nwant in it %s", got, c.want)
		}
		if strings.Contains(got, " | ") && !strings.Contains(c.want, "stays") {
			t.Errorf("a chart of what stands still:\n%s", got)
		}
	}
}
