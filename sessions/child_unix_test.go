//go:build !windows

package sessions

import (
	"bufio"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The test binary runs as its own child for what can only be done to a process.
const childEnv = "SESSIONS_TEST_CHILD"

func TestMain(m *testing.M) {
	switch job, dir, _ := strings.Cut(os.Getenv(childEnv), ":"); job {
	case "":
		os.Exit(m.Run())
	case "work":
		work(dir)
	case "full":
		fillDisk(dir)
	case "rival":
		rival(dir)
	case "halt":
		n, dir, _ := strings.Cut(dir, ":")
		halt(n, dir)
	}
}

func child(t *testing.T, job, dir string) *exec.Cmd {
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe)
	cmd.Env = append(os.Environ(), childEnv+"="+job+":"+dir)
	cmd.Stderr = os.Stderr
	return cmd
}

func childPlace(dir string) (string, Options) {
	return filepath.Join(dir, "a.sums"), Options{Journals: filepath.Join(dir, "journals")}
}

// padding makes the file large enough that writing it takes its time.
var padding = strings.Repeat("stand by ", 100)

func workLine(i int) string { return fmt.Sprintf("x%d = %d  # %s", i, i, padding) }

// count is how many of the lines of work a text has; it must be whole.
func count(text string) (int, error) {
	rows := strings.Split(text, "\n")
	if len(rows) < 2 || rows[0] != header || rows[len(rows)-1] != "" {
		return 0, fmt.Errorf("not whole: %d rows, begins %.20q", len(rows), text)
	}
	for i, row := range rows[1 : len(rows)-1] {
		if row != workLine(i) {
			return 0, fmt.Errorf("row %d is %.40q", i+2, row)
		}
	}
	return len(rows) - 2, nil
}

// work edits and saves until it is killed, and says of every line when it has
// been accepted, some of them by way of undo and redo.
func work(dir string) {
	name, o := childPlace(dir)
	s, err := Open(name, o)
	check(err)
	for _, r := range s.Recoveries() {
		_, err := s.Recover(r)
		check(err)
	}
	n, err := count(string(s.Text()))
	check(err)
	for i := n; ; i++ {
		_, err := s.Enter(workLine(i))
		check(err)
		switch i % 5 {
		case 1:
			check(s.Save("", false))
		case 3:
			_, err := s.Undo()
			check(err)
			_, err = s.Redo()
			check(err)
		}
		fmt.Println(i + 1)
	}
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "child:", err)
		os.Exit(1)
	}
}

// Kill -9 at any moment: the file is whole, and file and journal together hold
// every line that was acknowledged (DESIGN 8).
func TestKilledAtAnyMoment(t *testing.T) {
	rounds := 40
	if long {
		rounds = 1000
	}
	var dir, name string
	var o Options
	acked, recovered, saved := 0, 0, 0
	begin := func() {
		dir = t.TempDir()
		name, o = childPlace(dir)
		acked = 0
	}
	begin()
	for round := range rounds {
		if acked > 60 {
			begin()
		}
		cmd := child(t, "work", dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(out)
		before := acked
		if lines.Scan() { // it is at work
			fmt.Sscan(lines.Text(), &acked)
		}
		time.AfterFunc(time.Duration(rand.IntN(20_000))*time.Microsecond, func() { cmd.Process.Kill() })
		for lines.Scan() {
			fmt.Sscan(lines.Text(), &acked)
		}
		err = cmd.Wait()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.Exited() || acked == before {
			t.Fatalf("round %d: the child was not killed at work: %v, %d lines", round, err, acked)
		}
		if text, err := os.ReadFile(name); err == nil {
			n, err := count(string(text))
			if err != nil {
				t.Fatalf("round %d: the file is not whole: %v", round, err)
			}
			if n > 0 {
				saved++
			}
		}
		if round%2 == 0 {
			continue // the next child goes on from here
		}
		s, err := Open(name, o)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range s.Recoveries() {
			recovered++
			if r.Changed {
				t.Fatalf("round %d: the file is taken for another", round)
			}
			if _, err := s.Recover(r); err != nil {
				t.Fatal(err)
			}
		}
		n, err := count(string(s.Text()))
		if err != nil || n < acked || n > acked+1 {
			t.Fatalf("round %d: %d lines acknowledged, %d there: %v", round, acked, n, err)
		}
		acked = n
		if round%4 == 1 {
			if err := s.Save("", false); err != nil {
				t.Fatal(err)
			}
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		for _, left := range namesIn(t, dir) {
			if left != "a.sums" && left != "journals" {
				t.Fatalf("round %d: left behind: %s", round, left)
			}
		}
	}
	t.Logf("%d recoveries in %d rounds, %d files seen", recovered, rounds, saved)
	if recovered == 0 || saved == 0 {
		t.Error("never anything to recover, or never saved: the test has shown nothing")
	}
}

// halt works on a notebook until its n-th call to the disk, before which it dies,
// and says after every step what has been accepted by then.
func halt(n, dir string) {
	d := &faulty{halt: func() { syscall.Kill(os.Getpid(), syscall.SIGKILL) }}
	fmt.Sscan(n, &d.fail)
	name, o := childPlace(dir)
	o.disk = d
	s, err := Open(name, o)
	check(err)
	accepted := func(err error) {
		check(err)
		fmt.Printf("%q %q\n", s.Text(), s.Drafted())
	}
	edited := func(_ Edit, err error) { accepted(err) }
	for _, r := range s.Recoveries() {
		edited(s.Recover(r))
	}
	edited(s.Enter("a = 5"))
	edited(s.Enter("b = 2"))
	accepted(s.Save("", false))
	edited(s.Enter("c = 3"))
	edited(s.Undo())
	accepted(s.Draft("table f | n"))
	accepted(s.Draft("  x | 1"))
	edited(s.Enter("table f | n\n  x | 1\nend"))
	accepted(s.Save("", false))
	edited(s.Enter("d = 4"))
	accepted(s.Close())
	fmt.Println("through")
}

// SIGKILL before every call to the disk, once with nothing left by others and once
// in the recovery of another: the file is the old one or the new one, and file and
// journal have what was accepted last, or one step more.
func TestKilledBeforeAnyCall(t *testing.T) {
	for _, recovering := range []bool{false, true} {
		// The states that a run goes through, as the run that is not killed tells.
		states, _ := halted(t, recovering, 0)
		calls := 0
		for n := 1; ; n++ {
			told, now := halted(t, recovering, n)
			if now == "" {
				calls = n - 1
				break
			}
			at := len(told) - 1
			if !slices.Equal(told, states[:len(told)]) || !slices.Contains(states[at:min(at+2, len(states))], now) {
				t.Errorf("call %d: accepted %s, there is %s", n, told[at], now)
			}
		}
		t.Logf("recovering %v: killed before each of %d calls", recovering, calls)
		if calls < 40 {
			t.Error("these are too few")
		}
	}
}

// halted has a child die before its n-th call. It gives the states that the child
// told of, the first of them being that before it began, and the one that the next
// session comes to; empty if the child came through.
func halted(t *testing.T, recovering bool, n int) (told []string, now string) {
	t.Helper()
	dir := t.TempDir()
	name, o := childPlace(dir)
	old := header + "\na = 1\n"
	if err := os.WriteFile(name, []byte(old), 0o644); err != nil {
		t.Fatal(err)
	}
	before := fmt.Sprintf("%q []", old)
	if recovering {
		s, err := Open(name, o)
		if err != nil {
			t.Fatal(err)
		}
		enter(t, s, "e = 6")
		before = fmt.Sprintf("%q []", s.Text())
		s.Close()
	}
	out, err := child(t, "halt", fmt.Sprintf("%d:%s", n, dir)).Output()
	told = append([]string{before}, strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")...)
	if told[len(told)-1] == "through" {
		return told[:len(told)-1], ""
	}
	if told[len(told)-1] == "" {
		told = told[:1]
	}
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.Exited() {
		t.Fatalf("call %d: the child was not killed: %v", n, err)
	}
	if file := contents(t, name); file != old && !strings.HasPrefix(file, "railsum 1\na = 5\n") || !strings.HasSuffix(file, "\n") {
		t.Errorf("call %d: the file is %q", n, file)
	}
	s, err := Open(name, o)
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		s.Abandon()
		for _, left := range append(namesIn(t, dir), namesIn(t, o.Journals)...) {
			if left != "a.sums" && left != "journals" {
				t.Errorf("call %d: left behind: %s", n, left)
			}
		}
	}()
	for _, r := range s.Recoveries() {
		if r.Damaged || r.Changed {
			t.Errorf("call %d: offered %+v", n, r)
		}
		if string(s.Text()) == string(r.Text()) && len(r.Draft) == 0 {
			r.Discard() // killed between two journals, and both have it
		} else if _, err := s.Recover(r); err != nil {
			t.Fatal(err)
		}
	}
	return told, fmt.Sprintf("%q %q", s.Text(), s.Drafted())
}

// A full disk, stood in for by a bound on the size of files.
func TestDiskFull(t *testing.T) {
	dir := t.TempDir()
	name, o := childPlace(dir)
	old := header + "\n" + strings.Repeat("# "+padding+"\n", 60)
	if err := os.WriteFile(name, []byte(old), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := child(t, "full", dir).Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if contents(t, name) != old {
		t.Error("the file is another")
	}
	for _, want := range []string{"save: a.sums cannot be written: ", "enter: this could not be written to the journal"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("said %q, want %q", out, want)
		}
	}
	s, err := Open(name, o)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Abandon()
	if left := namesIn(t, dir); len(left) != 3 {
		t.Errorf("left behind: %q", left)
	}
	// What was accepted before the disk was full is there.
	if rs := s.Recoveries(); len(rs) != 1 || string(rs[0].Text()) != old+"a = 1\n" || rs[0].Torn {
		t.Errorf("offered %+v", rs)
	}
}

func fillDisk(dir string) {
	name, o := childPlace(dir)
	check(os.Chdir(dir))
	s, err := Open(filepath.Base(name), o)
	check(err)
	_, err = s.Enter("a = 1")
	check(err)
	signal.Ignore(syscall.SIGXFSZ)
	check(syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 40_000, Max: 40_000}))
	if _, err := s.Enter("b = 2"); err != nil {
		fmt.Println("enter:", err)
	}
	if err := s.Save("", false); err != nil {
		fmt.Println("save:", err)
	}
	if s.Dirty() && strings.HasSuffix(string(s.Text()), "a = 1\n") {
		return // dies with its lines unsaved
	}
	fmt.Println("the session lost what it had")
	os.Exit(1)
}
