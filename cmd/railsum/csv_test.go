package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

// TestCSV reads what is written with a general-purpose reader and computes it
// again.
func TestCSV(t *testing.T) {
	const notebook = `a = 2 m
b = 3 V
table t | w
quay, north | 1 V
"the ""long"" one" | 2 V
end
name = if a > 2.5 m then "long, or ""so""" else " short"
vary a from 1 m to 4 m by 0.5 m and b among -1 V, 0 V, 1.5 V show a * a as mm2, 1 V / b, t.w * a, a > 2 m, name
`
	var out bytes.Buffer
	code, stderr := call(context.Background(), strings.NewReader(notebook), &out, "read", "--csv", "-")
	if code != codeWell || stderr != "" {
		t.Fatalf("exit code %d: %s", code, stderr)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"a (m)", "b (V)", "a * a (mm2)", "1 V / b", "t.w * a: quay, north (V*m)", `t.w * a: the "long" one (V*m)`, "a > 2 m", "name"}
	if len(rows) != 1+7*3 || len(rows[0]) != len(want) {
		t.Fatalf("%d rows of %d columns: %q", len(rows), len(rows[0]), rows[0])
	}
	for i, head := range rows[0] {
		if head != want[i] {
			t.Errorf("head %d is %q, want %q", i, head, want[i])
		}
	}
	for i, row := range rows[1:] {
		a, b := 1+0.5*float64(i/3), []float64{-1, 0, 1.5}[i%3]
		inverse, long, name := "", "no", " short"
		if b != 0 {
			inverse = fmt.Sprint(1 / b)
		}
		if a > 2 {
			long = "yes"
		}
		if a > 2.5 {
			name = `long, or "so"`
		}
		same := func(got string, want float64) {
			if x, err := strconv.ParseFloat(got, 64); err != nil || x != want {
				t.Errorf("row %d: %q, want %g", i, got, want)
			}
		}
		same(row[0], a)
		same(row[1], b)
		if x, _ := strconv.ParseFloat(row[2], 64); x < a*a*1e6*(1-1e-15) || x > a*a*1e6*(1+1e-15) {
			t.Errorf("row %d: %s mm2, want %g", i, row[2], a*a*1e6)
		}
		if row[3] != inverse {
			t.Errorf("row %d: 1 V / b is %q, want %q", i, row[3], inverse)
		}
		same(row[4], a)
		same(row[5], 2*a)
		if row[6] != long || row[7] != name {
			t.Errorf("row %d: %q", i, row[6:])
		}
	}
}

// millionRows is a sheet's sweep over a million points.
const millionRows = `track = 15 V
use drop for north with supply = track, load = 2.6 A
vary north.length from 1 m to 30 m over 999999 steps show north.lost, north.share, north.fault
`

// TestCSVMemory: a million points stream through in bounded memory.
func TestCSVMemory(t *testing.T) {
	if testing.Short() || runtime.GOOS != "linux" {
		t.Skip("reads the peak from the kernel")
	}
	dir := t.TempDir()
	railsum := filepath.Join(dir, "railsum") // by this name the test binary is the program
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, railsum); err != nil {
		t.Fatal(err)
	}
	c := exec.Command(railsum, "read", "--csv", "-")
	c.Stdin = strings.NewReader(millionRows)
	rows := &lines{}
	c.Stdout, c.Stderr = rows, os.Stderr
	if err := c.Run(); err != nil {
		t.Fatal(err)
	}
	if rows.n != 1_000_001 {
		t.Errorf("%d rows", rows.n)
	}
	if peak := peakKB(c.ProcessState); peak > 100_000 {
		t.Errorf("peak resident %d kB", peak)
	} else {
		t.Logf("peak resident %d kB, %v of processor", peak, c.ProcessState.UserTime())
	}
}

// lines counts the rows that are written to it.
type lines struct{ n int }

func (l *lines) Write(b []byte) (int, error) {
	l.n += bytes.Count(b, []byte("\n"))
	return len(b), nil
}

// BenchmarkCSV streams a sweep of the sheet drop over a million points.
func BenchmarkCSV(b *testing.B) {
	for b.Loop() {
		if code, stderr := call(context.Background(), strings.NewReader(millionRows), io.Discard, "read", "--csv", "-"); code != codeWell {
			b.Fatal(stderr)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ns/row")
}
