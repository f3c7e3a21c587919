//go:build unix

package lineedit

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"railsum/cmd/railsum/desk/ptytest"
)

// The test program is also the program under test: with echo set it reads
// lines at its terminal and says what it got.
const echo = "LINEEDIT_TEST_ECHO"

func TestMain(m *testing.M) {
	if os.Getenv(echo) != "" {
		readAndSay()
		return
	}
	if who, path, ok := strings.Cut(os.Getenv(typist), ":"); ok {
		if err := typeHistory(who, path); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// shortMax keeps the test of a line that is too long short.
const shortMax = 400

func readAndSay() {
	h, _ := OpenHistory(os.Getenv(echo))
	e, err := NewTerminal(Options{
		Stdin: os.Stdin, Stdout: os.Stdout, History: h, MaxLine: shortMax,
		Complete: func(before string) ([]string, int) {
			word := before[strings.LastIndexByte(before, ' ')+1:]
			var out []string
			for _, w := range []string{"track ", "train.length", "train.load", "Ω/m"} {
				if strings.HasPrefix(w, word) {
					out = append(out, w)
				}
			}
			return out, len([]rune(word))
		},
	})
	if err != nil {
		fmt.Println(err)
		os.Exit(3)
	}
	signal.Ignore(os.Interrupt) // Ctrl-C pressed between two prompts
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, syscall.SIGTERM)
	go func() {
		<-stop
		e.Close()
	}()
	offer := ""
	for {
		line, err := e.Prompt("> ", offer)
		offer = ""
		switch {
		case errors.Is(err, ErrInterrupted):
			fmt.Printf("dropped [%s]\n", line)
		case errors.Is(err, ErrTooLong):
			fmt.Printf("too long [%d]\n", len([]rune(line)))
		case err != nil:
			e.Close()
			fmt.Println("end")
			return
		case strings.HasPrefix(line, "again "):
			offer = strings.TrimPrefix(line, "again ")
		default:
			e.Remember(line)
			fmt.Printf("got [%s] %v\n", line, e.More())
		}
	}
}

func start(t *testing.T, history string) *ptytest.Terminal {
	t.Helper()
	return startSized(t, history, 60, 30)
}

func startSized(t *testing.T, history string, cols, rows int) *ptytest.Terminal {
	t.Helper()
	if history == "" {
		history = filepath.Join(t.TempDir(), "history")
	}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), echo+"="+history, "TERM=xterm-256color")
	term := ptytest.Start(t, cmd, cols, rows)
	term.Wait("> ")
	return term
}

func TestEditing(t *testing.T) {
	for _, c := range []struct{ name, keys, want string }{
		{"plain", "15 V", "15 V"},
		{"delete in the middle", "15 VV\x1b[D\x1b[3~", "15 V"},
		{"delete at the end", "15 V\x1b[3~", "15 V"},
		{"delete on an empty line", "\x1b[3~\x1b[3~15 V", "15 V"},
		{"nul", "\x0015 V\x00", "15 V"},
		{"home and end", "5 \x1b[1~1\x1b[4~V", "15 V"},
		{"a word back", "track = V\x1b[1;5D15 ", "track = 15 V"},
		{"unknown keys", "15\x16\x0f\x1f\x1b[15~ V", "15 V"},
		{"signs beyond ASCII in the middle", "1 Ω\x1b[D\x1b[D0\x1b[H\x1b[C\x1b[3~5±", "15± Ω"},
		{"completion", "2 * tr\tc\t= 1", "2 * track = 1"},
		{"completion as far as agreed", "trai\te\t", "train.length"},
		{"completion before more text", "tra k\x1b[D\x1b[D\x1b[3~", "trak"},
		{"search in no history", "1\x12\x125 V", "15 V"},
	} {
		t.Run(c.name, func(t *testing.T) {
			term := start(t, "")
			term.Type(c.keys, "\r")
			term.Expect("got [")
			if want := "got [" + c.want + "] false"; !strings.Contains(term.Screen(), want) {
				t.Errorf("%q gives\n%s\nwant %s", c.keys, term.Screen(), want)
			}
			term.Wait(">")
			term.Type("\x04")
			if code := term.Exit(); code != 0 {
				t.Errorf("exit code %d", code)
			}
		})
	}
}

func TestCompletionIsListed(t *testing.T) {
	term := start(t, "")
	term.Type("train.l\t")
	term.Wait("> train.l")
	term.Expect("train.length  train.load\n> train.l")
	term.Type("o\t\r")
	term.Expect("got [train.load] false")
}

func TestCursorColumn(t *testing.T) {
	term := start(t, "")
	term.Type("10 Ω ±1\x01µ")
	term.Wait("> µ10 Ω ±1")
	if got := term.Column(); got != 3 {
		t.Errorf("the cursor stands in column %d, want 3", got)
	}
}

func TestInterruptedLine(t *testing.T) {
	term := start(t, "")
	term.Type("half ty\x03")
	term.Expect("> half ty^C\ndropped [half ty]\n>")
	term.Type("15 V\r")
	term.Expect("got [15 V] false")
}

func TestDeleteOnAnEmptyLineDoesNotEnd(t *testing.T) {
	term := start(t, "")
	term.Type("\x1b[3~5 V\r")
	term.Expect("got [5 V] false")
	term.Wait("> ") // or Ctrl-D is for the system
	term.Type("\x04")
	term.Expect("end")
	term.Exit()
}

func TestPaste(t *testing.T) {
	term := startSized(t, "", 60, 100)
	var text, want strings.Builder
	for i := range 60 {
		fmt.Fprintf(&text, "row %d\t| Ω\n", i)
		fmt.Fprintf(&want, "> row %d | Ω\ngot [row %d | Ω] %v\n", i, i, i < 59)
	}
	term.Paste(text.String())
	term.Expect("got [row 59")
	term.Wait("> ")
	if got := term.Screen(); got != strings.TrimRight(want.String()+"> ", " ") {
		t.Errorf("the screen has\n%s", got)
	}
}

// A terminal that does not mark a paste sends the same as fast fingers.
func TestUnmarkedPaste(t *testing.T) {
	term := startSized(t, "", 60, 100)
	for i := range 40 {
		term.Type(fmt.Sprintf("row %d\r", i))
	}
	term.Expect("got [row 39]")
	for i := range 40 {
		if want := fmt.Sprintf("got [row %d] ", i); !strings.Contains(term.Screen(), want) {
			t.Errorf("row %d is lost", i)
		}
	}
}

func TestOfferedLine(t *testing.T) {
	term := start(t, "")
	term.Type("again 15 W\r")
	term.Wait("> 15 W")
	term.Type("\x7fV\r")
	term.Expect("got [15 V] false")
	// In a paste the next line comes first; the offer must not run into it.
	term.Paste("again 1 W\n2 V\n")
	term.Expect("got [2 V] false")
}

func TestHistoryAcrossRuns(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	term := start(t, path)
	term.Type("first\r")
	term.Expect("got [first]")
	term.Type("second\r")
	term.Expect("got [second]")
	term.Signal(syscall.SIGKILL)
	term.Exit()

	term = start(t, path)
	term.Type("\x1b[A\x1b[A")
	term.Wait("> first")
	term.Type("\x1b[B\r")
	term.Expect("got [second] false")
}

func TestSearch(t *testing.T) {
	term := start(t, "")
	for _, line := range []string{"north.load = 2 A", "south.load = 3 A", "north.load = 2 A", "track = 15 V"} {
		term.Type(line, "\r")
		term.Expect("got [" + line + "]")
		term.Wait("> ") // between two prompts the system keeps Ctrl-R for itself
	}
	term.Type("half\x12")
	term.Wait("search : half")
	term.Type("lo")
	term.Wait("search lo: north.load = 2 A")
	term.Type("\x12") // the same line again is passed over
	term.Wait("search lo: south.load = 3 A")
	term.Type("\x12\x12")
	term.Wait("search lo (no more): north.load = 2 A")
	term.Type("\x7f\x7ftrk")
	term.Wait("search trk (no more): track = 15 V")
	term.Type("\x07") // given up
	term.Wait("> half")
	term.Type("\x12south\x05\x7f\x7fmA") // an editing key ends it and does what it always does
	term.Wait("> south.load = 3mA")
	term.Type("\r")
	term.Expect("got [south.load = 3mA] false")
	term.Type("\x12north\r")
	term.Expect("> north.load = 2 A\ngot [north.load = 2 A] false\n")
	term.Type("\x12north\x03")
	term.Expect("> north.load = 2 A^C")
	term.Type("1 + 1\r")
	term.Expect("got [1 + 1] false")
}

func TestLongLine(t *testing.T) {
	term := start(t, "")
	term.Paste(strings.Repeat("x", shortMax+100) + "\nafter\n")
	term.Expect(fmt.Sprintf("too long [%d]", shortMax))
	term.Expect("got [after] false")
}

// A terminal that does not know its size must not stop the editor.
func TestNoSize(t *testing.T) {
	term := startSized(t, "", 0, 0)
	term.Type("5 V\x011\r")
	term.ExpectRaw("got [15 V] false\r\n\x1b[?2004h\x1b[J\x1b[2K\r> ")
	term.Type("\x04")
	if code := term.Exit(); code != 0 {
		t.Errorf("exit code %d, %q", code, term.Raw())
	}
}

func TestResize(t *testing.T) {
	term := startSized(t, "", 80, 20)
	term.Type(strings.Repeat("abcdefghi ", 6))
	term.Wait("> " + strings.Repeat("abcdefghi ", 6))
	term.Resize(30, 20)
	term.Type("\x01Z\r")
	term.Expect("got [Zabcdefghi")
}

// The terminal is as it was before, however the program ends.
func TestTerminalIsGivenBack(t *testing.T) {
	for name, end := range map[string]func(*ptytest.Terminal){
		"Ctrl-D":  func(term *ptytest.Terminal) { term.Type("\x04") },
		"SIGTERM": func(term *ptytest.Terminal) { term.Type("half"); term.Wait("> half"); term.Signal(syscall.SIGTERM) },
	} {
		t.Run(name, func(t *testing.T) {
			cmd := exec.Command("/bin/sh", "-c", `stty -a; "$0"; stty -a`, os.Args[0])
			cmd.Env = append(os.Environ(), echo+"="+filepath.Join(t.TempDir(), "history"))
			term := ptytest.Start(t, cmd, 100, 60)
			term.Wait("> ")
			if name == "SIGTERM" { // to the program, not to its shell
				term.Type("half")
				term.Wait("> half")
				kill(t, cmd.Process.Pid, syscall.SIGTERM)
			} else {
				end(term)
			}
			term.Exit()
			before, after, ok := strings.Cut(term.Screen(), "\n>")
			_, after, _ = strings.Cut(after, "end\n")
			if !ok || strings.TrimSpace(before) != strings.TrimSpace(after) {
				t.Errorf("before:\n%s\nafter:\n%s", before, after)
			}
			if strings.Contains(term.Screen(), "got [half]") {
				t.Error("a half-typed line was taken for an entered one")
			}
			if on, off := strings.LastIndex(term.Raw(), pasteOn), strings.LastIndex(term.Raw(), pasteOff); off < on {
				t.Error("the terminal still marks what is pasted")
			}
		})
	}
}

// kill sends a signal to the child of a shell that the terminal runs.
func kill(t *testing.T, shell int, sig syscall.Signal) {
	t.Helper()
	f, err := os.Open(fmt.Sprintf("/proc/%d/task/%d/children", shell, shell))
	if err != nil {
		t.Skip("no list of child processes here")
	}
	defer f.Close()
	var pid int
	if _, err := fmt.Fscan(bufio.NewReader(f), &pid); err != nil {
		t.Fatal(err)
	}
	unix.Kill(pid, sig)
}

// No keys in any order bring the editor down. Ctrl-S is left out: pressed between
// two prompts it stops the terminal itself.
func TestAnyKeys(t *testing.T) {
	keys := []string{"a", "Ω", " ", ".", "15 V", "\r", "\r", "\x12", "\x07", "\x7f", "\x08", "\t", "\x01", "\x05", "\x02", "\x06",
		"\x0b", "\x15", "\x17", "\x19", "\x14", "\x0c", "\x10", "\x0e", "\x03", "\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[H", "\x1b[F",
		"\x1b[3~", "\x1bb", "\x1bf", "\x1bd", "\x1b\x7f", "\x1b[200~a\tb\r\x1b[201~", "\x1b", "\x00", "漢"}
	for seed := range uint64(4) {
		random := rand.New(rand.NewPCG(seed, 1))
		term := startSized(t, "", 20+int(seed)*30, 10)
		for range 400 {
			term.Type(keys[random.IntN(len(keys))])
			if random.IntN(10) == 0 {
				time.Sleep(2 * time.Millisecond)
			}
		}
		term.Type("\x07\x03\x07\x03\rdone\r")
		for end := time.Now().Add(ptytest.Patience); !strings.Contains(term.Raw(), "got [done]"); time.Sleep(5 * time.Millisecond) {
			if term.Ended() || time.Now().After(end) {
				t.Fatalf("seed %d: the editor is gone:\n%s\n%q", seed, term.Screen(), term.Raw()[max(0, len(term.Raw())-3000):])
			}
		}
		term.Wait("> ") // or Ctrl-D is for the system
		term.Type("\x04")
		term.Exit()
	}
}

// Stopped by its key or from outside, the program leaves the terminal in order,
// and goes on where it was.
func TestStopAndResume(t *testing.T) {
	for name, stop := range map[string]func(*ptytest.Terminal, int){
		"Ctrl-Z":  func(term *ptytest.Terminal, _ int) { term.Type("\x1a") },
		"SIGTSTP": func(_ *ptytest.Terminal, shell int) { kill(t, shell, syscall.SIGTSTP) },
	} {
		t.Run(name, func(t *testing.T) {
			// With jobs of its own the shell sees the program stop, and goes on.
			cmd := exec.Command("/bin/sh", "-c", `set -m; stty -a; "$0"; stty -a; echo stopped; read x; fg; stty -a; echo over`, os.Args[0])
			cmd.Env = append(os.Environ(), echo+"="+filepath.Join(t.TempDir(), "history"))
			term := ptytest.Start(t, cmd, 100, 80)
			term.Wait("> ")
			term.Type("half")
			term.Wait("> half")
			stop(term, cmd.Process.Pid)
			term.Wait("stopped")
			if on, off := strings.LastIndex(term.Raw(), pasteOn), strings.LastIndex(term.Raw(), pasteOff); off < on {
				t.Error("the terminal still marks what is pasted")
			}
			term.Type("\n")
			term.Wait("> half")
			term.Type(" way\r")
			term.Expect("got [half way] false")
			term.Wait("> ") // or Ctrl-D is for the system
			term.Wait(">")
			term.Type("\x04")
			term.Exit()
			var modes []string
			for _, part := range strings.Split(term.Screen(), "speed ")[1:] {
				modes = append(modes, part[:strings.LastIndex(part, "echoke")])
			}
			if len(modes) != 3 || modes[0] != modes[1] || modes[0] != modes[2] {
				t.Errorf("the terminal's modes before, while stopped and after:\n%s", strings.Join(modes, "\n"))
			}
		})
	}
}

// A job that nothing could resume is not stopped; the line goes on.
func TestSuspend(t *testing.T) {
	term := start(t, "")
	term.Type("half")
	term.Wait("> half")
	resumed := "\x1b[?2004l\x1b[?2004h> half"
	term.Type("\x1a")
	term.ExpectRaw(resumed)
	term.Signal(syscall.SIGTSTP)
	term.ExpectRaw(resumed + "\x1b[J\x1b[2K\r" + resumed)
	term.Type(" way\r")
	term.Expect("got [half way] false")
}
