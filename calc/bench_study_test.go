package calc_test

import (
	"context"
	"runtime"
	"testing"

	"railsum/calc/check"
	"railsum/calc/run"
)

// What the studies must keep on the sheet drop: a sweep of a million points
// under 20 ns for each row and line of the sheet, in bounded memory; a search
// under 5 ms; a spread with 100,000 samples under half a second.

const sweptRows = 1_000_000

// sweep makes the sweep of a million points of drop ready, all its answers
// shown, and counts the lines that have to be computed for it: those of drop and
// of the pieces it places that hang on the length.
func sweep(tb testing.TB) (run func(sink) error, lines int) {
	tb.Helper()
	text := "use drop for d\nvary d.length from 1 m to 100 m over 999999 steps show "
	for i, g := range openText("use drop for d\n").C.Places[0][0].Gives {
		if i > 0 {
			text += ", "
		}
		text += g.Name
	}
	book := openText(text + "\n")
	s, problem := book.Lab().Sweep(book.C.Studies[1])
	if problem != nil || s.Rows != sweptRows {
		tb.Fatal("the sweep is not ready")
	}
	length := book.C.Studies[1].Axes[0].X
	counted := map[*check.Def]bool{}
	for _, d := range book.C.Order {
		if d.At == nil || !check.DependsOn(d, length) || d == length || d.Role == check.Side {
			continue
		}
		for _, w := range append(append([]*check.Def(nil), s.Show...), s.Rules...) {
			if check.DependsOn(w, d) && !counted[d] {
				counted[d] = true
				lines++
			}
		}
	}
	return func(f sink) error { return s.Run(context.Background(), f) }, lines
}

type sink = func(first, n int, cols []*run.Col) error

func BenchmarkVaryMillion(b *testing.B) {
	swept, lines := sweep(b)
	for b.Loop() {
		rows := 0
		err := swept(func(_, n int, _ []*run.Col) error { rows += n; return nil })
		if err != nil || rows != sweptRows {
			b.Fatal(rows, err)
		}
	}
	perRow := float64(b.Elapsed().Nanoseconds()) / float64(b.N) / sweptRows
	b.ReportMetric(perRow, "ns/row")
	b.ReportMetric(perRow/float64(lines), "ns/row/line")
	b.ReportMetric(float64(lines), "lines")
}

// studyBench answers the last line of a notebook afresh each time.
func studyBench(b *testing.B, text string) {
	b.Helper()
	book := openText(text)
	last := len(book.Lines()) - 1
	for b.Loop() {
		book.Update(book.Lines()) // forgets what the studies have said
		if a, err := book.AnswerStudied(context.Background(), last); err != nil || a.Study == nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFindOnDrop(b *testing.B) {
	b.Run("equal", func(b *testing.B) { studyBench(b, "use drop for d\nfind d.length so d.lost = 1 V\n") })
	b.Run("atmost", func(b *testing.B) { studyBench(b, "use drop for d\nfind d.length so d.share <= 5 %\n") })
	b.Run("grown", func(b *testing.B) {
		studyBench(b, "length = 8 m\nuse drop for d with length = length\nfind length so d.lost = 1 V\n")
	})
	b.Run("jump", func(b *testing.B) {
		studyBench(b, "length = 8 m\nuse drop for d with length = length\nfind length so d.next_wire = 3 mm2\n")
	})
	b.Run("none", func(b *testing.B) { studyBench(b, "use drop for d\nfind d.length so d.lost = -1 V\n") })
	b.Run("among", func(b *testing.B) {
		studyBench(b, "use drop for d\nfind d.wire among conductors.area so d.share <= 2 %\n")
	})
}

const spreadOnDrop = "supply = 15 V +- 5 %\nload = 3 A +- 0.2 A\nlength = 8 m +- 0.5 m\nuse drop for d with supply = supply, load = load, length = length\nspread d.lost\n"

func BenchmarkSpreadOnDrop(b *testing.B) { studyBench(b, spreadOnDrop) }

func BenchmarkMeasuredOnDrop(b *testing.B) {
	studyBench(b, "use drop for d\nmeasured d.lost = 1 V +- 10 mV\n")
}

// A sweep of a million points takes no more memory than one of a thousand: what
// lives while it runs is counted at every hundredth block.
func TestVaryInBoundedMemory(t *testing.T) {
	swept, _ := sweep(t)
	var before, m runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	var most uint64
	blocks := 0
	sum := 0.0
	err := swept(func(_, n int, cols []*run.Col) error {
		if blocks++; blocks%100 == 0 {
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapAlloc)
		}
		for w := range n {
			v, _ := cols[0].At(0, w)
			sum += v
		}
		return nil
	})
	runtime.ReadMemStats(&m)
	if err != nil || sum == 0 {
		t.Fatal(err, sum)
	}
	if over := int64(most) - int64(before.HeapAlloc); over > 50<<20 {
		t.Errorf("the heap has grown by %d MB at most, want less than 50", over>>20)
	}
	t.Logf("heap at most %d kB above %d kB, %d kB allocated in all", (int64(most)-int64(before.HeapAlloc))>>10, before.HeapAlloc>>10, (m.TotalAlloc-before.TotalAlloc)>>10)
}
