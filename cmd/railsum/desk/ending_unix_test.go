//go:build unix

package desk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"railsum/calc"
	"railsum/cmd/railsum/desk/ptytest"
	"railsum/library"
)

// With slowDesk set the test program is a desk whose library takes that long to
// be found, and says so: no work that a desk does by itself is slow for certain.
const slowDesk = "RAILSUM_TEST_SLOW_DESK"

func init() {
	wait, err := time.ParseDuration(os.Getenv(slowDesk))
	if err != nil {
		return
	}
	os.Exit(Run(context.Background(), Config{
		File: "n.sums", Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Getenv: os.Getenv,
		Library: func(dir string) calc.Library {
			fmt.Println("opening")
			time.Sleep(wait)
			return library.At(dir)
		},
	}))
}

func sitAtSlow(t *testing.T, wait time.Duration) *ptytest.Terminal {
	t.Helper()
	home := t.TempDir()
	cmd := exec.Command(os.Args[0])
	cmd.Dir = home
	cmd.Env = append(os.Environ(), slowDesk+"="+wait.String(), "TERM=xterm-256color", "NO_COLOR=1", "XDG_STATE_HOME="+home)
	term := ptytest.Start(t, cmd, 100, 40)
	term.Expect("opening")
	return term
}

// A notebook that takes for ever to open does not keep anybody.
func TestOpeningForEver(t *testing.T) {
	for _, c := range []struct {
		sig  syscall.Signal
		want int
	}{{syscall.SIGINT, 130}, {syscall.SIGTERM, 143}, {syscall.SIGHUP, 129}, {syscall.SIGQUIT, 131}} {
		t.Run(c.sig.String(), func(t *testing.T) {
			t.Parallel()
			term := sitAtSlow(t, time.Hour)
			term.Signal(c.sig)
			if c.sig == syscall.SIGINT { // the first only asks
				time.Sleep(patience + 200*time.Millisecond)
				if term.Ended() {
					t.Error("the first interrupt ended the desk")
				}
				term.Type("\x03")
			}
			if code := term.Exit(); code != c.want || strings.Contains(term.Screen(), "goroutine") {
				t.Errorf("exit code %d, want %d:\n%s", code, c.want, term.Screen())
			}
		})
	}
}

// An interrupt while the notebook is being opened leaves the desk as soon as it
// can be left.
func TestInterruptedOpening(t *testing.T) {
	term := sitAtSlow(t, 2*time.Second)
	term.Type("\x03")
	if code := term.Exit(); code != 130 || strings.Contains(term.Screen(), "2.") {
		t.Errorf("exit code %d:\n%s", code, term.Screen())
	}
}

// SIGQUIT is a signal to end like any other: no stacks, and the terminal in
// order.
func TestSignalToQuit(t *testing.T) {
	home := t.TempDir()
	cmd := exec.Command("/bin/sh", "-c", `stty -a; "$0"; echo "code $?"; stty -a; echo over`, os.Args[0])
	cmd.Dir = home
	cmd.Env = append(os.Environ(), asDesk+"=n.sums", "TERM=xterm-256color", "NO_COLOR=1", "XDG_STATE_HOME="+filepath.Join(home, "state"))
	term := ptytest.Start(t, cmd, 100, 60)
	term.Wait("2. ")
	term.Type("track = 15 V\r")
	term.Wait("3. ")
	syscall.Kill(childOf(t, cmd.Process.Pid), syscall.SIGQUIT)
	term.Wait("over")
	parts := strings.Split(term.Screen(), "speed ")
	if len(parts) != 3 || modes(parts[1]) != modes(parts[2]) || !strings.Contains(parts[1], "code 131") || strings.Contains(term.Screen(), "goroutine") {
		t.Error(term.Screen())
	}
	term = sitIn(t, home, "n.sums")
	term.Wait("Take them up again? yes, later or drop: ")
}

// modes are a terminal's modes as stty says them.
func modes(text string) string {
	text, _, _ = strings.Cut(text, "echoke")
	return text
}

func childOf(t *testing.T, pid int) int {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	if err != nil {
		t.Skip("no list of child processes here")
	}
	child, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	return child
}

// Where no journal can be kept nobody is told that it was.
func TestNothingIsKept(t *testing.T) {
	home := t.TempDir()
	os.WriteFile(filepath.Join(home, "state"), nil, 0o644) // a file where the folder should be
	pipe := exec.Command(os.Args[0])
	pipe.Dir = home
	pipe.Env = append(os.Environ(), asDesk+"=n.sums", "XDG_STATE_HOME="+filepath.Join(home, "state"))
	pipe.Stdin = strings.NewReader("track = 15 V\n")
	var out bytes.Buffer
	pipe.Stdout, pipe.Stderr = &out, &out
	err := pipe.Run()
	said := strings.Join(strings.Fields(out.String()), " ")
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != codeFile || strings.Contains(said, "offered") ||
		!strings.Contains(said, "n.sums has changes that are not saved, and they are lost: no journal could be kept.") {
		t.Errorf("%v:\n%s", err, said)
	}
	pipe = exec.Command(os.Args[0])
	pipe.Dir = home
	pipe.Env = append(os.Environ(), asDesk+"=n.sums", "XDG_STATE_HOME="+filepath.Join(home, "state"))
	pipe.Stdin = strings.NewReader("track = 15 V\nsave\n")
	if text, err := pipe.CombinedOutput(); err != nil {
		t.Errorf("saved, and all the same %v:\n%s", err, text)
	}
	for _, c := range []struct {
		answer string
		code   int
		says   string
	}{{"\x04", codeFile, "There was no answer, and they are lost"}, {"drop\r", codeWell, ""}, {"save\r", codeWell, "Saved as n.sums."}} {
		os.Remove(filepath.Join(home, "n.sums"))
		term := sitIn(t, home, "n.sums")
		term.Wait("2. ")
		term.Expect("is not kept safe until it is saved")
		term.Type("track = 15 V\r")
		term.Wait("3. ")
		term.Type("quit\r")
		term.Wait("save or drop: ")
		term.Type("later\r")
		term.Expect("Please answer with save or drop.")
		term.Wait("save or drop: ")
		term.Type(c.answer)
		if code := term.Exit(); code != c.code || !strings.Contains(term.Screen(), c.says) || strings.Contains(term.Screen(), "offered") {
			t.Errorf("%q: exit code %d:\n%s", c.answer, code, term.Screen())
		}
	}
}
