//go:build unix

package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"railsum/cmd/railsum/desk/ptytest"
)

// hostile acts on a terminal in every way that a text can: a title, a query, a
// cleared screen, a control character of eight bits, a turn of direction.
const hostile = "\x1b]0;title\x07\x1b[6n\x1b[2J\u009b31m\u202e"

// actedOn says what of hostile has come through.
func actedOn(raw string) string {
	for _, bad := range []string{"\x1b]0;", "\x1b[6n", "\u009b", "\u202e", "title\x07"} {
		if strings.Contains(raw, bad) {
			return bad
		}
	}
	return ""
}

// What a stranger has put into a notebook, a sheet or a file's name does not reach
// the terminal by way of the line editor.
func TestNothingHostileIsOffered(t *testing.T) {
	home := t.TempDir()
	os.WriteFile(filepath.Join(home, "n.sums"), []byte("railsum 1\na = 1 V  # "+hostile+"\ntable f | n\n  x"+hostile+" | 1\nend\n"), 0o644)
	os.WriteFile(filepath.Join(home, "own.sums"), []byte("railsum 1\n# "+hostile+"\nask n = 2 from 1 to 9  # how many\nask kind = \"x\" among \"x\", \"y"+hostile+"\"  # of it\ntell twice = 2 * n  # of them\n"), 0o644)
	os.WriteFile(filepath.Join(home, "zz"+hostile+".sums"), nil, 0o644)
	term := sitIn(t, home, "n.sums")
	term.Wait("6. ")
	term.Type("change 2\r")
	term.Expect("line 2 holds what cannot be shown, and is not offered for editing: a = 1 V")
	term.Expect(`\x1b]0;title\x07`)
	term.Wait("6. ")
	term.Type("change 4\r")
	term.Expect("line 4 holds what cannot be shown")
	term.Wait("6. ")
	term.Type("change 3\r")
	term.Wait("3. table f | n")
	term.Type("\r")
	term.Expect("Write `change 4` and the new text.")
	term.Wait("6. ")
	term.Type("change 2 a = 2 V\r")
	term.Expect("\n2. a = 2 V")
	term.Wait("6. ")
	term.Type("open z\t\t\x15fill own.sums for o\r")
	term.Wait("    1 of 1  n (2):")
	term.Type("3\r")
	term.Expect("Take it out.")
	term.Type(".\r")
	term.Expect("6. use \"own.sums\" for o\n") // what a sheet in error is used for is not taken
	term.Wait("6. ")
	term.Type("list\r")
	term.Expect("1. railsum 1")
	term.Wait("6. ")
	term.Type("about own.sums\r")
	term.Type("\x15quit\r")
	term.Expect("save, later or drop:")
	if bad := actedOn(term.Raw()); bad != "" {
		t.Errorf("%q has come through:\n%q", bad, term.Raw())
	}
}

// slowFind is a notebook with a find that takes long.
func slowFind() string {
	var b strings.Builder
	b.WriteString("railsum 1\nx0 = 1\n")
	for i := range 9000 {
		fmt.Fprintf(&b, "x%d = sin(x%d * 1 rad) + x%d * x0\n", i+1, i, i/2)
	}
	return b.String()
}

// A study that was stopped is not asked again by itself, whatever is typed, until
// it is asked for.
func TestStoppedStudyStaysStopped(t *testing.T) {
	home := t.TempDir()
	os.WriteFile(filepath.Join(home, "n.sums"), []byte(slowFind()), 0o644)
	term := sitIn(t, home, "n.sums")
	term.Wait("9003. ")
	term.Type("find x0 from 0 to 0.5 so x9000 = 7\r")
	term.Expect("line 9003, find")
	began := time.Now()
	term.Type("\x03")
	term.Expect("Stopped. The line is kept; `list 9003` asks again.")
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("stopped after %v", took)
	}
	term.Wait("9004. ")
	for i, line := range []string{"1 + 1", "b = 2", "x0 = 0.4"} {
		term.Type(line + "\r")
		term.Wait(fmt.Sprintf("%d. ", min(9004+i+1, 9006)))
	}
	if n := strings.Count(term.Raw(), "line 9003, find"); n != strings.Count(strings.Split(term.Raw(), "Stopped.")[0], "line 9003, find") {
		t.Errorf("asked again unasked:\n%s", term.Screen())
	}
	term.Type("list\r")
	term.Expect("Space more, b back, q done")
	term.Type("q")
	term.Wait("9006. ")
	term.Type("list 9003\r")
	term.Type("\x03")
	term.Wait("9006. ")
}

// A desk at the end of a pipe ends on an interrupt, however many lines come.
func TestPipedDeskIsInterrupted(t *testing.T) {
	for _, file := range []string{"", "n.sums"} {
		home := t.TempDir()
		cmd := exec.Command(os.Args[0])
		cmd.Dir = home
		cmd.Env = append(os.Environ(), asDesk+"="+file, "XDG_STATE_HOME="+filepath.Join(home, "state"), "XDG_DATA_HOME="+home)
		in, _ := cmd.StdinPipe()
		out, _ := cmd.StdoutPipe()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		go func() {
			for i := 0; ; i++ {
				if _, err := fmt.Fprintf(in, "x%d = %d\nx%d\n", i, i, i); err != nil {
					return
				}
			}
		}()
		io.ReadFull(out, make([]byte, 100)) // it is at work
		go io.Copy(io.Discard, out)
		began := time.Now()
		cmd.Process.Signal(os.Interrupt)
		killed := time.AfterFunc(10*time.Second, func() { cmd.Process.Kill() })
		err := cmd.Wait()
		killed.Stop()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != 130 {
			t.Errorf("%q: %v after %v", file, err, time.Since(began))
		}
	}
}

// A desk whose output cannot be written says so, with the code for files; one
// whose reader has left ends as every program does.
func TestDeskIsNotHeard(t *testing.T) {
	home := t.TempDir()
	run := func(out *os.File) (int, string) {
		cmd := exec.Command(os.Args[0])
		cmd.Dir = home
		cmd.Env = append(os.Environ(), asDesk+"=", "XDG_STATE_HOME="+filepath.Join(home, "state"), "XDG_DATA_HOME="+home)
		cmd.Stdin = strings.NewReader("1 + 1\n2 + 2\n")
		var errs bytes.Buffer
		cmd.Stdout, cmd.Stderr = out, &errs
		cmd.Run()
		return cmd.ProcessState.ExitCode(), errs.String()
	}
	if full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0); err == nil {
		if code, said := run(full); code != codeFile || said != "The output cannot be written: the disk is full.\n" {
			t.Errorf("full: exit code %d, %q", code, said)
		}
		full.Close()
	}
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	r.Close()
	// The Go runtime lets a program that writes to a broken standard output die of
	// SIGPIPE, which is as good.
	if code, said := run(w); code != codePipe && code != -1 || said != "" {
		t.Errorf("left: exit code %d, %q", code, said)
	}
	w.Close()
}

// Rows of a table that is being typed survive a kill, and the table goes on where
// it was.
func TestTableGoesOn(t *testing.T) {
	home := t.TempDir()
	for _, sig := range []syscall.Signal{syscall.SIGKILL, syscall.SIGTERM} {
		term := sitIn(t, home, "n.sums")
		term.Wait("2. ")
		term.Type("table fleet | draw\r  shunter | 1 A\r")
		term.Wait("4.   ")
		term.Signal(sig)
		term.Exit()
		term = sitIn(t, home, "n.sums")
		term.Wait("Take them up again? yes, later or drop: ")
		term.Type("yes\r")
		term.Wait("4.   ")
		term.Expect("A table was being typed; it goes on here.\n2. table fleet | draw\n3.   shunter | 1 A\n")
		if sig == syscall.SIGKILL { // and dies again
			term.Signal(sig)
			term.Exit()
			term = sitIn(t, home, "n.sums")
			term.Wait("Take them up again? yes, later or drop: ")
			term.Type("yes\r")
			term.Wait("4.   ")
		}
		term.Type("  railcar | 2 A\rend\rsum(fleet.draw)\r")
		term.Expect("\n    3 A\n")
		term.Type("quit\r")
		term.Wait("save, later or drop: ")
		term.Type("drop\r")
		term.Exit()
	}
	// Left off, it is not offered.
	term := sitIn(t, home, "n.sums")
	term.Wait("2. ")
	term.Type("table fleet | draw\r\x03")
	term.Expect("the table was not taken")
	term.Wait("2. ")
	term.Type("quit\r")
	term.Exit()
	if left, _ := filepath.Glob(filepath.Join(home, "state", "railsum", "journals", "*")); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// A sheet of one's own that is changed while the desk is open is noticed.
func TestChangedSheetIsNoticed(t *testing.T) {
	home := t.TempDir()
	write := func(text string) {
		os.WriteFile(filepath.Join(home, "coil.sums"), []byte("railsum 1\n# Coil\nask n = 2  # coils\n"+text), 0o644)
	}
	write("tell twice = 2 * n  # of them\n")
	os.WriteFile(filepath.Join(home, "n.sums"), []byte("railsum 1\nuse \"coil.sums\" for c\nmust c.twice <= 5\nuse \"later.sums\" for l\n"), 0o644)
	term := sitIn(t, home, "n.sums")
	term.Wait("5. ")
	write("tell twice = 20 * n  # of them\n")
	term.Type("c.twice\r")
	term.Expect("coil.sums has changed on the disk; the notebook is computed again.")
	term.Expect("\n    40\n")
	term.Wait("6. ")
	os.WriteFile(filepath.Join(home, "later.sums"), []byte("railsum 1\n# Later\nask n = 2  # coils\ntell whole = n  # of them\n"), 0o644)
	term.Type("l.whole\r")
	term.Expect("later.sums has changed on the disk; the notebook is computed again.")
	term.Wait("7. ")
	expectScreen(t, term, "    2", "7.")
}

// A journal that is damaged is offered as far as it can be read, and said to be
// what it is.
func TestDamagedJournalAtTheDesk(t *testing.T) {
	for _, c := range []struct {
		where        string // that is spoilt
		asks, says   string
		answer, then string
	}{
		{"b = 2", "n.sums was left on ", "The journal is damaged: this is what could be read before the damage.", "yes\r", "The damaged journal is"},
		{"railsum 1", "n.sums was left with a journal that is damaged: no line could be read. It is kept as", "", "", ""},
	} {
		home := t.TempDir()
		term := sitIn(t, home, "n.sums")
		term.Wait("2. ")
		term.Type("a = 1\rb = 2\r")
		term.Wait("4. ")
		term.Signal(syscall.SIGKILL)
		term.Exit()
		found, _ := filepath.Glob(filepath.Join(home, "state", "railsum", "journals", "*.journal"))
		if len(found) != 1 {
			t.Fatal(found)
		}
		text, _ := os.ReadFile(found[0])
		text[bytes.Index(text, []byte(c.where))] ^= 1
		os.WriteFile(found[0], text, 0o600)
		term = sitIn(t, home, "n.sums")
		term.Expect(c.asks)
		if c.answer != "" {
			term.Expect(c.says)
			term.Wait("Take them up again? yes, later or drop: ")
			term.Type(c.answer)
			term.Expect(c.then)
			term.Wait("3. ")
		} else {
			term.Wait("2. ")
		}
		if kept, _ := os.ReadFile(found[0] + ".damaged"); !bytes.Equal(kept, text) {
			t.Errorf("%s: the journal is gone", c.where)
		}
	}
}

// atPrompt reports whether what is written last is a prompt: what is pasted is
// marked again, and a row has been drawn since.
func atPrompt(raw string) bool {
	on := strings.LastIndex(raw, "\x1b[?2004h")
	return on > strings.LastIndex(raw, "\x1b[?2004l") && strings.Contains(raw[on:], "\x1b[J\x1b[2K\r")
}

// TestNothingActsAtATerminal sits at a terminal with what acts on one at any place
// of the notebook, of a sheet and of what is typed, changes lines and fills sheets.
func TestNothingActsAtATerminal(t *testing.T) {
	runs := 4
	if longRun {
		runs = 500
	}
	whole := "railsum 1\n# remark\na = 15 V  # note\nuse drop for north  # bus\ntable fleet | draw\n  shunter | 2 A\nend\nmust a > 2 V  # why\nfind a so a > 2 V\n"
	own := "railsum 1\n# Own\nask n = 2 from 1 to 9  # how many\ntell twice = 2 * n  # of them\n"
	for n := range runs {
		at, in := rand.IntN(len(whole)+1), rand.IntN(len(own)+1)
		home := t.TempDir()
		os.WriteFile(filepath.Join(home, "n.sums"), []byte(whole[:at]+hostile+whole[at:]), 0o644)
		os.WriteFile(filepath.Join(home, "own.sums"), []byte(own[:in]+hostile+own[in:]), 0o644)
		t.Run("", func(t *testing.T) {
			// The terminal shows nothing by itself of what is typed between two prompts.
			term := sitAt(t, home, "n.sums", exec.Command("sh", "-c", `stty -echo && exec "$0"`, os.Args[0]))
			for end := time.Now().Add(10 * time.Second); !strings.Contains(term.Raw(), "\x1b[?2004h") && time.Now().Before(end); {
				time.Sleep(10 * time.Millisecond)
			}
			for _, order := range []string{fmt.Sprintf("change %d\r", 1+rand.IntN(9)), "change 5\r", "fill own.sums for f\r", "list\r", "about own.sums\r", "open n\t\t\x15\r", "\u009b31m\u202e1 + 1\r"} {
				for end := time.Now().Add(ptytest.Patience); !atPrompt(term.Raw()) && time.Now().Before(end); {
					time.Sleep(time.Millisecond)
				}
				term.Type(order)
				time.Sleep(30 * time.Millisecond)
				term.Type("\x03\x15")
			}
			time.Sleep(50 * time.Millisecond)
			term.Type("\x15quit\r")
			for end := time.Now().Add(10 * time.Second); !term.Ended() && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
				if strings.Contains(term.Screen(), "later or drop:") {
					term.Type("drop\r")
				}
			}
			if bad := actedOn(term.Raw()); bad != "" {
				t.Errorf("run %d, at %d and %d: %q has come through:\n%q", n, at, in, bad, term.Raw())
			}
		})
	}
	t.Logf("%d runs", runs)
}
