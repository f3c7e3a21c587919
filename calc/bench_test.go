package calc_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/check"
	"railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/library"
)

// The benchmarks set each job of the engine beside a hand-written loop of the
// same formulas in the same run; read the ratios, not the times.

func openText(text string) *calc.Book {
	return calc.Open(syntax.ParseFile([]byte(text)).Lines, library.Shipped())
}

func BenchmarkOneAnswer(b *testing.B) {
	lib := library.Shipped()
	b.Run("railsum", func(b *testing.B) {
		for b.Loop() {
			book := calc.Open(syntax.ParseFile([]byte("25 m at 1:87 as mm")).Lines, lib)
			if got := book.Answer(0).Value.String(); got != "287.4 mm" {
				b.Fatal(got)
			}
		}
	})
	b.Run("hand", func(b *testing.B) {
		full, k := 25.0, 87.0
		for b.Loop() {
			if got := fmt.Sprintf("%.4g mm", full/k*1000); got != "287.4 mm" {
				b.Fatal(got)
			}
		}
	})
}

func manyLines(n int) string {
	var s strings.Builder
	s.WriteString("railsum 1\nv0 = 15 V\n")
	for i := 1; i < n; i++ {
		fmt.Fprintf(&s, "v%d = v%d * 1.0001 + 1 mV  # step %d\n", i, i-1, i)
	}
	return s.String()
}

func BenchmarkLoad10000(b *testing.B) {
	text := manyLines(10_000)
	for b.Loop() {
		openText(text)
	}
}

// replaceLine makes the book's lines with line i replaced.
func replaceLine(book *calc.Book, i int, text string) []*syntax.Line {
	lines := append([]*syntax.Line(nil), book.Lines()...)
	l, _ := syntax.ParseLine(text)
	lines[i] = l
	return lines
}

func BenchmarkChange(b *testing.B) {
	fan := "x = 1 V\n"
	for i := range 10 {
		fan += fmt.Sprintf("y%d = x * %d + 2 V\n", i, i+2)
	}
	for _, c := range []struct {
		name, text, last string
		line, dependents int
	}{
		{"10dependents", fan, "y9", 0, 10},
		{"chain10000", manyLines(10_000), "v9999", 1, 9_999},
	} {
		b.Run(c.name, func(b *testing.B) {
			book := openText(c.text)
			name := strings.Fields(c.text)[0]
			if c.line == 1 {
				name = "v0"
			}
			n := 100
			for b.Loop() {
				n++
				change := book.Update(replaceLine(book, c.line, fmt.Sprintf("%s = %d V", name, n)))
				if len(change.Deltas) != c.dependents+1 {
					b.Fatalf("%d deltas", len(change.Deltas))
				}
			}
		})
		b.Run(c.name+"/hand", func(b *testing.B) {
			v := make([]float64, c.dependents+1)
			n := 0.0
			for b.Loop() {
				n++
				v[0] = n
				for i := 1; i < len(v); i++ {
					v[i] = v[i-1]*1.0001 + 1e-3
				}
			}
		})
	}
}

// dropRow is the sheet drop by hand, one row.
func dropRow(supply, length, load float64, out *[17]float64) {
	const (
		wire, allowed, allowance, joints, joint = 1.5e-6, 0.05, 1.16, 4, 5e-3
		booster, contact, trip, density, needed = 0.1, 0.1, 5, 5e6, 7
		rho, drift                              = 1 / 58.0e6, 0.00393
	)
	perMetre := 2 * rho * allowance * (1 + drift*(30-20)) / wire
	hotMetre := 2 * rho * allowance * (1 + drift*(70-20)) / wire
	resistance := length*perMetre + joints*joint
	hot := length*hotMetre + joints*joint
	room := max(0, allowed*supply/load-joints*joint)
	lost := load * resistance
	fault := supply / (booster + hot + contact)
	lasting := density * wire
	sizes := [...]float64{0.5e-6, 0.75e-6, 1e-6, 1.5e-6, 2.5e-6, 4e-6, 6e-6, 10e-6, 16e-6}
	least := 1.0 // a square metre: none will do
	if room > 0 {
		least = wire * length * perMetre / room
	}
	next := 0.0 // none is large enough
	for _, s := range sizes {
		if s >= max(least, trip/density) {
			next = s
			break
		}
	}
	yes := func(b bool) float64 {
		if b {
			return 1
		}
		return 0
	}
	left := supply - lost - load*booster
	*out = [17]float64{
		lost, lost / supply, left, fault, next, room / perMetre, lasting, resistance, least, lost + load*booster, load * load * resistance, load * load * perMetre,
		yes(lost < supply), yes(left >= needed), yes(lost/supply <= allowed), yes(load*load*perMetre <= 1), yes(next > 0),
	}
}

// BenchmarkDropMillion puts the sheet drop over a million rows, two inputs
// varied, every answer and every rule computed; ns/row/line counts the lines of
// drop and of the pieces it places.
func BenchmarkDropMillion(b *testing.B) {
	const rows = 1_000_000
	length := func(i int) float64 { return 1 + float64(i%1000)/100 }
	load := func(i int) float64 { return 0.5 + float64(i%977)/400 }
	b.Run("railsum", func(b *testing.B) {
		book := openText("use drop for d\nd.length = 8 m\nd.load = 3 A\n")
		c := book.C
		place := c.Places[0][0]
		want := append(append([]*check.Def(nil), place.Gives...), place.Rules...)
		fill := func(f func(int) float64) func(int, []float64) {
			return func(first int, dst []float64) {
				for i := range dst {
					dst[i] = f(first + i)
				}
			}
		}
		study := run.Study{Rows: rows, Want: want, Over: map[*check.Def]func(int, []float64){
			c.Main[1]: fill(length), c.Main[2]: fill(load),
		}}
		lines := 0
		for _, l := range place.Sheet.File.Lines {
			switch l.Node.(type) {
			case *syntax.Tell, *syntax.Rule, *syntax.Define:
				lines++
			}
		}
		lines += 2 * 3 // the placed loop: warmth, per_metre, resistance, cold and hot
		for b.Loop() {
			err := book.M.Study(context.Background(), study, func(int, int, []*run.Col) error { return nil })
			if err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows/float64(lines), "ns/row/line")
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows, "ns/row")
	})
	b.Run("hand", func(b *testing.B) {
		var out [17]float64
		var cols [len(out)][1024]float64
		for b.Loop() {
			for i := range rows {
				dropRow(15, length(i), load(i), &out)
				for j := range cols {
					cols[j][i%1024] = out[j]
				}
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/rows, "ns/row")
	})
}

// BenchmarkStart runs the built program against one that prints a line.
func BenchmarkStart(b *testing.B) {
	dir := b.TempDir()
	hello := filepath.Join(dir, "hello.go")
	if err := os.WriteFile(hello, []byte("package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(\"287.4 mm\") }\n"), 0o600); err != nil {
		b.Fatal(err)
	}
	for _, p := range []struct {
		name, pkg string
		args      []string
	}{
		{"railsum", "railsum/cmd/railsum", []string{"answer", "25 m at H0 as mm"}},
		{"hello", hello, nil},
	} {
		bin := filepath.Join(dir, p.name)
		if out, err := exec.Command("go", "build", "-o", bin, p.pkg).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		b.Run(p.name, func(b *testing.B) {
			for b.Loop() {
				out, err := exec.Command(bin, p.args...).Output()
				if err != nil || strings.TrimSpace(string(out)) != "287.4 mm" {
					b.Fatalf("%v %q", err, out)
				}
			}
		})
	}
}
