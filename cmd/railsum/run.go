package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"runtime/debug"
	"sync"
	"syscall"
	"time"

	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
	"railsum/sessions"
	"railsum/sessions/reason"
	"railsum/units/words"
)

// What the program ends with.
const (
	codeWell        = 0
	codeWrong       = 1 // with what was computed
	codeUse         = 2
	codeFile        = 3
	codeDamaged     = 4
	codeInterrupted = 130
	codePipe        = 141 // whoever read our output has left
)

// app is one run of the program: its world, and what its flags say.
type app struct {
	world
	out   *output // standard output, buffered
	err   *show.Printer
	flags globals
	worst int // the exit code so far
}

// globals are the flags that every command takes.
type globals struct {
	color   string
	noColor bool
	spoken  bool
	noInput bool
	noPager bool
}

// run is the program. It returns what to exit with.
func run(ctx context.Context, w world) int {
	a := &app{world: w, out: newOutput(w.stdout)}
	a.stderr = &flushing{w: w.stderr, first: a.out}
	done := make(chan int, 1)
	ready := make(chan struct{})
	go func() { done <- a.guarded(ctx, ready) }()
	select {
	case code := <-done:
		return code
	case <-ready: // the desk has the terminal now
		return <-done
	case <-ctx.Done():
		return a.interrupted(done)
	}
}

// grace is how long an interrupted command may take to leave the terminal tidy.
const grace = 100 * time.Millisecond

// interrupted ends a batch command. A file is only ever replaced as a whole, so
// there is nothing to wait for; but a study that stops clears its progress away,
// and what has ended in the same moment keeps its own code.
func (a *app) interrupted(done <-chan int) int {
	select {
	case code := <-done:
		return code
	case <-time.After(grace):
		return codeInterrupted
	}
}

// guarded runs the commands; what nobody expected becomes one row, not a
// stack of calls.
func (a *app) guarded(ctx context.Context, ready chan<- struct{}) (code int) {
	defer func() {
		if what := recover(); what != nil {
			fmt.Fprintf(a.stderr, "railsum: %s\n", show.Safe(fmt.Sprintf("something unexpected happened: %v", what)))
			if a.getenv("RAILSUM_DEBUG") != "" {
				a.stderr.Write(debug.Stack())
			} else {
				fmt.Fprintln(a.stderr, "This is a fault of railsum. RAILSUM_DEBUG=1 shows where; please report it with the line that caused it.")
			}
			code = codeWrong
		}
	}()
	root := a.root(ready)
	root.SetArgs(shelter(a.args))
	root.SetIn(a.stdin)
	root.SetOut(a.out)
	root.SetErr(a.stderr)
	err := root.ExecuteContext(ctx)
	a.release(ready)
	if err == nil {
		err = a.out.Flush()
	} else {
		a.out.Flush()
	}
	return max(a.worst, a.report(err))
}

// report writes an error that ends the program and gives its exit code.
func (a *app) report(err error) int {
	if err == nil {
		return codeWell
	}
	if errors.Is(err, context.Canceled) {
		return codeInterrupted
	}
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return codePipe
	}
	f := asFailure(codeFile, err)
	p := a.errors()
	p.Say("railsum: %s", f.Message)
	if f.Cure != "" {
		p.Say("%s", show.Sentence(f.Cure))
	}
	return f.code
}

// failure is an error with the exit code it leads to.
type failure struct {
	code int
	words.Wrong
}

// With gives it a cure.
func (f *failure) With(cure string) *failure {
	f.Cure = cure
	return f
}

// asFailure gives an error its exit code, message and cure; code is for one
// that has none of its own.
func asFailure(code int, err error) *failure {
	var f *failure
	var s *sessions.Error
	var d syntax.Diag
	var p *fs.PathError
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &s):
		f = &failure{codeFile, s.Wrong}
		if errors.Is(s, sessions.ErrNewer) || errors.Is(s, sessions.ErrDamaged) {
			f.code = codeDamaged
		}
		return f
	case errors.As(err, &d):
		return &failure{code, d.Wrong}
	case errors.As(err, &p) && p.Op == "write":
		return &failure{code, words.Say("the output cannot be written: %s", reason.Of(err))}
	}
	return &failure{code, words.Wrong{Message: err.Error()}}
}

// misuse is an error in how the program was called.
func misuse(format string, args ...any) *failure {
	return &failure{codeUse, words.Say(format, args...)}
}

// note remembers the worst exit code.
func (a *app) note(code int) { a.worst = max(a.worst, code) }

// choice is what the flags say of colour.
func (a *app) choice() string {
	if a.flags.noColor {
		return show.Never
	}
	return a.flags.color
}

// asks reports whether somebody sits at a terminal who may be asked something.
func (a *app) asks() bool {
	return !a.flags.noInput && show.IsTerminal(a.stdin) && show.IsTerminal(a.world.stdout)
}

// answers is the printer for standard output.
func (a *app) answers() *show.Printer {
	return show.New(a.out, show.Detect(a.world.stdout, a.getenv, a.choice()))
}

// errors is the printer for standard error.
func (a *app) errors() *show.Printer {
	if a.err == nil {
		a.err = show.New(a.stderr, show.Detect(a.stderr, a.getenv, a.choice()))
	}
	return a.err
}

// path is a file's name as it is opened.
func (a *app) path(name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(a.dir, name)
}

// output buffers standard output and keeps its first error, so that a command
// need not look after every row.
type output struct {
	mu   sync.Mutex
	b    *bufio.Writer
	held *bytes.Buffer // what waits to be shown at once, nil if nothing has to
}

func newOutput(w io.Writer) *output { return &output{b: bufio.NewWriterSize(w, 1<<16)} }

func (o *output) Write(p []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.held != nil && o.held.Len()+len(p) <= mostHeld {
		return o.held.Write(p)
	}
	if err := o.let(); err != nil {
		return 0, err
	}
	return o.b.Write(p)
}

// let writes what is held as it is.
func (o *output) let() error {
	if o.held == nil {
		return nil
	}
	_, err := o.held.WriteTo(o.b)
	o.held = nil
	return err
}

func (o *output) Flush() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	if err := o.let(); err != nil {
		return err
	}
	return o.b.Flush()
}

// flushing is standard error: what was written to standard output before comes
// out before it.
type flushing struct {
	w     io.Writer
	first *output
}

func (f *flushing) Write(p []byte) (int, error) {
	if f.first.holds() && show.IsTerminal(f.w) {
		return f.first.Write(p) // to the same terminal, in its turn
	}
	f.first.Flush()
	return f.w.Write(p)
}

// Fd lets show find out whether standard error is a terminal.
func (f *flushing) Fd() uintptr {
	if file, ok := f.w.(interface{ Fd() uintptr }); ok {
		return file.Fd()
	}
	return ^uintptr(0)
}
