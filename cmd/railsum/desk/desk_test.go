//go:build unix

package desk

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"railsum/calc"
	"railsum/cmd/railsum/desk/ptytest"
	"railsum/library"
	"railsum/sessions"
)

// sit opens a desk at a terminal, with a state home of its own.
func sit(t *testing.T, file string) *ptytest.Terminal {
	t.Helper()
	return sitIn(t, t.TempDir(), file)
}

func sitIn(t *testing.T, home, file string) *ptytest.Terminal {
	t.Helper()
	return sitAt(t, home, file, exec.Command(os.Args[0]))
}

// sitAt is sitIn with a call that comes to the desk.
func sitAt(t *testing.T, home, file string, cmd *exec.Cmd) *ptytest.Terminal {
	t.Helper()
	cmd.Dir = home
	cmd.Env = append(os.Environ(), asDesk+"="+file, "TERM=xterm-256color", "NO_COLOR=1", "LC_ALL=C.UTF-8",
		"XDG_STATE_HOME="+filepath.Join(home, "state"), "XDG_DATA_HOME="+filepath.Join(home, "data"))
	return ptytest.Start(t, cmd, 100, 40)
}

func expectScreen(t *testing.T, term *ptytest.Terminal, want ...string) {
	t.Helper()
	if got, want := term.Screen(), strings.Join(want, "\n"); !strings.HasSuffix(got, want) {
		t.Errorf("the screen has\n%s\nwant at its end\n%s", got, want)
	}
}

func TestAnswersAtThePrompt(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("25 m at H0 as mm\r")
	term.Wait("3. ")
	expectScreen(t, term, "2. 25 m at H0 as mm", "    287.4 mm", "3.")
	term.Type("track = 15 V\r")
	term.Wait("4. ")
	term.Type("3 A * track\r")
	term.Wait("5. ")
	expectScreen(t, term, "3. track = 15 V", "4. 3 A * track", "    45 W", "5.")
}

// A terminal that moves no cursor gets the prompt and no more: no keys are
// taken from it, and nothing is drawn twice.
func TestPlainTerminal(t *testing.T) {
	for _, env := range []string{"TERM=dumb", "RAILSUM_SPOKEN=1"} {
		cmd := exec.Command(os.Args[0])
		home := t.TempDir()
		cmd.Dir = home
		cmd.Env = append(os.Environ(), asDesk+"=", "LC_ALL=C.UTF-8", "NO_COLOR=1", "XDG_STATE_HOME="+home, env)
		term := ptytest.Start(t, cmd, 80, 24)
		term.Wait("2. ")
		term.Type("2 +\n")
		term.Expect("a value is missing")
		term.Wait("2. ")
		term.Type("1 + 1\n")
		term.Wait("3. ")
		expectScreen(t, term, "2. 1 + 1", "    2", "3.")
		term.Type("change 2\n")
		term.Expect("cannot be offered")
		term.Wait("3. ")
		term.Type("\x04")
		if code := term.Exit(); code != 0 || strings.Contains(term.Raw(), "\x1b") {
			t.Errorf("%s: exit code %d, %q", env, code, term.Raw())
		}
	}
}

func TestUpBringsAMistakeBack(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("track = 15 V *\r")
	term.Expect("a value is missing")
	term.Wait("2. ")
	term.Type("\x1b[A")
	term.Wait("2. track = 15 V *")
	term.Type("\x7f\x7f\r")
	term.Wait("3. ")
	term.Type("1 +\r")
	term.Expect("1 +\n   ^ a value is missing")
	term.Wait("3. ")
	term.Type("\x1b[A")
	term.Wait("3. 1 +")
	term.Type(" 1\r")
	term.Wait("4. ")
	expectScreen(t, term, "3. 1 + 1", "    2", "4.")
}

// What strict refuses is heard, and Up brings what may be typed in its place.
func TestDeskListens(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("30' 6\" in m\r")
	term.Wait("3. ")
	expectScreen(t, term, "2. 30' 6\" in m", "heard: 30 ft 6 in as m", "    9.296 m", "3.")
	term.Type("12 votls * 2 A\r")
	term.Expect("votls may be V")
	term.Wait("3. ")
	term.Type("\x1b[A")
	term.Wait("3. 12 V * 2 A")
	term.Type("\r")
	term.Wait("4. ")
	expectScreen(t, term, "    24 W", "4.")
	term.Type("helix radius 24\" rise 4\"\r")
	term.Expect("use helix with radius = 24 in, rise = 4 in")
	term.Wait("4. ")
	term.Type("\x1b[A")
	term.Wait("4. use helix with radius = 24 in, rise = 4 in")
	term.Type("\x03")
	term.Wait("4. ")
	term.Type("\x1b[A") // what was only proposed is gone
	term.Wait("4. helix radius 24\" rise 4\"")
	term.Type("\x03")
	term.Wait("4. ")
	term.Type("250 mm H0\r")
	term.Expect("21.75 m")
	term.Wait("4. ")
	term.Type("track = 15 volts\r")
	term.Wait("5. ")
	term.Type("change 4 track = 16 volts\r")
	term.Expect("heard: track = 16 V")
	term.Wait("5. ")
	term.Type("led\r")
	term.Expect("use led")
	term.Wait("5. ")
	term.Type("list\r")
	term.Expect("2. 30 ft 6 in as m\n    9.296 m\n3. 12 V * 2 A\n    24 W\n4. track = 16 V\n")
}

func TestTableAtThePrompt(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("table fleet | count | draw\r")
	term.Wait("3. ")
	term.Type("dock shunter | 2 | 280 mA\r")
	term.Wait("4. ")
	term.Type("end\r")
	term.Wait("5. ")
	term.Type("sum(fleet.count * fleet.draw)\r")
	term.Wait("6. ")
	expectScreen(t, term, "2. table fleet | count | draw", "3.   dock shunter | 2 | 280 mA", "4.   end",
		"5. sum(fleet.count * fleet.draw)", "    560 mA", "6.")
	// Ctrl-C leaves a table that has been begun.
	term.Type("table other | a\r")
	term.Wait("7. ")
	term.Type("\x03")
	term.Expect("the table was not taken")
	term.Wait("6. ")
}

const pasted = `railsum 1
# Gannet Bay

track = 15 V  # the track
lost = need / 3
table fleet | count | draw
	dock shunter | 2 | 280 mA
  railcar      | 1 | 0.45 A
end
need = sum(fleet.count * fleet.draw) * 1 ohm
x = = 3
power = track * 2 A
`

func TestPastedNotebook(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Paste(pasted)
	// The row with a mistake is not taken; it is offered when the paste is over.
	term.Wait("12. x = = 3")
	term.Type("\x03")
	term.Wait("12. ")
	term.Type("lost\r")
	term.Wait("13. ")
	expectScreen(t, term, "12. lost", "    336.7 mV", "13.")
	term.Type("list\r")
	term.Expect(" 3.\n 4. track = 15 V  # the track\n 5. lost = need / 3\n    336.7 mV\n 6. table fleet | count | draw\n 7.  dock shunter | 2 | 280 mA\n")
	term.Expect("11. power = track * 2 A\n    30 W\n")
}

func TestCompletionAtThePrompt(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("track_voltage = 15 V\r")
	term.Wait("3. ")
	term.Type("use dro\t for north\r")
	term.Wait("4. ")
	term.Type("north.lo\t")
	term.Wait("4. north.lo")
	term.Type("\t")
	term.Expect("north.longest")
	term.Type("s\t\r") // lost is whole, lost_in_all is longer
	term.Expect("    725.2 mV")
	term.Wait("5. ")
	term.Type("2 * tra\t / 1 oh\t\r")
	term.Wait("6. ")
	expectScreen(t, term, "5. 2 * track_voltage / 1 ohm", "    30 A", "6.")
}

func TestDeleteAndEndOfInput(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("\x1b[3~\x1b[3~1 + 1\r")
	term.Wait("3. ")
	expectScreen(t, term, "2. 1 + 1", "    2", "3.")
	term.Type("undo\r")
	term.Wait("2. ")
	term.Type("\x04")
	if code := term.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
}

func TestHistoryIsKept(t *testing.T) {
	home := t.TempDir()
	term := sitIn(t, home, "")
	term.Wait("2. ")
	term.Type("1 + 1\r")
	term.Wait("3. ")
	term.Type("help strike\r")
	term.Wait("3. ")
	term.Expect("takes lines out")
	term.Signal(syscall.SIGKILL)
	term.Exit()
	info, err := os.Stat(filepath.Join(home, "state", "railsum", "history"))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info, err)
	}
	term = sitIn(t, home, filepath.Join(home, "other.sums"))
	term.Wait("2. ")
	term.Type("\x1b[A\x1b[A")
	term.Wait("2. 1 + 1")
}

func TestFillAtThePrompt(t *testing.T) {
	home := t.TempDir()
	own := filepath.Join(home, "data", "railsum", "sheets")
	os.MkdirAll(own, 0o700)
	os.WriteFile(filepath.Join(own, "run.sums"), []byte("railsum 1\n# A run\ntake joints = 4 from 0 to 100  # joints in it; clips too\n"+
		"ask length (run) = 8 m from 1 m to 100 m  # length of the run; one way\nask kind = \"solid\" among \"solid\", \"flexible\"  # conductor\n"+
		"tell both = 2 * length  # out and back\n"), 0o600)
	term := sitIn(t, home, "")
	term.Wait("2. ")
	term.Type("fill run.sums for bus\r")
	term.Expect("Enter keeps what is in brackets")
	for _, c := range []struct{ typed, then string }{
		{"2 V", "    1 of 2  length (8 m):"},
		{"?", "    1 of 2  length (8 m):"},
		{"150 m", "    1 of 2  length (8 m):"},
		{"12 m", "    2 of 2  kind (\"solid\"):"},
		{"<", "    1 of 2  length (12 m):"},
		{"150 m", "    1 of 2  length (12 m):"},
		{"150 m", "    2 of 2  kind (\"solid\"):"},
		{"\"fl\t", "The other input stays as it is? yes or no:"},
		{"no", "    1 of 1  joints (4):"},
		{"6", "3."},
	} {
		term.Type(c.typed + "\r")
		term.Wait(c.then)
	}
	term.Expect("length, also called run: length of the run; one way; from 1 m to 100 m; the sheet's own is 8 m.")
	term.Expect("length is good for 1 m to 100 m; the same again takes it all the same.")
	term.Expect("2. use \"run.sums\" for bus with length = 150 m, kind = \"flexible\", joints = 6\n")
	term.Type("fill run.sums\r.\r")
	term.Expect("3. use \"run.sums\"\n")
	term.Wait("4. ")
	term.Type("fill loop for other\r")
	term.Wait("    1 of 3  length (8 m):")
	term.Type("\x03")
	term.Expect("left off; nothing was entered")
	term.Wait("4. ")
}

// What is at hand when the machine dies is offered by the next desk.
func TestRecovery(t *testing.T) {
	home := t.TempDir()
	file := filepath.Join(home, "gannet.sums")
	os.WriteFile(file, []byte("railsum 1\ntrack = 15 V\n"), 0o644)
	for _, c := range []struct{ answer, row string }{
		{"later", "3. "}, {"yes", "4. "},
	} {
		if c.answer == "later" { // the first time: die with a line not saved
			term := sitIn(t, home, file)
			term.Wait("3. ")
			term.Type("power = track * 2 A\r")
			term.Wait("4. ")
			term.Signal(syscall.SIGKILL)
			term.Exit()
		}
		term := sitIn(t, home, file)
		term.Expect("gannet.sums was left on ")
		term.Expect(" with 1 line that is not")
		term.Wait("Take them up again? yes, later or drop: ")
		term.Type(c.answer + "\r")
		term.Wait(c.row)
		if c.answer == "yes" {
			term.Type("power\r")
			term.Wait("5. ")
			expectScreen(t, term, "4. power", "    30 W", "5.")
			term.Type("\x04")
			term.Wait("save, later or drop: ")
			term.Type("save\r")
			term.Expect("Saved as " + file)
			term.Exit()
		} else {
			term.Type("\x04")
			term.Exit()
		}
	}
	if text, _ := os.ReadFile(file); string(text) != "railsum 1\ntrack = 15 V\npower = track * 2 A\npower\n" {
		t.Errorf("%q", text)
	}
}

func TestRecoveryWithoutAName(t *testing.T) {
	home := t.TempDir()
	term := sitIn(t, home, "")
	term.Wait("2. ")
	term.Type("1 + 1\r")
	term.Wait("3. ")
	term.Signal(syscall.SIGHUP) // the terminal is gone
	if code := term.Exit(); code != 128+int(syscall.SIGHUP) {
		t.Errorf("exit code %d", code)
	}
	term = sitIn(t, home, "")
	term.Wait("2. ")
	term.Expect(", 1 line: `recover`\n1. railsum 1\n")
	term.Type("2 + 2\r") // nothing of this desk is swallowed by the other
	term.Wait("3. ")
	term.Type("recover\r")
	term.Expect("Kept aside: `recover` brings it back")
	term.Expect("1. railsum 1\n2. 1 + 1\n    2\n3.")
	term.Wait("3. ")
	term.Type("recover 2\r")
	term.Expect("`recover 1` takes up the oldest")
	term.Type("save kept\r")
	term.Expect("Saved as kept.sums.")
	term.Type("quit\r")
	term.Exit()
	term = sitIn(t, home, "")
	term.Wait("2. ")
	term.Type("recover\r")
	term.Expect("2. 2 + 2\n    4\n3.")
}

// Of scratch papers the latest are kept.
func TestScratchIsBounded(t *testing.T) {
	o := sessions.Options{Journals: t.TempDir(), Library: func(dir string) calc.Library { return library.At(dir) }}
	for i := range keptScratch + 3 {
		s := sessions.New(o)
		if _, err := s.Enter(fmt.Sprintf("x = %d", i)); err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	left, old := latest(sessions.Leftovers(o))
	defer release(append(left, old...))
	if len(left) != keptScratch || len(old) != 3 || !left[0].When.After(old[0].When) {
		t.Errorf("%d are left, %d given up", len(left), len(old))
	}
}

// Days of the past as they are mentioned.
func TestDay(t *testing.T) {
	now := time.Date(2026, 3, 1, 0, 30, 0, 0, time.UTC)
	for _, c := range []struct {
		ago  time.Duration
		want string
	}{{10 * time.Minute, "at 00:20"}, {time.Hour, "yesterday"}, {25 * time.Hour, "on 2026-02-27"}} {
		if got := day(now.Add(-c.ago), now); got != c.want {
			t.Errorf("%v ago: %s", c.ago, got)
		}
	}
}

// What is asked with a question mark is answered and not kept; what would be kept is
// refused.
func TestAsking(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Type("track = 15 V\r? 5 % of track\r")
	term.Expect("3. ? 5 % of track\n    750 mV\n3.")
	for _, c := range []struct{ asks, says string }{
		{"? that * 2", "there is no question above"},
		{"? 12 volts x 3 amps", "heard: 12 V * 3 A\n    36 W\n3."},
		{"? x = 3 V", "only a question can be asked without being kept"},
		{"? table t | a", "only a question can be asked without being kept"},
		{"? 2 +", "a value is missing"},
		{"? nobody * 2", "nobody is not defined"},
		{"? must track > 12 V", "clear"},
		{"? find track so 5 % of track = 1 V", "track = 20 V"},
	} {
		term.Type(c.asks + "\r")
		term.Expect(c.says)
		term.Wait("3. ")
	}
	term.Type("list\r")
	term.Expect("list\n1. railsum 1\n2. track = 15 V\n3.")
}

// Half of a line is no line, and every whole one is in the journal.
func TestSignalToEnd(t *testing.T) {
	home := t.TempDir()
	file := filepath.Join(home, "gannet.sums")
	term := sitIn(t, home, file)
	term.Wait("2. ")
	term.Type("track = 15 V\r")
	term.Wait("3. ")
	term.Type("half")
	term.Wait("3. half")
	term.Signal(syscall.SIGTERM)
	if code := term.Exit(); code != 128+int(syscall.SIGTERM) {
		t.Errorf("exit code %d", code)
	}
	if _, err := os.Stat(file); err == nil {
		t.Error("a file was written that nobody asked for")
	}
	term = sitIn(t, home, file)
	term.Wait("Take them up again? yes, later or drop: ")
	term.Type("y\r")
	term.Wait("3. ")
	term.Type("list\r")
	term.Expect("1. railsum 1\n2. track = 15 V\n3.")
}

func TestTwoDesks(t *testing.T) {
	home := t.TempDir()
	file := filepath.Join(home, "gannet.sums")
	os.WriteFile(file, []byte("railsum 1\n"), 0o644)
	first := sitIn(t, home, file)
	first.Wait("2. ")
	second := sitIn(t, home, file)
	if code := second.Exit(); code != codeFile || !strings.Contains(second.Screen(), "open at another desk") {
		t.Errorf("exit code %d:\n%s", code, second.Screen())
	}
}

func TestChangedUnderneath(t *testing.T) {
	home := t.TempDir()
	file := filepath.Join(home, "gannet.sums")
	os.WriteFile(file, []byte("railsum 1\n"), 0o644)
	term := sitIn(t, home, file)
	term.Wait("2. ")
	term.Type("track = 15 V\r")
	term.Wait("3. ")
	os.WriteFile(file, []byte("railsum 1\n# theirs\n"), 0o644)
	term.Type("save\r")
	term.Wait("merge, replace or no: ")
	term.Expect("gannet.sums has been changed since it was read")
	term.Type("no\r")
	term.Wait("3. ")
	if text, _ := os.ReadFile(file); string(text) != "railsum 1\n# theirs\n" {
		t.Errorf("theirs is %q", text)
	}
	term.Type("save mine\r")
	term.Expect("Saved as mine.sums.")
	term.Type("quit\r")
	if code := term.Exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	if text, _ := os.ReadFile(filepath.Join(home, "mine.sums")); string(text) != "railsum 1\ntrack = 15 V\n" {
		t.Errorf("mine is %q", text)
	}
}

func TestQuitWithChanges(t *testing.T) {
	home := t.TempDir()
	term := sitIn(t, home, "gannet.sums")
	term.Wait("2. ")
	term.Type("1 + 1\r")
	term.Wait("3. ")
	term.Type("quit\r")
	term.Wait("save, later or drop: ")
	term.Type("\x03") // rather not
	term.Expect("not leaving")
	term.Wait("3. ")
	term.Type("quit\r")
	term.Wait("save, later or drop: ")
	term.Type("perhaps\r")
	term.Expect("Please answer with save, later or drop.")
	term.Type("s\r")
	term.Exit()
	if text, _ := os.ReadFile(filepath.Join(home, "gannet.sums")); string(text) != "railsum 1\n1 + 1\n" {
		t.Errorf("%q", text)
	}
}

func TestChangeIsOffered(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	term.Paste("track = 15 V\ntable fleet | draw\n  shunter | 1 A\n  railcar | 2 A\nend\npower = track * sum(fleet.draw)\n")
	term.Wait("8. ")
	term.Type("change 2\r")
	term.Wait("2. track = 15 V")
	term.Type("\x7f\x7f\x7f\x7f12 V\r")
	term.Wait("8. ")
	term.Expect("track: 15 V → 12 V\n    power: 45 W → 36 W\n")
	// A table row by row: one emptied, one added.
	term.Type("change 3\r")
	term.Wait("3. table fleet | draw")
	term.Type("\r")
	term.Wait("4.   shunter | 1 A")
	term.Type("\x15\r")
	term.Wait("4.   railcar | 2 A")
	term.Type("\r")
	term.Wait("5. end")
	term.Type("\x15  goods | 3 A\r")
	term.Wait("6. end")
	term.Type("\r")
	term.Expect("power: 36 W → 60 W\n")
	// Left off, nothing has changed.
	term.Type("change 3\r")
	term.Wait("3. table fleet | draw")
	term.Type("\x03")
	term.Expect("the line is as it was")
}

// However often Ctrl-C is pressed, the desk stays, and so does what was entered.
func TestInterruptedWork(t *testing.T) {
	term := sit(t, "")
	term.Wait("2. ")
	var slow strings.Builder
	slow.WriteString("table big | a\n")
	for range 3000 {
		slow.WriteString("  x | 1\n")
	}
	slow.WriteString("end\n")
	term.Paste(slow.String())
	term.Wait("3004. ")
	for range 20 { // some reach the prompt, some the moments between two
		term.Type("\x03")
	}
	term.Wait("3004. ")
	term.Type("\x15sum(big.a)\r")
	term.Expect("    3000\n")
	if term.Ended() {
		t.Error("an interrupt ended the desk")
	}
}
