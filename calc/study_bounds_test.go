package calc_test

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/run"
)

// What studies may take of memory and time, however large the tables: bounds
// with room for a slow machine.

// tableOf spells a table t of many rows with one column a.
func tableOf(rows int, cell func(i int) string) string {
	var s strings.Builder
	s.WriteString("table t | a\n")
	for i := range rows {
		fmt.Fprintf(&s, "r%d | %s\n", i, cell(i))
	}
	s.WriteString("end\n")
	return s.String()
}

// within answers the last line of a notebook and reports where the heap grows by
// more than it may.
func within(t *testing.T, text string, megabytes int64) *calc.Answer {
	t.Helper()
	book := openText(text)
	var before, now runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	most, looked := uint64(0), time.Now()
	look := func() {
		runtime.ReadMemStats(&now)
		most = max(most, now.HeapAlloc)
	}
	book.OnProgress(func(float64) {
		if time.Since(looked) > 10*time.Millisecond {
			look()
			looked = time.Now()
		}
	})
	a, err := book.AnswerStudied(context.Background(), len(book.Lines())-1)
	look()
	if err != nil {
		t.Fatal(err)
	}
	if mb := (int64(most) - int64(before.HeapAlloc)) >> 20; mb > megabytes {
		t.Errorf("%s: %d MB, want %d at most", a.Line.Raw, mb, megabytes)
	}
	return a
}

// Of a column with many rows fewer values are kept; where hardly any could be,
// the line says so, and the whole is there to be streamed.
func TestVaryKeepsSoManyNumbers(t *testing.T) {
	for _, c := range []struct {
		rows, points int
		kept         int // 0 if it is too much
	}{{3, 10_000, 10_000}, {500, 10_000, 3_334}, {5_000, 300, 300}, {5_000, 10_000, 0}, {30_000, 10_000, 0}, {30_000, 10, 10}} {
		text := "x = 1\n" + tableOf(c.rows, func(i int) string { return fmt.Sprint(i) }) + fmt.Sprintf("vary x from 1 to %d by 1 show t.a * x\n", c.points)
		a := within(t, text, 200)
		v := a.Study.(*answer.Varied)
		if len(a.Errors) > 0 || len(v.Shown) != c.rows || v.Rows != c.points {
			t.Fatalf("%d by %d: %d series of %d rows: %v", c.rows, c.points, len(v.Shown), v.Rows, a.Errors)
		}
		n := len(v.Axes[0].Value.Numbers)
		if n != c.kept || len(v.Shown[0].Value.Numbers) != c.kept || v.TooMuch != (c.kept == 0) {
			t.Errorf("%d by %d: %d are kept, want %d", c.rows, c.points, n, c.kept)
		}
		if c.kept > 0 {
			if last := v.Shown[c.rows-1].Value.Numbers[n-1]; last != float64((c.rows-1)*c.points) {
				t.Errorf("%d by %d: the last is %v", c.rows, c.points, last)
			}
			continue
		}
		want := fmt.Sprintf("this shows %d rows of a column at %d values", c.rows, c.points)
		if len(a.Notices) != 1 || !strings.Contains(a.Notices[0].Message, want) || a.Notices[0].At.Col == 0 || a.Notices[0].Cure == "" {
			t.Errorf("%d by %d: %+v, want %s", c.rows, c.points, a.Notices, want)
		}
	}
}

// A sweep of a large column streams in bounded memory.
func TestVaryStreamsLargeColumns(t *testing.T) {
	const rows, points = 30_000, 1_000
	book := openText("x = 1\n" + tableOf(rows, func(i int) string { return fmt.Sprint(i) }) + fmt.Sprintf("vary x from 1 to %d by 1 show t.a * x, sum(t.a * x)\n", points))
	s, problem := book.Lab().Sweep(book.C.Studies[len(book.Lines())-1])
	if problem != nil {
		t.Fatal(problem.Message)
	}
	var before, m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var most uint64
	seen := 0
	err := s.Run(context.Background(), func(first, n int, cols []*run.Col) error {
		runtime.ReadMemStats(&m)
		most = max(most, m.HeapAlloc)
		for w := range n {
			v, _ := cols[0].At(rows-1, w)
			sum, _ := cols[1].At(0, w)
			x := float64(first + w + 1)
			if v != x*(rows-1) || sum != x*rows*(rows-1)/2 {
				return fmt.Errorf("row %d: %v and %v", first+w, v, sum)
			}
		}
		seen += n
		return nil
	})
	if err != nil || seen != points {
		t.Fatal(seen, err)
	}
	if over := int64(most) - int64(before.HeapAlloc); over > 100<<20 {
		t.Errorf("the heap has grown by %d MB at most, want less than 100", over>>20)
	}
}

// Many rules turn in many places: the first are told, the rest counted, and
// nothing is kept of them.
func TestVaryWithManyRules(t *testing.T) {
	const rules = 4_000
	var s strings.Builder
	s.WriteString("x = 1\n")
	for i := range rules {
		fmt.Fprintf(&s, "must x <= %d.5\n", i)
	}
	s.WriteString("vary x from 1 to 10000 by 1 show x\n")
	v := within(t, s.String(), 200).Study.(*answer.Varied)
	if len(v.Turns)+v.MoreTurns != rules-1 || len(v.Turns) == 0 || len(v.Turns) > 200 {
		t.Errorf("%d turns are told and %d counted, want %d in all", len(v.Turns), v.MoreTurns, rules-1)
	}
	for i, turn := range v.Turns { // x <= 1.5 turns at 2, the second value
		if turn.Row != i+1 || turn.Cond.String() != fmt.Sprintf("x <= %d.5", i+1) || turn.Now != answer.Danger {
			t.Fatalf("turn %d is %+v", i, turn)
		}
	}
}

// A spread over a table of tolerances, each cell a source of its own: the worst
// case of a sum is the sum of the worst cases.
func TestSpreadOverTable(t *testing.T) {
	const n = 400
	s := within(t, tableOf(n, func(i int) string { return fmt.Sprintf("%d +- 1 %%", i+1) })+"spread sum(t.a)\n", 200).Study.(answer.Spreads)[0]
	sum := float64(n) * (n + 1) / 2
	if math.Abs(s.Lowest.Numbers[0]-0.99*sum) > 1e-9*sum || math.Abs(s.Highest.Numbers[0]-1.01*sum) > 1e-9*sum || len(s.Parts) != n {
		t.Errorf("%v to %v from %d parts, want %v to %v", s.Lowest.Numbers, s.Highest.Numbers, len(s.Parts), 0.99*sum, 1.01*sum)
	}
	s = within(t, "k = 3 +- 1\n"+tableOf(100, func(i int) string { return fmt.Sprintf("%d +- 1", i%7) })+"spread sum((t.a - 3)^2) + k\n", 200).Study.(answer.Spreads)[0]
	high := 4.0 // and each row at the end that is further from 3
	for i := range 100 {
		high += math.Pow(math.Abs(float64(i%7)-3)+1, 2)
	}
	if got := s.Highest.Numbers[0]; math.Abs(got-high) > 1e-9*high {
		t.Errorf("the highest is %v, want %v", got, high)
	}
}

// More tolerances than can be studied are told, and not studied.
func TestSpreadOfTooMany(t *testing.T) {
	table := tableOf(3_000, func(i int) string { return fmt.Sprintf("%d +- 1 %%", i+1) })
	for _, line := range []string{"spread sum(t.a)", "s = sum(t.a)\nmeasured s = 5000000"} {
		a := within(t, table+line+"\n", 300)
		if a.Study != nil || len(a.Errors) != 1 || !strings.Contains(a.Errors[0].Message, "3000 tolerances") || a.Errors[0].Cure == "" || a.Errors[0].At.Col == 0 {
			t.Errorf("%s: %+v", line, a.Errors)
		}
	}
}

// A spread tells of its progress from the start, never backwards, and ends
// wherever it is told to stop.
func TestSpreadTellsOfProgress(t *testing.T) {
	book := openText(tableOf(200, func(i int) string { return fmt.Sprintf("%d +- 1 %%", i+1) }) + "spread sum(t.a)\n")
	last := len(book.Lines()) - 1
	var shares []float64
	book.OnProgress(func(share float64) { shares = append(shares, share) })
	if _, err := book.AnswerStudied(context.Background(), last); err != nil {
		t.Fatal(err)
	}
	if !slices.IsSorted(shares) || shares[0] > 0.05 || shares[len(shares)-1] > 1 || shares[len(shares)-1] < 0.99 {
		t.Errorf("the progress is %v", shares)
	}
	for _, at := range []int{1, len(shares) / 4, len(shares) / 2, len(shares) - 5} {
		ctx, stop := context.WithCancel(context.Background())
		told := 0
		book.OnProgress(func(float64) {
			if told++; told == at {
				stop()
			}
		})
		book.Update(book.Lines())
		if _, err := book.AnswerStudied(ctx, last); err == nil || told != at {
			t.Errorf("stopped at %d it went on to %d: %v", at, told, err)
		}
		stop()
	}
}
