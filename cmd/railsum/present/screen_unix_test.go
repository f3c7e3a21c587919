//go:build unix

package present

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"railsum/cmd/railsum/desk/ptytest"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

var update = flag.Bool("update", false, "write what screens are compared with")

// The test program is also a showing: with asShowing set it shows the lesson that
// asShowing names.
const asShowing = "RAILSUM_TEST_PRESENT"

func TestMain(m *testing.M) {
	name, ok := os.LookupEnv(asShowing)
	if !ok {
		os.Exit(m.Run())
	}
	text, err := library.LessonText(name)
	if err != nil {
		panic(err)
	}
	c := config(name, string(text))
	c.Stdin, c.Stdout, c.Screen = os.Stdin, os.Stdout, show.IsTerminal(os.Stdin)
	code, err := Run(context.Background(), c)
	if err != nil {
		panic(err)
	}
	os.Exit(code)
}

func program(name string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), asShowing+"="+name, "TERM=xterm-256color", "NO_COLOR=1")
	return cmd
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".golden")
	if *update {
		os.MkdirAll("testdata", 0o755)
		os.WriteFile(file, []byte(got), 0o644)
		return
	}
	want, err := os.ReadFile(file)
	if err != nil || got != string(want) {
		t.Errorf("%s (go test -update writes it):\n%s", file, got)
	}
}

// The screens of a lesson at four sizes, and what is printed without a screen.
func TestScreens(t *testing.T) {
	text, _ := library.LessonText("out_and_back")
	steps := len(deckOf(t, config("out_and_back", string(text))).steps)
	for _, size := range [][2]int{{40, 12}, {60, 18}, {80, 24}, {120, 40}} {
		name := fmt.Sprintf("%dx%d", size[0], size[1])
		t.Run(name, func(t *testing.T) {
			term := ptytest.Start(t, program("out_and_back"), size[0], size[1])
			var all strings.Builder
			for n := range steps {
				term.Type(fmt.Sprintf("%d\r", n+1))
				term.Expect(fmt.Sprintf("step %d of %d", n+1, steps))
				term.Wait((&room{}).foot(size[0])) // the last row that is drawn
				fmt.Fprintf(&all, "%s\n%s\n", term.Screen(), strings.Repeat("=", size[0]))
			}
			golden(t, name, all.String())
			term.Type("q")
			if code := term.Exit(); code != 0 || !strings.Contains(term.Screen(), "Nothing was saved.") {
				t.Errorf("exit code %d:\n%s", code, term.Screen())
			}
		})
	}
	out, err := program("out_and_back").Output()
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "spoken", string(out))
}

// Guesses are kept and stand beside the answer; one that was got by a usual mistake
// is told which.
func TestGuessAndTry(t *testing.T) {
	term := ptytest.Start(t, program("out_and_back"), 60, 18)
	term.Expect("step 1 of")
	term.Type("6\r")
	term.Expect("How many volts")
	term.Type("g0.9\r")
	term.Expect("it is a voltage (V) that is asked for")
	term.Type("g0.5 V\r")
	term.Expect("guesses: 0.5 V")
	term.Type("g")
	term.Expect("guess:")
	term.Paste("900\nmV")
	term.Expect("0.5 V   900 mV")
	term.Type(" ")
	term.Expect("quay.lost = 926.9 mV")
	term.Expect("nearest guess: 900 mV")
	term.Type("tquay.length = 16 m\r")
	term.Expect("926.9 mV → 1.814 V")
	for !strings.Contains(term.Screen(), "quay.lost = 1.814 V") {
		was := term.Screen()
		term.Type(" ")
		for end := time.Now().Add(ptytest.Patience); term.Screen() == was && time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		}
	}
	term.Expect("(tried, not kept)")
	term.Type("r")
	term.Expect("quay.lost = 926.9 mV")
	term.Type("tquay.nosuch = 1 m\r")
	term.Expect("nosuch")
	term.Type("\x1b")
	term.Type("h")
	term.Expect("glows quietly")
	term.Type("q")
	if code := term.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

// However a showing ends, and while it is stopped, the terminal is as it was.
func TestTerminalRestored(t *testing.T) {
	for _, c := range []struct {
		name string
		end  func(*ptytest.Terminal, int)
		code string
	}{
		{"quit", func(term *ptytest.Terminal, _ int) { term.Type("q") }, "code 0"},
		{"interrupt", func(term *ptytest.Terminal, _ int) { term.Type("\x03") }, "code 130"},
		{"kill", func(_ *ptytest.Terminal, pid int) { syscall.Kill(pid, syscall.SIGTERM) }, "code 143"},
	} {
		t.Run(c.name, func(t *testing.T) {
			cmd := program("out_and_back")
			cmd.Args = []string{"sh", "-c", `stty -a; "$0"; echo "code $?"; stty -a; echo over`, os.Args[0]}
			cmd.Path = "/bin/sh"
			term := ptytest.Start(t, cmd, 80, 60)
			term.Expect("step 1 of")
			c.end(term, childOf(t, cmd.Process.Pid))
			term.Wait("over")
			parts := strings.Split(term.Screen(), "speed ")
			if len(parts) != 3 || modes(parts[1]) != modes(parts[2]) || !strings.Contains(parts[1], c.code) {
				t.Error(term.Screen())
			}
		})
	}
}

func modes(text string) string {
	text, _, _ = strings.Cut(text, "echoke")
	return strings.Join(strings.Fields(text), " ")
}

func childOf(t *testing.T, pid int) int {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	child := 0
	if _, bad := fmt.Sscan(string(text), &child); err != nil || bad != nil {
		t.Skip("no list of child processes here")
	}
	return child
}

// A smaller window is drawn anew, and one that is too small says what it needs;
// after a stop the same step comes back.
func TestResizeAndResume(t *testing.T) {
	cmd := exec.Command("bash", "-c", `set -m; "$0"; stty -a | grep -o ' icanon'; read -r x; fg >/dev/null; echo over`, os.Args[0])
	cmd.Env = append(os.Environ(), asShowing+"=out_and_back", "TERM=xterm-256color", "NO_COLOR=1")
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("no shell with jobs")
	}
	term := ptytest.Start(t, cmd, 80, 24)
	term.Expect("step 1 of")
	term.Type("4\r")
	term.Expect("step 4 of")
	term.Resize(50, 14)
	term.Expect("? keys")
	term.Resize(30, 8)
	term.Expect("enlarge the window")
	term.Resize(60, 18)
	term.Expect("step 4 of")
	term.Type("\x1a")
	term.Expect(" icanon")
	term.Type("\r")
	term.Expect("step 4 of")
	term.Type("q")
	term.Expect("over")
}
