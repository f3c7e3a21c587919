package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// heard collects what is written and lets somebody wait for it.
type heard struct {
	mu   sync.Mutex
	text strings.Builder
	news chan struct{}
}

func newHeard() *heard { return &heard{news: make(chan struct{}, 1)} }

func (h *heard) Write(p []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.text.Write(p)
	select {
	case h.news <- struct{}{}:
	default:
	}
	return len(p), nil
}

func (h *heard) String() string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.text.String()
}

// wait waits until a text has been written, for a minute at most.
func (h *heard) wait(t testing.TB, text string) {
	t.Helper()
	late := time.After(time.Minute)
	for !strings.Contains(h.String(), text) {
		select {
		case <-h.news:
		case <-late:
			t.Fatalf("waited for %q, there is:\n%s", text, h.String())
		}
	}
}

// following reads a notebook and follows it until the test is over.
func following(t testing.TB, file string, args ...string) *heard {
	t.Helper()
	out := newHeard()
	ctx, stop := context.WithCancel(context.Background())
	code := make(chan int)
	go func() {
		c, _ := call(ctx, nil, out, append([]string{"read", "--follow", file}, args...)...)
		code <- c
	}()
	t.Cleanup(func() {
		stop()
		if c := <-code; c != codeInterrupted {
			t.Errorf("exit code %d", c)
		}
	})
	return out
}

func saveInPlace(t testing.TB, file, text string) {
	t.Helper()
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// saveSlowly writes in place as some editors do: the file is empty first, and
// written by and by.
func saveSlowly(t testing.TB, file, text string) {
	t.Helper()
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{text[:len(text)/3], text[len(text)/3 : len(text)/2], text[len(text)/2:]} {
		if _, err := f.WriteString(part); err != nil {
			t.Fatal(err)
		}
		time.Sleep(2 * time.Millisecond) // a slow disk
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

func saveByRenaming(t testing.TB, file, text string) {
	t.Helper()
	saveInPlace(t, file+"~", text)
	if err := os.Rename(file+"~", file); err != nil {
		t.Fatal(err)
	}
}

// TestFollow: answers are drawn anew after every save, however an editor saves,
// verdicts first, and never of half a file.
func TestFollow(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "bay.sums")
	text := func(n int) string {
		return fmt.Sprintf("railsum 1\nx = %d V\n%smust x <= 1000 V\nwhole = 10 * x\n2 * whole\n", n, strings.Repeat("# filler\n", 500))
	}
	saveInPlace(t, file, text(1))
	out := following(t, file)
	out.wait(t, "    20 V\n")
	for n := 2; n < 14; n++ {
		[]func(testing.TB, string, string){saveInPlace, saveByRenaming, saveSlowly}[n%3](t, file, text(n))
		out.wait(t, fmt.Sprintf("    %d V\n", 20*n))
	}
	for _, drawn := range strings.Split(out.String(), "read at ")[1:] {
		if !strings.Contains(drawn, "2 * whole\n") || strings.Contains(drawn, "error") {
			t.Errorf("half a file was shown:\n%.300s", drawn)
		}
		if verdict, line := strings.Index(drawn, "bay.sums: clear"), strings.Index(drawn, "railsum 1"); verdict < 0 || verdict > line {
			t.Errorf("the verdict is not first:\n%.300s", drawn)
		}
	}
}

// TestFollowBeside: a sheet beside the notebook is followed too, a file that goes is
// told, and it is read again when it is back.
func TestFollowBeside(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "bay.sums")
	sheet := func(n int) string {
		return fmt.Sprintf("railsum 1\n# Coil\nask n = %d  # coils\ntell twice = 2 * n  # of them\n", n)
	}
	saveInPlace(t, filepath.Join(dir, "coil.sums"), sheet(2))
	saveInPlace(t, file, "railsum 1\nuse \"coil.sums\" for c\nc.twice * 100\n")
	out := following(t, file)
	out.wait(t, "    400\n")
	saveByRenaming(t, filepath.Join(dir, "coil.sums"), sheet(3))
	out.wait(t, "    600\n")
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	out.wait(t, "there is no file")
	saveInPlace(t, file, "railsum 1\n77 * 1\n")
	out.wait(t, "    77\n")
}

// BenchmarkFollow measures from a save to the answer.
func BenchmarkFollow(b *testing.B) {
	file := filepath.Join(b.TempDir(), "bay.sums")
	saveInPlace(b, file, "railsum 1\n0 + 1000000\n")
	out := following(b, file)
	out.wait(b, "1000000\n")
	n := 0
	for b.Loop() {
		n++
		saveByRenaming(b, file, fmt.Sprintf("railsum 1\n%d + 1000000\n", n))
		out.wait(b, fmt.Sprintf("    %d\n", 1000000+n))
	}
}
