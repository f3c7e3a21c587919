//go:build unix

package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// longRun is whether what takes its time is done as often as DEVELOPERS.md says.
var longRun = os.Getenv("RAILSUM_LONG") != ""

// A child is the program in a process of its own, and what it took.
type childRun struct {
	code           int
	stdout, stderr string
	cpu            time.Duration
	peak           int64 // bytes of memory; 0 where that is not told
}

// kept is the beginning and the end of what is written. The system counts the memory of
// whoever starts a program as the program's own, so not all can be kept.
type kept struct{ first, last []byte }

func (k *kept) Write(b []byte) (int, error) {
	const first, last = 16 << 20, 1 << 19
	n := min(len(b), first-len(k.first))
	k.first = append(k.first, b[:n]...)
	if k.last = append(k.last, b[n:]...); len(k.last) > 2*last {
		k.last = append(k.last[:0], k.last[len(k.last)-last:]...)
	}
	return len(b), nil
}

func (k *kept) String() string { return string(k.first) + string(k.last) }

func runChild(t *testing.T, dir, stdin string, args ...string) childRun {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, exe, args...)
	cmd.Args[0] = "railsum"
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "XDG_STATE_HOME="+dir+"/state", "XDG_DATA_HOME="+dir+"/data", "LC_ALL=C.UTF-8", "NO_COLOR=1")
	cmd.Stdin = strings.NewReader(stdin)
	var out, errs kept
	cmd.Stdout, cmd.Stderr = &out, &errs
	cmd.Run()
	r := childRun{code: cmd.ProcessState.ExitCode(), stdout: out.String(), stderr: errs.String(),
		cpu: cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok && runtime.GOOS == "linux" {
		r.peak = u.Maxrss << 10
	}
	return r
}

// rows is a text of n rows.
func rows(n int, row func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(row(i))
		b.WriteByte('\n')
	}
	return b.String()
}

// TestBoundsOfTheProgram: no text below 1 MB takes more than 300 MB or 5 s of a
// processor to be refused or answered but for its studies, and every study has an
// end. What goes beyond a bound is said.
func TestBoundsOfTheProgram(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	sheet := func(lines string) string { return "# S\nask n = 1  # n\n" + lines + "tell z = n  # z\n" }
	write("wide.sums", sheet(rows(40_000, func(i int) string { return fmt.Sprintf("v%d = n + %d", i, i) })))
	write("long.sums", sheet(rows(15_000, func(i int) string { return fmt.Sprintf("v%d = n + %d", i, i) })))
	for k := range 6 {
		write(fmt.Sprintf("s%d.sums", k), sheet(rows(12, func(i int) string { return fmt.Sprintf(`use "s%d.sums" for q%d with n = n`, k+1, i) })))
	}
	write("s6.sums", sheet(""))
	write("n.csv", "label,a\n"+rows(1000, func(i int) string { return fmt.Sprintf("r%d,%d", i, i) }))
	table50 := "table t | a\n" + rows(50_000, func(i int) string { return fmt.Sprintf("r%d|%d", i, i%7) }) + "end\n"
	chain := rows(9000, func(i int) string { return fmt.Sprintf("x%d = sin(x%d * 1 rad) + x%d", i+1, i, i) })
	for _, c := range []struct{ name, text, says string }{
		{"4,000 placements", rows(4000, func(i int) string { return fmt.Sprintf("use drop for p%d", i) }), "the placed sheets have more than 100000 values or 250000 terms together"},
		{"placements of each other", `use "s0.sums" for a` + "\n", "the placed sheets have more than"},
		{"a sheet of 40,000 lines", `use "wide.sums" for a` + "\n", "a text has at most 20000 lines"},
		{"nine of a long sheet", `use "long.sums" for a, b, c, d, e, f, g, h, i` + "\n", "the placed sheets have more than"},
		{"a million letters", rows(500_000, func(int) string { return "x" }), "a text has at most 20000 lines"},
		{"a million blank lines", strings.Repeat("\n", 1_000_000), "a text has at most 20000 lines"},
		{"errors only", rows(90_000, func(int) string { return "1 V + 3 m" }), "a text has at most 20000 lines"},
		{"lines that wait", rows(60_000, func(i int) string { return fmt.Sprintf("x%d = y%d", i, i) }), "a text has at most 20000 lines"},
		{"sums of 2,000 terms", rows(250, func(int) string { return strings.Repeat("1+", 2040) + "1" }), "the notebook has more than 250000 terms"},
		{"columns of columns", "table t | a\n" + strings.Repeat("x|1\n", 50_000) + "end\n" + rows(2000, func(i int) string { return fmt.Sprintf("t.b%d = t.a * %d", i, i) }), "the notebook has more than 5000000 numbers in columns"},
		{"a table", "table t | a\n" + strings.Repeat("x|1\n", 99_000) + "end\nsum(t.a)\n", ""},
		{"rules", rows(19_000, func(int) string { return "must 1 > 2" }), ""},
		{"likes", "use drop for p0\n" + rows(3000, func(i int) string { return fmt.Sprintf("use drop for p%d like p%d", i+1, i) }), "the placed sheets have more than"},
		{"a find", "x0 = 1\n" + chain + "find x0 so x9000 = 7\n", "this study takes more work than one may, and was left off"},
		{"a sweep", "x0 = 1\n" + chain + "vary x0 from 0 to 1 over 1000000 steps show x9000\n", ""},
		{"a spread", rows(5000, func(i int) string { return fmt.Sprintf("a%d = 1 +- 5 %%", i) }) + "s = a0" + strings.Join(strings.Fields(rows(600, func(i int) string { return fmt.Sprintf("+a%d", i+1) })), "") + "\nspread s\n", ""},
		{"look-ups", table50 + rows(9000, func(i int) string { return fmt.Sprintf("lookup(%d, t.a, t.a)", i%8) }), "several rows have this: r0, r7, r14, r21, r28, r35 and 7137 more"},
		{"a column looked up in itself", table50 + "t.b = total_for(t.label, t.label, t.a)\n", "the notebook has more than 300000000 steps to take"},
		{"sums over a table", table50 + rows(12_000, func(i int) string { return fmt.Sprintf("sum(t.a * %d)", i) }), "the notebook has more than 300000000 steps to take"},
		{"suppositions, checked", "x0 = 1\n" + chain + rows(9000, func(i int) string { return fmt.Sprintf("suppose x0 = %d show x9000", i) }), "the notebook has more than 1000 studies"},
		{"workings", "x0 = 1\n" + chain + rows(3000, func(int) string { return "working x9000 to 40 levels" }), "the notebook has more than 1000 studies"},
		{"names that are like others", rows(9900, func(i int) string { return fmt.Sprintf("name_%05d = 1", i) }) + rows(9900, func(i int) string { return fmt.Sprintf("b%d = nane_%05d + 1", i, i) }), "nane_00000 is not defined"},
		{"sheets from nowhere", rows(9000, func(i int) string { return fmt.Sprintf("use drop for p%d from house", i) }), "house is not defined"},
		{"remarks", rows(19_999, func(int) string { return "# " + strings.Repeat("x", 45) }), ""},
		{"a circle", rows(19_900, func(i int) string { return fmt.Sprintf("x%d = x%d + 1", i, (i+1)%19_900) }), "this goes round in a circle"},
		{"parts", rows(19_900, func(int) string { return "part wire with length = 3 m, area = 1.5 mm2" }), ""},
		{"agreements", rows(190, func(i int) string { return fmt.Sprintf("use drop for p%d with length = 3 m", i) }) + rows(19_000, func(i int) string { return fmt.Sprintf("agree p%d", i%190) }), ""},
		{"dates", "table t | on as date\n" + rows(50_000, func(i int) string { return fmt.Sprintf("r%d|2026-11-%02d", i, i%28+1) }) + "end\nmost(t.on)\n", "2026-11-28"},
		{"tables of files", rows(19_000, func(i int) string { return fmt.Sprintf(`table t%d from "n.csv"`, i) }), "the notebook has more than 100000 values"},
		{"units", rows(19_000, func(i int) string { return fmt.Sprintf("a%d = 1 m * 1 m * 1 m * 1 m / 1 s / 1 A", i) }), ""},
		{"cells of sums", "table t | a\n" + rows(900, func(i int) string { return fmt.Sprintf("r%d|%s1", i, strings.Repeat("1+", 500)) }) + "end\n", "the notebook has more than 250000 terms"},
		{"equal labels", "table t | a\n" + strings.Repeat("\"ééééé\" | 1\n", 50_000) + "end\nt.\"ééééé\".a\n", "50000 rows are called"},
	} {
		if slow := c.says == "" || strings.Contains(c.says, "stud") || strings.Contains(c.name, "like") || strings.Contains(c.says, "terms;") || c.name == "lines that wait"; slow && !longRun {
			continue
		}
		if len(c.text) > 1<<20 {
			t.Fatalf("%s: %d bytes", c.name, len(c.text))
		}
		write("n.sums", c.text)
		for _, call := range [][]string{{"read", "n.sums"}, {"read", "--json", "n.sums"}, {"tidy", "n.sums"}} {
			if call[0] == "tidy" && !longRun || len(call) == 3 && !longRun {
				continue
			}
			r := runChild(t, dir, "", call...)
			t.Logf("%s, %s: exit code %d, %.1f s of a processor, %d MB", c.name, strings.Join(call[:len(call)-1], " "), r.code, r.cpu.Seconds(), r.peak>>20)
			study := strings.Contains(c.says, "stud")
			if r.peak > 300<<20 || r.cpu > 5*time.Second && !study || r.code > codeDamaged || r.code < 0 {
				t.Errorf("%s, %s: exit code %d, %v, %d MB", c.name, call, r.code, r.cpu, r.peak>>20)
			}
			if said := strings.Join(strings.Fields(r.stdout+r.stderr), " "); call[0] == "read" && !strings.Contains(said, c.says) {
				t.Errorf("%s: %q is not said: %.300s", c.name, c.says, said)
			}
		}
	}
}

// TestBoundsOfTheDesk: the same of notebooks that are open, and changed.
func TestBoundsOfTheDesk(t *testing.T) {
	if !longRun {
		t.Skip("it takes its time: RAILSUM_LONG=1")
	}
	dir := t.TempDir()
	heavy(t, dir)
	for _, c := range []struct{ name, orders string }{
		{"table", "t.r7.a = 9\nadd t | r | 3\nstrike t.r77\nrename t.r8 to red\nundo\nundo\nlist t\nsince opened\n"},
		{"sums", "x0 = 3 m\nstrike 200 to 19000\nundo\nundo\nredo\nlist\nlist danger\nabout x7\nsheets wire\n? x7 * 2\n"},
		{"sheets", "use drop for more with length = 3 m\nlist\nlist parts\nlist unsettled\nlist danger\n"},
		{"chain", "x0 = 0.4\nworking x9000\nsince opened\n"},
	} {
		r := runChild(t, dir, c.orders, "desk", "--look", c.name+".sums")
		t.Logf("%s: exit code %d, %.1f s of a processor, %d MB", c.name, r.code, r.cpu.Seconds(), r.peak>>20)
		if r.peak > 300<<20 || r.cpu > time.Duration(5+strings.Count(c.orders, "\n"))*time.Second || r.code > codeWrong {
			t.Errorf("%s: exit code %d, %v, %d MB\n%.300s", c.name, r.code, r.cpu, r.peak>>20, r.stderr)
		}
	}
}

// acts is what no output may have: the controls, the turns of direction, and what
// is drawn as nothing.
var acts = regexp.MustCompile("[\x00-\x08\x0b-\x1f\x7f\u0080-\u009f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]")

// sneaks are texts that act on a terminal.
var sneaks = []string{
	"\x1b[2J", "\x1b]0;title\x07", "\x1b]52;c;aGk=\x07", "\x1b[6n", "\x1bP1$r\x1b\\", "\x1bc", "\u009b31m", "\u009d0;x\u009c",
	"\u202e", "\u2066", "\u200b", "\u2028", "\ufeff", "\x08\x08", "\x7f", "\r1 V", "\x1b]8;;http://x\x1b\\", "\x0e", "\x07",
}

// notebookWith puts a text into a random place of a notebook.
func notebookWith(r *rand.Rand, sneak string) string {
	whole := "railsum 1\n# remark\na = 15 V +- 5 %  # note\nuse drop for north  # bus\nnorth.length = 9 m\ntable fleet | count | draw as mA  # it\n  dock shunter | 2 | 280\nend\n" +
		"kind = \"text\"\nmust a > 2 V  # why\nfind north.length so north.share = 5 %\nvary north.length from 2 m to 8 m by 2 m show north.lost\nsuppose a = 3 V show a\nspread a\nworking north.lost to 2 levels\nmeasured a = 3 V\nuse \"own.sums\" for o\nhazard \"x\" if a > 1 V\nsource \"y\"\nprefer mm\n25 m as mm\nsum(fleet.count * fleet.draw)\n"
	at := r.IntN(len(whole) + 1)
	return whole[:at] + sneak + whole[at:]
}

// TestNothingActs runs every command over notebooks, sheets, lines, orders and
// names of files with texts that act on a terminal in every place.
func TestNothingActs(t *testing.T) {
	runs := 60
	if longRun {
		runs = 3000
	}
	r := rand.New(rand.NewPCG(1, 2))
	dir := t.TempDir()
	for n := range runs {
		sneak := sneaks[r.IntN(len(sneaks))]
		text := notebookWith(r, sneak)
		os.WriteFile(filepath.Join(dir, "n.sums"), []byte(text), 0o644)
		own := "railsum 1\n# Own\nask n = 2 from 1 to 9  # how many\ntell twice = 2 * n  # of them\n"
		at := r.IntN(len(own))
		os.WriteFile(filepath.Join(dir, "own.sums"), []byte(own[:at]+sneaks[r.IntN(len(sneaks))]+own[at:]), 0o644)
		var call []string
		stdin := ""
		switch n % 10 {
		case 0:
			call = []string{"read", "n.sums"}
		case 1:
			call = []string{"read", "--plain", "n.sums"}
		case 2:
			call = []string{"read", "--json", "n.sums"}
		case 3:
			call, stdin = []string{"read", "-"}, text
		case 4:
			call = append([]string{"answer"}, strings.Split(strings.ReplaceAll(text, "\x00", ""), "\n")...)
		case 5:
			call = []string{"about", "own" + sneak}
		case 6:
			call = []string{"read", "no" + strings.ReplaceAll(sneak, "\x00", "") + ".sums"}
		case 7:
			call = []string{"sheets", sneak}
		default:
			call = []string{"desk", "n.sums"}
			stdin = fmt.Sprintf("list\nlist danger\nchange %d\nchange %d a = %s\nfill own.sums for f\n3\n.\nabout own.sums\n%s\nopen x%s\nsave y%s\nundo\nlist 4\n",
				r.IntN(25), r.IntN(25), sneak, sneak, sneak, strings.ReplaceAll(sneak, "/", ""))
		}
		c := runChild(t, dir, stdin, append([]string{"--color", "never"}, call...)...)
		for what, text := range map[string]string{"stdout": c.stdout, "stderr": c.stderr} {
			if at := acts.FindStringIndex(text); at != nil {
				t.Errorf("run %d, %q with %q: %s has %q", n, call, sneak, what, text[max(0, at[0]-60):min(len(text), at[1]+20)])
			}
		}
		if c.code < 0 || c.code > codeDamaged {
			t.Errorf("run %d, %q: exit code %d\n%s", n, call, c.code, c.stderr)
		}
	}
	t.Logf("%d runs", runs)
}

// TestOddFiles gives the program 24 kinds of what is no usual notebook: it ends
// with a code of its own, in time, and leaves what it was given as it was.
func TestOddFiles(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	file := func(text string) func(string) error {
		return func(path string) error { return os.WriteFile(path, []byte(text), 0o644) }
	}
	sound, wrong, refused := []int{0, 0, 0, 0}, []int{1, 1, 1, 0}, []int{1, 1, 1, 1} // the desk takes what it can read
	unread, damaged := []int{3, 3, 3, 3}, []int{4, 4, 4, 4}
	kinds := []struct {
		name  string
		codes []int // of read, read --json, tidy and the desk
		make  func(path string) error
	}{
		{"empty", sound, file("")}, {"one newline", sound, file("\n")}, {"no last newline", sound, file("a = 1")}, {"carriage returns", sound, file("a = 1\r\nb = a\r\n")},
		{"carriage returns alone", wrong, file("a = 1\rb = 2\r")}, {"a byte order mark", sound, file("\ufeffa = 1\n")}, {"two of them", wrong, file("\ufeff\ufeffa = 1\n")},
		{"UTF-16", damaged, file("\xff\xfea\x00 \x00=\x00")}, {"Latin-1", damaged, file("a = 5 \xb5F\n")}, {"a nought", damaged, file("a = 1\n\x00b = 2\n")},
		{"noughts", damaged, file(strings.Repeat("\x00", 4096))}, {"a newer header", damaged, file("railsum 2 x\n")}, {"a header of a point", damaged, file("railsum 2.0\n")},
		{"a header of 40 digits", damaged, file("railsum " + strings.Repeat("9", 40) + "\n")}, {"a row of 1 MB", refused, file(strings.Repeat("x", 1<<20))},
		{"more than 1 MB", unread, file(strings.Repeat("# x\n", 1<<18+1))}, {"brackets", wrong, file(strings.Repeat("(", 1<<19))}, {"escapes", wrong, file("\x1b[2J\x1b]0;x\x07 = 1\n")},
		{"a folder", unread, func(path string) error { return os.Mkdir(path, 0o755) }},
		{"a pipe", unread, func(path string) error { return syscall.Mkfifo(path, 0o644) }},
		{"a link to nothing", unread, func(path string) error { return os.Symlink("nowhere", path) }},
		{"a link to itself", unread, func(path string) error { return os.Symlink(filepath.Base(path), path) }},
		{"a device", unread, func(path string) error { return os.Symlink("/dev/zero", path) }},
		{"a hole of a terabyte", unread, func(path string) error {
			if err := file("a = 1\n")(path); err != nil {
				return err
			}
			return os.Truncate(path, 1<<40)
		}},
	}
	for i, k := range kinds {
		path := at(fmt.Sprintf("odd%d.sums", i))
		if err := k.make(path); err != nil {
			t.Logf("%s cannot be made here: %v", k.name, err)
			continue
		}
		state := func() string {
			info, err := os.Lstat(path)
			if err != nil {
				return err.Error()
			}
			text := ""
			if info.Mode().IsRegular() && info.Size() < 1<<22 {
				b, _ := os.ReadFile(path)
				text = string(b)
			}
			return fmt.Sprint(info.Mode(), info.Size(), text)
		}
		before := state()
		codes := []int{}
		for _, call := range [][]string{{"read"}, {"read", "--json"}, {"tidy"}, {"desk"}} {
			c := runChild(t, dir, "list\n1 + 1\n", append(call, path)...)
			codes = append(codes, c.code)
			if c.code < 0 || c.code > codeDamaged || c.cpu > 2*time.Second || c.peak > 200<<20 {
				t.Errorf("%s, %q: exit code %d, %v, %d MB\n%.300s", k.name, call, c.code, c.cpu, c.peak>>20, c.stderr)
			}
		}
		if !slices.Equal(codes, k.codes) {
			t.Errorf("%s: exit codes %v, want %v", k.name, codes, k.codes)
		}
		if after := state(); after != before {
			t.Errorf("%s: it is another now: %.100q", k.name, after)
		}
		t.Logf("%s: exit codes %v", k.name, codes)
		os.RemoveAll(at("state")) // the lines that the desk was given
	}
}

// words of the language and of what is none, for notebooks at random.
var dice = strings.Split(`a,b,c,north,fleet,length,draw,=, = , + , - ,*,/,^,(,),1,2.5,15 V,9.5 m,3k3,100n,5 %,+- 5 %,25 m at H0, as mm, as V,
,
,
,must ,should , <= , > ,use drop for ,use stub for , with , so ,find ,vary , from , to , by , show ,suppose ,spread ,working ,measured ,table fleet | draw,  x | 1 A,end,ask ,tell ,hazard "x" if ,source "y",prefer ,assume ,
# ,"text",sum(,max(,if , then , else ,that,railsum 1,railsum 2,é,Ω,漢,"",[,],{,},|,.,..,1e308,1/0,0,-1,awg(18),marked("4K7J"),`, ",")

func randomNotebook(r *rand.Rand) string {
	var b strings.Builder
	for range r.IntN(400) {
		if r.IntN(6) == 0 {
			b.WriteByte('\n')
		}
		b.WriteString(dice[r.IntN(len(dice))])
	}
	return b.String()
}

// TestRandomNotebooks reads notebooks made at random: exit codes 0 to 4 only, under
// 200 MB, under 2 s.
func TestRandomNotebooks(t *testing.T) {
	n := 60
	if longRun {
		n = 20_000
	}
	r := rand.New(rand.NewPCG(3, 4))
	dir := t.TempDir()
	codes := map[int]int{}
	var worst childRun
	for i := range n {
		text := randomNotebook(r)
		c := runChild(t, dir, text, "read", "-")
		codes[c.code]++
		worst.cpu, worst.peak = max(worst.cpu, c.cpu), max(worst.peak, c.peak)
		if c.code < 0 || c.code > codeDamaged || c.cpu > 2*time.Second || c.peak > 200<<20 || strings.Contains(c.stderr, "something unexpected") {
			t.Errorf("notebook %d: exit code %d, %v, %d MB\n%s\n%.300s", i, c.code, c.cpu, c.peak>>20, text, c.stderr)
		}
	}
	t.Logf("%d notebooks: exit codes %v; at most %.2f s of a processor, %d MB", n, codes, worst.cpu.Seconds(), worst.peak>>20)
}
