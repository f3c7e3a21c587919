package main

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/creack/pty"
)

// lastRow is what stands on a row after carriage returns.
func lastRow(text string) string {
	row := []byte{}
	for _, part := range strings.Split(text, "\r") {
		row = append([]byte(part), row[min(len(part), len(row)):]...)
	}
	return string(row)
}

const longSweep = "x = 1\ny = x * x + 1\nvary x from 0 to 1 over 19000000 steps show y, x * y\n"

// TestInterruptedStudy: progress shows on a terminal, and an interrupt ends the
// study, clears the row away and leaves the notebook as it was.
func TestInterruptedStudy(t *testing.T) {
	terminal, tty, err := pty.Open()
	if err != nil {
		t.Skip(err)
	}
	defer terminal.Close()
	seen := make(chan string)
	ctx, interrupt := context.WithCancel(context.Background())
	defer interrupt()
	go func() {
		var all strings.Builder
		b := make([]byte, 4096)
		for {
			n, err := terminal.Read(b)
			all.Write(b[:n])
			if strings.Contains(all.String(), "%") {
				interrupt()
			}
			if err != nil {
				seen <- all.String()
				return
			}
		}
	}()
	path := filepath.Join(t.TempDir(), "long.sums")
	if err := os.WriteFile(path, []byte(longSweep), 0o644); err != nil {
		t.Fatal(err)
	}
	code := run(ctx, world{
		args: []string{"read", "--csv", path}, stdout: io.Discard, stderr: tty, dir: ".",
		getenv: func(string) string { return "" },
	})
	tty.Close()
	text := <-seen
	if code != codeInterrupted {
		t.Errorf("exit code %d, want %d", code, codeInterrupted)
	}
	if !strings.Contains(text, "line 3, vary: ") || strings.TrimSpace(lastRow(text)) != "" {
		t.Errorf("the terminal shows %q", text)
	}
	if kept, err := os.ReadFile(path); err != nil || string(kept) != longSweep {
		t.Errorf("the notebook reads %q, %v", kept, err)
	}
}

// TestNoProgressInPipes: a long study leaves standard error clean if it is no
// terminal.
func TestNoProgressInPipes(t *testing.T) {
	code, stderr := call(context.Background(), strings.NewReader(strings.Replace(longSweep, "19000000", "3000000", 1)), io.Discard, "read", "--csv", "-")
	if code != codeWell || stderr != "" {
		t.Errorf("exit code %d, standard error %q", code, stderr)
	}
}
