package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"railsum": main})
}

var updateScripts = os.Getenv("UPDATE_SCRIPTS") != ""

// TestScripts runs whole-program tests; UPDATE_SCRIPTS=1 writes what is
// compared with cmp.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/scripts",
		UpdateScripts:       updateScripts,
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			// Nothing of whoever runs the tests may show in what is compared.
			for _, name := range []string{
				"NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLUMNS", "LC_ALL", "LC_CTYPE", "RAILSUM_SPOKEN",
			} {
				env.Setenv(name, "")
			}
			env.Setenv("LANG", "C.UTF-8")
			env.Setenv("TERM", "xterm")
			for _, name := range []string{"HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME"} {
				env.Setenv(name, env.WorkDir+"/home/"+strings.ToLower(name))
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits runs a program and looks at its exit code: exits 3 railsum read none.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGUMENT...")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	var ended *exec.ExitError
	if errors.As(err, &ended) {
		code = ended.ExitCode()
	} else {
		ts.Check(err)
	}
	if want, _ := strconv.Atoi(args[0]); code != want {
		ts.Fatalf("exit code %d, want %d", code, want)
	}
}

// call runs the program within the test.
func call(ctx context.Context, stdin io.Reader, stdout io.Writer, args ...string) (code int, stderr string) {
	var errs bytes.Buffer
	code = run(ctx, world{
		args: args, stdin: stdin, stdout: stdout, stderr: &errs,
		getenv: func(string) string { return "" }, dir: ".",
	})
	return code, errs.String()
}

func TestShelter(t *testing.T) {
	for _, c := range []struct{ in, want []string }{
		{[]string{"answer", "-5 degC as degF"}, []string{"answer", "--", "-5 degC as degF"}},
		{[]string{"answer", "1 V", "--no-color", "-2"}, []string{"answer", "--no-color", "--", "1 V", "-2"}},
		{[]string{"--color", "never", "answer", "-x"}, []string{"--color", "never", "answer", "--", "-x"}},
		{[]string{"answer", "--color", "never", "-x"}, []string{"answer", "--color", "never", "--", "-x"}},
		{[]string{"answer", "--", "--help"}, []string{"answer", "--", "--help"}},
		{[]string{"answer", "--5"}, []string{"answer", "--", "--5"}},
		{[]string{"answer", "-h"}, []string{"answer", "-h", "--"}},
		{[]string{"answer", "--jsn", "x"}, []string{"answer", "--jsn", "--", "x"}},
		{[]string{"read", "-5"}, []string{"read", "-5"}},
		{[]string{"about", "answer", "-5"}, []string{"about", "answer", "-5"}},
		{[]string{"--", "answer", "-5"}, []string{"--", "answer", "-5"}},
		{nil, nil},
	} {
		if got := shelter(c.in); !slices.Equal(got, c.want) {
			t.Errorf("%q: got %q, want %q", c.in, got, c.want)
		}
	}
}

// stuck is a reader that never answers, as a terminal nobody types at.
type stuck struct{ asked chan struct{} }

func (s *stuck) Read([]byte) (int, error) {
	close(s.asked)
	select {}
}

func TestInterrupt(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	in := &stuck{make(chan struct{})}
	go func() { <-in.asked; cancel() }()
	if code, _ := call(ctx, in, io.Discard, "read", "-"); code != codeInterrupted {
		t.Errorf("exit code %d, want %d", code, codeInterrupted)
	}
}

// broken is a writer that fails.
type broken struct{ err error }

func (b broken) Write([]byte) (int, error) { return 0, b.err }

func TestOutputFails(t *testing.T) {
	code, stderr := call(context.Background(), nil, broken{&os.PathError{Op: "write", Err: syscall.EPIPE}}, "version")
	if code != codePipe || stderr != "" {
		t.Errorf("a reader that has left: exit code %d, standard error %q", code, stderr)
	}
	code, stderr = call(context.Background(), nil, broken{&os.PathError{Op: "write", Path: "out", Err: syscall.ENOSPC}}, "version")
	if code != codeFile || !strings.Contains(stderr, "the output cannot be written: the disk is full") {
		t.Errorf("a full disk: exit code %d, standard error %q", code, stderr)
	}
}

// Of a file that is no notebook a thousand errors are told, and how many more.
func TestErrorsAreBounded(t *testing.T) {
	var errs strings.Builder
	code := run(context.Background(), world{
		args: []string{"read", "-"}, stdin: strings.NewReader(strings.Repeat("x = = 3\n", 1_200)),
		stdout: io.Discard, stderr: &errs, dir: ".", getenv: func(string) string { return "" },
	})
	told := strings.Count(errs.String(), "a value is missing")
	if code != codeWrong || told != 1000 || !strings.HasSuffix(errs.String(), "And 200 lines more in error; mend these first.\n") {
		t.Errorf("exit code %d, %d told, %q", code, told, errs.String()[max(0, errs.Len()-100):])
	}
}

// TestStandardInput: what comes through a pipe is held to what a file is.
func TestStandardInput(t *testing.T) {
	for _, c := range []struct {
		name, text string
		code       int
		says       string
	}{
		{"nothing", "", codeWell, ""},
		{"a byte order mark", "\ufeff1 m\n", codeWell, ""},
		{"carriage returns", "x = 1 m\r\nx\r\n", codeWell, ""},
		{"a zero byte", "1 m\x00\n", codeDamaged, "line 1 holds a zero byte"},
		{"no UTF-8", "1 m # \xff\n", codeDamaged, "not UTF-8 text"},
		{"a newer notebook", "railsum 9\nx\n", codeDamaged, "written for railsum 9"},
		{"a newer notebook, and more", "railsum 2.0 x\n", codeDamaged, "written for railsum 2.0"},
		{"too much", strings.Repeat("# filler\n", 1<<17), codeFile, "larger than a notebook may be"},
		{"a mistake", "1 m + 1 V\n", codeWrong, "cannot be added"},
	} {
		for _, command := range []string{"read", "tidy"} {
			want := c.code
			if command == "tidy" && want == codeWrong {
				want = codeWell // tidy computes nothing
			}
			code, stderr := call(context.Background(), strings.NewReader(c.text), io.Discard, command, "-")
			if code != want || want != codeWell && !strings.Contains(stderr, c.says) {
				t.Errorf("%s, %s: exit code %d, want %d; standard error %q", command, c.name, code, want, stderr)
			}
		}
	}
}
