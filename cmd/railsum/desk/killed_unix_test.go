//go:build unix

package desk

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"railsum/cmd/railsum/desk/ptytest"
	"railsum/sessions"
)

// longRun is whether what takes its time is done as often as DEVELOPERS.md says.
var longRun = os.Getenv("RAILSUM_LONG") != ""

// workUnit is the i-th thing that is typed: a line, or a table of three rows.
func workUnit(i int) []string {
	if i%5 == 3 {
		return []string{fmt.Sprintf("table t%d | n", i), "  a | 1", "  b | 2", fmt.Sprintf("  c | %d", i), "end"}
	}
	return []string{fmt.Sprintf("x%d = %d  # %s", i, i, strings.Repeat("stand by ", i%40))}
}

// workText is a notebook of that many units.
func workText(units int) string {
	rows := []string{"railsum 1"}
	for i := range units {
		for _, row := range workUnit(i) {
			rows = append(rows, strings.TrimRight(row, " "))
		}
	}
	return strings.Join(rows, "\n") + "\n"
}

// rowAfter is the row that comes after that many units.
func rowAfter(units int) int { return strings.Count(workText(units), "\n") + 1 }

// unitsIn is how many units a notebook has; -1 if it is torn.
func unitsIn(text string) int {
	if text == "" {
		return 0
	}
	rows := strings.Split(text, "\n")
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " ")
	}
	text = strings.Join(rows, "\n")
	for n := 0; ; n++ {
		switch want := workText(n); {
		case text == want:
			return n
		case len(want) > len(text):
			return -1
		}
	}
}

// bench is a desk at work that will be killed: step does something and waits until
// the desk has said that it is done, or has died.
type bench struct {
	send  func(text string, row int) bool // row is that of the prompt which will answer
	units int                             // that have been accepted
	least int                             // that must be there whatever the step at hand does
	most  int                             // that may be
	rows  []string                        // of an open table that have been accepted
}

func (b *bench) work() {
	for {
		b.least, b.most, b.rows = b.units, b.units+1, nil
		next := rowAfter(b.units)
		for _, row := range workUnit(b.units) {
			if next++; !b.send(row, next) {
				return
			}
			b.rows = append(b.rows, row)
		}
		b.units++
		b.least, b.most, b.rows = b.units, b.units, nil
		switch rand.IntN(4) {
		case 0:
			if !b.send("save", next) {
				return
			}
		case 1:
			b.least--
			if !b.send("undo", rowAfter(b.units-1)) || !b.send("redo", next) {
				return
			}
		}
	}
}

func killable(home string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Dir = home
	cmd.Env = append(os.Environ(), asDesk+"=n.sums", "TERM=xterm-256color", "NO_COLOR=1", "LC_ALL=C.UTF-8",
		"XDG_STATE_HOME="+filepath.Join(home, "state"), "XDG_DATA_HOME="+filepath.Join(home, "data"))
	return cmd
}

// atTerminal works at a pseudo-terminal, taking up what the desk before has left.
func (b *bench) atTerminal(t *testing.T, home string, kill func(*os.Process)) {
	cmd := killable(home)
	term := ptytest.Start(t, cmd, 400, 6)
	last := func() string {
		lines := term.Lines()
		if len(lines) == 0 {
			return ""
		}
		return lines[len(lines)-1]
	}
	waits := func(ready func(string) bool) bool {
		for end := time.Now().Add(ptytest.Patience); !ready(last()); time.Sleep(time.Millisecond) {
			if term.Ended() {
				return false
			}
			if time.Now().After(end) {
				t.Fatalf("the desk waits:\n%s", term.Screen())
			}
		}
		return true
	}
	kill(cmd.Process)
	prompted := func(row int) func(string) bool {
		return func(l string) bool { return l == fmt.Sprintf("%d.", row) }
	}
	begun := prompted(rowAfter(b.units))
	asked := func(l string) bool { return strings.HasSuffix(l, "later or drop:") }
	if !waits(func(l string) bool { return begun(l) || asked(l) }) {
		return
	}
	typed := func(text string, row int) bool {
		saved := strings.Count(term.Raw(), "Saved")
		if !term.Try(text + "\r") {
			return false
		}
		return waits(func(l string) bool {
			return prompted(row)(l) && (text != "save" || strings.Count(term.Raw(), "Saved") > saved)
		})
	}
	if asked(last()) && !typed("yes", rowAfter(b.units)) {
		return
	}
	b.send = typed
	b.work()
}

// atPipe works at a pipe.
func (b *bench) atPipe(t *testing.T, home string, kill func(*os.Process)) {
	cmd := killable(home)
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer cmd.Wait()
	kill(cmd.Process)
	said := bufio.NewScanner(out)
	table := false
	b.send = func(text string, _ int) bool {
		table = strings.HasPrefix(text, "table") || table && text != "end"
		if table { // nothing is said before its end
			_, err := io.WriteString(in, text+"\n")
			return err == nil
		}
		if _, err := io.WriteString(in, text+"\nlist 1\n"); err != nil {
			return false
		}
		for said.Scan() {
			if said.Text() == "1. railsum 1" {
				return true
			}
		}
		return false
	}
	b.work()
}

// TestKilledDesk kills desks at any moment, at a terminal and at a pipe, while they
// edit, save, are given tables and recover: no file is torn, and no line that was
// accepted is lost, nor a row of an open table.
func TestKilledDesk(t *testing.T) {
	rounds := 12
	if longRun {
		rounds = 2000
	}
	if n, err := strconv.Atoi(os.Getenv("RAILSUM_ROUNDS")); err == nil {
		rounds = n
	}
	recovered, saved, tables, torn, lost := 0, 0, 0, 0, 0
	var home string
	b := &bench{}
	for round := range rounds {
		if home == "" || b.units > 60 {
			home = t.TempDir()
			b.units = 0
		}
		began := time.Now()
		kill := func(p *os.Process) {
			after := time.Duration(rand.IntN(400)) * time.Millisecond
			time.AfterFunc(after, func() { p.Signal(syscall.SIGKILL) })
		}
		b.least, b.most, b.rows = b.units, b.units, nil
		pipe := round%2 == 1
		if pipe {
			b.atPipe(t, home, kill)
		} else {
			t.Run("", func(t *testing.T) { b.atTerminal(t, home, kill) })
		}
		if time.Since(began) > 20*time.Second {
			t.Fatalf("round %d took %v", round, time.Since(began))
		}
		path := filepath.Join(home, "n.sums")
		file, err := os.ReadFile(path)
		if err == nil {
			saved++
		}
		if unitsIn(string(file)) < 0 {
			torn++
			t.Errorf("round %d: the file is torn: %q", round, file)
		}
		s, err := sessions.Open(path, sessions.Options{Journals: filepath.Join(home, "state", "railsum", "journals")})
		if err != nil {
			t.Fatal(err)
		}
		text, draft := string(s.Text()), []string(nil)
		rs := s.Recoveries()
		if len(rs) > 0 {
			recovered++
			text, draft = string(rs[0].Text()), rs[0].Draft
			if rs[0].Damaged || rs[0].Changed {
				t.Errorf("round %d: offered %+v", round, rs[0])
			}
		}
		n := unitsIn(text)
		if n < b.least || n > b.most {
			lost++
			t.Errorf("round %d (pipe %v): %d to %d units were accepted, %d are there of %d journals:\n%q", round, pipe, b.least, b.most, n, len(rs), text)
		}
		if len(draft) > 0 {
			tables++
		}
		if !pipe && n == b.least && len(b.rows) > 0 && len(b.rows) < len(workUnit(3)) && len(draft) < len(b.rows) {
			lost++
			t.Errorf("round %d: the rows %q were accepted, %q are there", round, b.rows, draft)
		}
		// A desk at a pipe takes nothing up; one at a terminal does every other time, as
		// long as no table is open, which would have to be typed on.
		if b.units = max(n, 0); len(rs) > 0 && (round%4 != 3 || len(draft) > 0 || len(rs) > 1) {
			if _, err := s.Recover(rs[0]); err != nil {
				t.Fatal(err)
			}
			s.DropDraft()
			if err := s.Save("", false); err != nil {
				t.Fatal(err)
			}
			for _, r := range rs[1:] {
				r.Discard()
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d desks killed: %d recoveries, %d files seen, %d open tables; torn %d, lost %d", rounds, recovered, saved, tables, torn, lost)
}
