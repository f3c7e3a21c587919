package show

import (
	"math"
	"strings"
	"testing"

	"railsum/calc/answer"
)

// drawn is a chart as it is written.
func drawn(t *testing.T, c *chart) []string {
	t.Helper()
	text := written(Options{Width: c.wide}, func(p *Printer) {
		p.indent = ""
		f, _ := c.layOut()
		if f == nil {
			t.Fatal("no chart")
		}
		p.plot(c, f)
	})
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}

// TestChartPlaces reads a chart as one does with a ruler: each point must stand
// in the row of its value and the column of its place.
func TestChartPlaces(t *testing.T) {
	x := []float64{0, 1, 2, 3, 4}
	y := []float64{0, 30, 10, 40, 20}
	rows := drawn(t, &chart{curves: []curve{{x: x, y: y}}, wide: 60})
	body := rows[1:] // below the title
	base := strings.Index(body[0], "|") + 1
	axisRow := -1
	for i, r := range body {
		if strings.HasPrefix(strings.TrimSpace(r), "+") {
			axisRow = i
		}
	}
	if axisRow != 13 { // 40 in steps of 10, each 3 rows, and the lowest row
		t.Fatalf("the axis is in row %d of\n%s", axisRow, strings.Join(rows, "\n"))
	}
	cols := len(body[axisRow]) - base
	for i := range x {
		row := axisRow - 1 - int(math.Round(y[i]*3/10))
		col := base + int(math.Round(x[i]/4*float64(cols-1)))
		if col >= len(body[row]) || body[row][col] != 'o' {
			t.Errorf("no point for %g, %g in row %d, column %d of\n%s", x[i], y[i], row, col, strings.Join(rows, "\n"))
		}
	}
	for _, label := range []string{"0 |", "10 |", "20 |", "30 |", "40 |"} {
		if !strings.Contains(strings.Join(body, "\n"), label) {
			t.Errorf("no %q on the axis", label)
		}
	}
}

// TestChartGaps: nothing is drawn where there is no answer.
func TestChartGaps(t *testing.T) {
	nan := math.NaN()
	rows := drawn(t, &chart{curves: []curve{{x: []float64{0, 1, 2, 3, 4}, y: []float64{1, 1, nan, 2, 2}}}, wide: 47})
	for _, r := range rows[1:] {
		_, cells, ok := strings.Cut(r, "|")
		if ok && len(cells) > 12 && strings.Trim(cells[12:min(len(cells), 30)], " ") != "" {
			t.Errorf("something is drawn in the gap: %q", r)
		}
	}
}

// TestChartGuards: what cannot be drawn is left out and does no harm.
func TestChartGuards(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		name string
		x, y []float64
		wide int
	}{
		{"nothing", nil, nil, 80},
		{"one point", []float64{1}, []float64{1}, 80},
		{"level", []float64{1, 2, 3}, []float64{5, 5, 5}, 80},
		{"one place", []float64{2, 2, 2}, []float64{1, 2, 3}, 80},
		{"no numbers", []float64{1, 2, 3}, []float64{nan, nan, nan}, 80},
		{"infinite", []float64{1, 2, 3}, []float64{inf, -inf, inf}, 80},
		{"too wide a range", []float64{1, 2, 3}, []float64{-math.MaxFloat64, 0, math.MaxFloat64}, 80},
		{"no room", []float64{1, 2, 3}, []float64{1, 2, 3}, 10},
	} {
		if f, _ := (&chart{curves: []curve{{x: c.x, y: c.y}}, wide: c.wide}).layOut(); f != nil {
			t.Errorf("%s: a chart is drawn", c.name)
		}
	}
	for _, y := range [][]float64{{1, inf, 3}, {-1e-300, 0, 1e-300}, {1e300, 2e300, 3e300}, {-3, -2, -1}, {1e9, 1e9 + 1e-6, 1e9 + 2e-6}} {
		rows := drawn(t, &chart{curves: []curve{{x: []float64{1, 2, 3}, y: y}}, wide: 80})
		for _, r := range rows {
			if width(r) > 80 {
				t.Errorf("%v: %d columns: %q", y, width(r), r)
			}
		}
	}
}

// TestRoundSteps: an axis goes in steps of 1, 2, 2.5 and 5.
func TestRoundSteps(t *testing.T) {
	for _, c := range []struct{ x, want float64 }{
		{1, 1}, {1.1, 2}, {2, 2}, {2.2, 2.5}, {3, 5}, {5, 5}, {5.1, 10}, {0.03, 0.05}, {0.1, 0.1}, {7e-9, 1e-8}, {480, 500}, {1e20, 1e20},
	} {
		if got := roundStep(c.x); math.Abs(got/c.want-1) > 1e-12 {
			t.Errorf("roundStep(%g) = %g, want %g", c.x, got, c.want)
		}
	}
}

// TestDenseCurves: where many points share a column, the column shows from the
// lowest to the highest of them, so that nothing between two samples is lost.
func TestDenseCurves(t *testing.T) {
	var k curve
	for i := range 10_000 {
		k.x = append(k.x, float64(i))
		k.y = append(k.y, 0)
	}
	k.y[5000] = 8 // a spike that one sample in a thousand would miss
	text := strings.Join(drawn(t, &chart{curves: []curve{k}, wide: 60}), "\n")
	if strings.Count(text, "|") < 13+8 {
		t.Errorf("the spike is not drawn:\n%s", text)
	}
}

// TestSortedAcross: values listed in any order are drawn in theirs.
func TestSortedAcross(t *testing.T) {
	v := &answer.Varied{
		Axes:  []answer.Series{{Expr: "x", Value: column(t, nil, "m", 3, 1, 2), Points: 3}},
		Shown: []answer.Series{{Expr: "y", Value: column(t, nil, "V", 30, 10, 20)}}, Rows: 3,
	}
	k := curveOf(gridOf(v), &v.Shown[0], 0)
	for i := range 3 {
		if k.x[i] != float64(i+1) || k.y[i] != float64(10*i+10) {
			t.Errorf("point %d is %g, %g", i, k.x[i], k.y[i])
		}
	}
}

// TestChosen: a long sweep is thinned in round steps, with both ends and what
// must not be missed.
func TestChosen(t *testing.T) {
	for _, c := range []struct {
		n, most int
		must    []int
		want    []int
	}{
		{0, 24, nil, nil},
		{1, 24, nil, []int{0}},
		{3, 24, nil, []int{0, 1, 2}},
		{11, 6, nil, []int{0, 2, 4, 6, 8, 10}},
		{101, 24, []int{41, 42}, []int{0, 5, 10, 15, 20, 25, 30, 35, 40, 41, 42, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100}},
		{1000, 2, nil, []int{0, 999}},
	} {
		got := chosen(c.n, c.most, c.must)
		if len(got) != len(c.want) {
			t.Errorf("chosen(%d, %d): got %v, want %v", c.n, c.most, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("chosen(%d, %d): got %v, want %v", c.n, c.most, got, c.want)
				break
			}
		}
	}
	for n := 2; n < 3000; n += 7 {
		got := chosen(n, mostRows, nil)
		if len(got) > mostRows+1 || got[0] != 0 || got[len(got)-1] != n-1 {
			t.Errorf("chosen(%d, %d) = %v", n, mostRows, got)
		}
	}
}

// TestShares: a share that is not all and not nothing is never rounded to it.
func TestShares(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "0 %"}, {1, "100 %"}, {0.5, "50 %"}, {0.1234, "12.3 %"}, {0.00001, "less than 0.1 %"}, {0.99999, "more than 99.9 %"},
		{0.001, "0.1 %"}, {0.999, "99.9 %"},
	} {
		if got := share(c.x); got != c.want {
			t.Errorf("share(%g) = %s, want %s", c.x, got, c.want)
		}
	}
}

// TestNumbersKeepTheirUnits: a row is not broken between the two.
func TestNumbersKeepTheirUnits(t *testing.T) {
	text := written(Options{Width: 20}, func(p *Printer) { p.wrapped("", "from 10 V to 12.5 mm² or 5 %, at 3 rows") })
	for _, row := range strings.Split(text, "\n") {
		if last := row[strings.LastIndex(row, " ")+1:]; endsInNumber(last) {
			t.Errorf("a row ends in %s:\n%s", last, text)
		}
	}
}
