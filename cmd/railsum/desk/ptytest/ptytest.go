//go:build unix

// Package ptytest drives a program through a pseudo-terminal and reads its
// screen, as somebody sitting at it would. For tests only.
//
// The screen is that of an emulator, so what is compared is what stands where,
// not the bytes that put it there.
package ptytest

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// Patience is how long the screen may take to show what is waited for.
const Patience = 30 * time.Second

// Terminal is a program at a pseudo-terminal.
type Terminal struct {
	t    *testing.T
	cmd  *exec.Cmd
	pty  *os.File
	done chan struct{} // closed when the program has ended
	err  error         // how it ended

	mu  sync.Mutex // for both of these
	emu *vt.Emulator
	raw []byte
}

// Start runs a program at a terminal of the given size. It is killed at the
// end of the test if it has not ended by itself.
func Start(t *testing.T, cmd *exec.Cmd, cols, rows int) *Terminal {
	t.Helper()
	f, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: uint16(rows), Cols: uint16(cols)})
	if err != nil {
		t.Fatal(err)
	}
	term := &Terminal{t: t, cmd: cmd, pty: f, emu: vt.NewEmulator(max(cols, 1), max(rows, 1)), done: make(chan struct{})}
	shown := make(chan struct{})
	go func() {
		defer close(shown)
		b := make([]byte, 4096)
		for {
			n, err := f.Read(b)
			term.mu.Lock()
			term.raw = append(term.raw, b[:n]...)
			term.emu.Write(b[:n])
			term.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	go func() { // what the emulator answers to queries
		io.Copy(f, term.emu)
	}()
	go func() {
		term.err = cmd.Wait()
		<-shown
		close(term.done)
	}()
	t.Cleanup(func() {
		select {
		case <-term.done:
		default:
			cmd.Process.Kill()
			<-term.done
		}
		f.Close()
		term.emu.InputPipe().(io.Closer).Close()
	})
	return term
}

// Type presses keys.
func (t *Terminal) Type(keys ...string) {
	t.t.Helper()
	if _, err := io.WriteString(t.pty, strings.Join(keys, "")); err != nil {
		t.t.Fatal(err)
	}
}

// Try presses keys for a program that may have ended; it reports whether they were
// taken.
func (t *Terminal) Try(keys string) bool {
	_, err := io.WriteString(t.pty, keys)
	return err == nil
}

// Paste gives text as a terminal does that marks what is pasted.
func (t *Terminal) Paste(text string) {
	t.Type("\x1b[200~" + strings.ReplaceAll(text, "\n", "\r") + "\x1b[201~")
}

// Lines is the screen with what has rolled off its top, without blank rows at
// the end.
func (t *Terminal) Lines() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	var lines []string
	for y := range t.emu.ScrollbackLen() {
		lines = append(lines, t.line(func(x int) string {
			if c := t.emu.ScrollbackCellAt(x, y); c != nil {
				return c.Content
			}
			return ""
		}))
	}
	for y := range t.emu.Height() {
		lines = append(lines, t.line(func(x int) string {
			if c := t.emu.CellAt(x, y); c != nil {
				return c.Content
			}
			return ""
		}))
	}
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

func (t *Terminal) line(cell func(x int) string) string {
	var b strings.Builder
	for x := range t.emu.Width() {
		b.WriteString(cell(x))
	}
	return strings.TrimRight(b.String(), " ")
}

// Screen is all lines as one text.
func (t *Terminal) Screen() string { return strings.Join(t.Lines(), "\n") }

// Raw is every byte the program has written.
func (t *Terminal) Raw() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return string(t.raw)
}

// Column is where the cursor stands, from nought.
func (t *Terminal) Column() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.emu.CursorPosition().X
}

// Wait waits until the last line of the screen is this one, blanks at its end
// left out.
func (t *Terminal) Wait(last string) {
	t.t.Helper()
	t.until("the last line "+last, func() bool {
		l := t.Lines()
		return len(l) > 0 && l[len(l)-1] == strings.TrimRight(last, " ")
	})
}

// Expect waits until the screen has this text somewhere.
func (t *Terminal) Expect(text string) {
	t.t.Helper()
	t.until("the text "+text, func() bool { return strings.Contains(t.Screen(), text) })
}

// ExpectRaw waits until the program has written this somewhere.
func (t *Terminal) ExpectRaw(text string) {
	t.t.Helper()
	t.until("the bytes "+text, func() bool { return strings.Contains(t.Raw(), text) })
}

func (t *Terminal) until(what string, ok func() bool) {
	t.t.Helper()
	for end := time.Now().Add(Patience); !ok(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.t.Fatalf("waited for %s; the screen has:\n%s", what, t.Screen())
		}
	}
}

// Signal sends the program a signal.
func (t *Terminal) Signal(s os.Signal) { t.cmd.Process.Signal(s) }

// Resize changes the terminal's width and height.
func (t *Terminal) Resize(cols, rows int) {
	t.mu.Lock()
	t.emu.Resize(cols, rows)
	t.mu.Unlock()
	pty.Setsize(t.pty, &pty.Winsize{Rows: uint16(rows), Cols: uint16(cols)})
}

// Exit waits for the end of the program and gives its exit code, -1 if a
// signal ended it.
func (t *Terminal) Exit() int {
	t.t.Helper()
	select {
	case <-t.done:
	case <-time.After(Patience):
		t.t.Fatalf("the program does not end; the screen has:\n%s", t.Screen())
	}
	var exit *exec.ExitError
	if errors.As(t.err, &exit) {
		return exit.ExitCode()
	}
	return 0
}

// Ended reports whether the program has ended.
func (t *Terminal) Ended() bool {
	select {
	case <-t.done:
		return true
	default:
		return false
	}
}
