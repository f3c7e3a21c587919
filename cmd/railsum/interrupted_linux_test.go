package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// A seat is the program at a pseudo-terminal, or writing into a pipe that is read
// slowly, on one core, so that the time it takes is time it has.
type seat struct {
	cmd   *exec.Cmd
	keys  *os.File // the terminal; nil for a pipe
	ended chan struct{}
	state *os.ProcessState // once it has ended

	mu      sync.Mutex
	tail    []byte
	prompts int // that have been shown
}

// Every prompt of the desk switches marked pasting on; its pager has a row of its own.
var promptMarks = []string{"\x1b[?2004h", "Space more, b back, q done"}

func sitDown(t *testing.T, dir string, atTerminal bool, args ...string) *seat {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	s := &seat{cmd: exec.Command(exe, args...), ended: make(chan struct{})}
	s.cmd.Args[0], s.cmd.Dir = "railsum", dir
	s.cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+dir+"/state", "XDG_DATA_HOME="+dir+"/data", "LC_ALL=C.UTF-8", "NO_COLOR=1",
		"TERM=xterm-256color", "PAGER=", "PATH=", "GOMAXPROCS=1")
	var from io.ReadCloser
	if atTerminal {
		s.keys, err = pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 24, Cols: 80})
		from = s.keys
	} else if from, err = s.cmd.StdoutPipe(); err == nil {
		err = s.cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	read := make(chan struct{})
	go func() {
		defer close(read)
		b := make([]byte, 1<<14)
		for {
			n, err := from.Read(b)
			if err != nil {
				return
			}
			s.take(b[:n])
			if !atTerminal {
				time.Sleep(time.Millisecond)
			}
		}
	}()
	go func() {
		s.state, _ = s.cmd.Process.Wait() // and not cmd.Wait, which would first close what is read
		close(s.ended)
		from.Close()
		<-read
	}()
	return s
}

func (s *seat) take(b []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	text := append(s.tail, b...)
	for {
		at := -1
		for _, mark := range promptMarks {
			if i := bytes.Index(text, []byte(mark)); i >= 0 && (at < 0 || i+len(mark) < at) {
				at = i + len(mark)
			}
		}
		if at < 0 {
			break
		}
		s.prompts++
		text = text[at:]
	}
	s.tail = bytes.Clone(text[max(0, len(text)-40):])
}

func (s *seat) shown() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.prompts
}

// answered waits for another prompt than the first so many, or the end; it reports
// false after a while.
func (s *seat) answered(prompts int, wait time.Duration) bool {
	for end := time.Now().Add(wait); time.Now().Before(end); time.Sleep(time.Millisecond) {
		if s.shown() > prompts || s.over() {
			return true
		}
	}
	return false
}

func (s *seat) over() bool {
	select {
	case <-s.ended:
		return true
	default:
		return false
	}
}

// spent is the time of a processor that it has had.
func (s *seat) spent() time.Duration {
	if s.over() && s.state != nil {
		return s.state.UserTime() + s.state.SystemTime()
	}
	var all int64
	tasks, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/schedstat", s.cmd.Process.Pid))
	for _, task := range tasks {
		text, _ := os.ReadFile(task)
		first, _, _ := strings.Cut(string(text), " ")
		n, _ := strconv.ParseInt(first, 10, 64)
		all += n
	}
	return time.Duration(all)
}

func (s *seat) leave() {
	s.cmd.Process.Kill()
	<-s.ended
}

// interruption is a call, or the last of some orders at the desk, that takes its time.
type interruption struct {
	args   []string
	orders []string
	piped  bool
}

func (i interruption) String() string { return strings.Join(append(i.args, i.orders...), " · ") }

// heeds does it, interrupts it after a while and tells how long that took of the
// clock and of a processor. What ends earlier tells how long it took at all.
func (i interruption) heeds(t *testing.T, dir string, after time.Duration) (ended bool, took, spent time.Duration) {
	t.Helper()
	os.Remove(filepath.Join(dir, "page.html"))
	os.RemoveAll(filepath.Join(dir, "state"))
	const ever = time.Minute
	began := time.Now()
	s := sitDown(t, dir, !i.piped, i.args...)
	defer s.leave()
	prompts := -1
	if i.args[0] == "desk" {
		prompts = 0
	}
	for n, order := range i.orders {
		if !s.answered(prompts, ever) || s.over() {
			t.Fatalf("%v: no prompt:\n%q", i, s.tail)
		}
		time.Sleep(20 * time.Millisecond) // until the terminal is the editor's
		prompts = s.shown()
		if n == len(i.orders)-1 {
			began = time.Now()
		}
		io.WriteString(s.keys, order+"\r")
	}
	if prompts < 0 {
		prompts = 1 << 30 // there is none: it ends
	}
	if s.answered(prompts, after) {
		return true, time.Since(began), 0
	}
	before := s.spent()
	sent := time.Now()
	if i.orders == nil {
		s.cmd.Process.Signal(syscall.SIGINT)
	} else {
		io.WriteString(s.keys, "\x03") // which is a key or a signal, as the terminal is
	}
	s.answered(prompts, ever)
	took = time.Since(sent)
	// One core has spent no more than the clock; what is over has no more tasks to ask.
	return false, took, min(took, max(0, s.spent()-before))
}

// heavy writes the largest notebooks that there may be into a folder.
func heavy(t *testing.T, dir string) {
	sums := func(first string) string {
		return "x0 = " + first + "\n" + rows(19_900, func(i int) string {
			if i%4 == 3 {
				return fmt.Sprintf("must x%d < %d m", i, 2*i)
			}
			return fmt.Sprintf("x%d = x%d * 1.0001 + 1 m", i+1, i-i%4)
		})
	}
	chain := rows(9000, func(i int) string { return fmt.Sprintf("x%d = sin(x%d * 1 rad) + x%d * x0", i+1, i, i/2) })
	uncertain := "s = 1" + strings.Join(strings.Fields(rows(400, func(i int) string { return fmt.Sprintf("+a%d", i) })), "")
	sheets := strings.Fields("drop stub breakers accessories crossing turntable axles dwell motor servo siding helix easement cant")
	for name, text := range map[string]string{
		"sums":    sums("1 m"),
		"other":   sums("2 m"),
		"table":   "table t | a\n" + rows(99_000, func(i int) string { return fmt.Sprintf("r%d|%d", i, i%7) }) + "end\nsum(t.a)\nt.b = t.a * 2\n",
		"numbers": "table t | a\n" + rows(50_000, func(i int) string { return fmt.Sprintf("r%d|%d", i, i%7) }) + "end\n" + rows(90, func(i int) string { return fmt.Sprintf("t.b%d = t.a * %d", i, i) }),
		"find":    "x0 = 1\n" + chain + "find x0 from 0 to 0.5 so x9000 = 7\n",
		"chain":   "x0 = 1\n" + chain,
		"vary":    longSweep,
		"spread":  rows(400, func(i int) string { return fmt.Sprintf("a%d = 1 +- 5 %%", i) }) + uncertain + "\nspread s\n",
		"sheets":  rows(300, func(i int) string { return fmt.Sprintf("use %s for p%d", sheets[i%len(sheets)], i) }),
	} {
		if err := os.WriteFile(filepath.Join(dir, name+".sums"), []byte("railsum 1\n"+text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestInterruptedAtAnyMoment interrupts the heaviest of what can be opened, checked,
// computed, studied and printed, at moments by chance: the call ends, or the desk
// asks for the next line, within 0.3 s of a processor.
func TestInterruptedAtAnyMoment(t *testing.T) {
	if !longRun {
		t.Skip("it takes a machine that does nothing else: RAILSUM_LONG=1")
	}
	dir := t.TempDir()
	heavy(t, dir)
	const trials = 4
	desk := func(name string, orders ...string) interruption {
		return interruption{args: []string{"desk", name + ".sums"}, orders: orders}
	}
	all := []interruption{
		desk("sums"), desk("table"), desk("sheets"), desk("find"),
		desk("sums", "x0 = 3 m"), desk("sums", "list"), desk("sums", "list danger"), desk("sums", "handout to page.html"),
		desk("table", "t.r7.a = 9"), desk("find", "handout to page.html"), desk("vary", "list 4"),
	}
	for _, order := range []string{"list parts", "list unsettled", "list waiting", "list x7", "rename x0 to y0", "strike 200 to 19000", "move 5 to 9000 before 2",
		"about x0", "? x7 plus x8", "since opened", "insert before 3 z = x0 + 1 m", "copy x77 from other.sums", "change 2 x0 = 5 m", "x99999", "save page", "7 m * x0", "sheets wire", "help"} {
		all = append(all, desk("sums", order))
	}
	all = append(all,
		desk("sums", "x0 = 3 m", "undo"), desk("sums", "x0 = 3 m", "undo", "redo"), desk("sums", "x0 = 3 m", "since opened"), desk("sums", "x0 = 3 m", "save"),
		desk("sums", "open other.sums"), desk("sums", "x0 = 3 m", "open table.sums"),
		desk("table", "list"), desk("table", "add t | r | 3"), desk("table", "strike t.r77"), desk("table", "handout to page.html"), desk("table", "rename t to u"), desk("table", "list t"),
		desk("table", "change 5 r3|44"), desk("table", "since opened"),
		desk("sheets", "list"), desk("sheets", "list parts"), desk("sheets", "list unsettled"), desk("sheets", "handout to page.html"), desk("sheets", "list danger"),
		desk("chain", "find x0 from 0 to 0.5 so x9000 = 7"), desk("chain", "vary x0 from 0 to 1 over 200000 steps show x9000"), desk("spread", "list 403"),
		desk("chain", "working x9000 to 40 levels"), desk("chain", "suppose x0 = 0.3 show x9000"), desk("chain", "measured x9000 = 3"),
		interruption{args: []string{"quiz", "sheets.sums"}}, interruption{args: []string{"quiz", "--paper", "--sets", "30", "drop,stub"}, piped: true},
	)
	for _, name := range []string{"sums", "table", "numbers", "find", "vary", "spread", "sheets"} {
		for _, call := range []string{"read", "read --json", "read --plain", "handout", "tidy", "parts", "present"} {
			for _, piped := range []bool{true, false} {
				all = append(all, interruption{args: append(strings.Fields(call), name+".sums"), piped: piped})
			}
		}
	}
	all = append(all, interruption{args: []string{"compare", "sums.sums", "other.sums"}}, interruption{args: []string{"about", "x0", "--in", "sums.sums"}})
	if only := os.Getenv("RAILSUM_ONLY"); only != "" {
		var some []interruption
		for _, i := range all {
			if strings.Contains(i.String(), only) {
				some = append(some, i)
			}
		}
		all = some
	}
	const most = 300 * time.Millisecond
	r := rand.New(rand.NewPCG(5, uint64(os.Getpid())))
	n, late := 0, 0
	var worst, longest time.Duration
	for _, i := range all {
		ended, length, _ := i.heeds(t, dir, 8*time.Second)
		if !ended {
			length = 8 * time.Second
		}
		var clock, cpu time.Duration
		var at []string
		for range trials {
			after := time.Millisecond + time.Duration(r.Int64N(int64(length)))
			ended, took, spent := i.heeds(t, dir, after)
			if ended {
				continue
			}
			n++
			clock, cpu = max(clock, took), max(cpu, spent)
			if spent > most || took > 3*time.Second {
				late++
				at = append(at, fmt.Sprintf("%.0f ms: %.2f s, %.2f s of a processor", float64(after)/1e6, took.Seconds(), spent.Seconds()))
			}
		}
		t.Logf("%v takes %.2f s; interrupted it ended after %.2f s at most, %.2f s of a processor", i, length.Seconds(), clock.Seconds(), cpu.Seconds())
		if at != nil {
			t.Errorf("%v heeds an interrupt late, at %s", i, strings.Join(at, "; at "))
		}
		worst, longest = max(worst, cpu), max(longest, clock)
	}
	t.Logf("%d interrupts: at most %.2f s, %.2f s of a processor; %d late", n, longest.Seconds(), worst.Seconds(), late)
}
