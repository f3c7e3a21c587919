package desk

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/adrg/xdg"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/show"
	"railsum/sessions"
	"railsum/sessions/reason"
	"railsum/units/words"
)

// Exit codes, as for the whole program.
const (
	codeWell    = 0
	codeWrong   = 1 // a line or an order was refused, without a terminal
	codeFile    = 3
	codeDamaged = 4
	codePipe    = 141 // whoever read our output has left
)

// Config is what a desk takes from outside.
type Config struct {
	File    string // the notebook to open; empty for a new one
	Copy    []byte // the text of a notebook to open that has no file of its own, in the place of File
	Look    bool   // nothing is saved: the notebook is open at another desk, or may be
	NoInput bool   // whoever sits there, nothing is asked and no prompt shown
	Dir     string // where relative names start; empty for the current folder
	Color   string // auto, always or never
	Stdin   io.Reader
	Stdout  io.Writer
	Stderr  io.Writer
	Getenv  func(string) string
	Library func(dir string) calc.Library // as seen from a notebook in dir

	// Handout writes the page of a notebook as it stands to a file, or of what is called only alone.
	Handout func(ctx context.Context, book *calc.Book, name, only, to string) error

	// Ready, if set, is called when the desk has taken interrupts over.
	Ready func()
}

// desk is a notebook at a prompt.
type desk struct {
	Config
	ed      lineedit.Editor
	out     *show.Printer
	err     *show.Printer
	s       *sessions.Session
	index   *hear.Index // of all that can be named, made when it is first asked
	signals *signals
	notes   map[string]string // what is listed beside words that complete a line
	choices []string          // what may be answered, while a question is asked
	back    []string          // lines not accepted, to be offered again
	waits   map[string]bool   // lines that wait for a name, by their text
	found   map[string]string // what the short studies have said, by their text
	slow    map[string]bool   // studies that are asked again only when asked for, likewise
	resume  []string          // rows of a table that a desk which died was being given
	taking  string            // the line that "yes" takes over, after a find
	cut     bool              // a study was stopped
	unkept  bool              // what is being heard is asked and not kept
	again   bool              // what is shown is no line just typed
	code    int
}

// errQuit ends the desk.
var errQuit = errors.New("quit")

// Run opens a desk and returns the exit code when it is left. The desk takes
// interrupts itself; those that cancel ctx do not end it.
func Run(_ context.Context, cfg Config) int {
	d := &desk{Config: cfg}
	d.out = show.New(cfg.Stdout, show.Detect(cfg.Stdout, cfg.Getenv, cfg.Color))
	d.err = show.New(cfg.Stderr, show.Detect(cfg.Stderr, cfg.Getenv, cfg.Color))
	d.ed = d.editor()
	d.signals = watch(d.ed)
	defer d.signals.stop()
	defer d.ed.Close()
	if cfg.Ready != nil {
		cfg.Ready()
	}
	if code := d.begin(cfg.File); code != codeWell {
		return code
	}
	defer func() { d.s.Close() }() // by now a second time, unless something has gone wrong
	for d.step() {
	}
	if err := d.out.Err(); err != nil && d.signals.code() == 0 {
		d.unheard(err)
	}
	if code := d.signals.code(); code != 0 {
		return code
	}
	return d.code
}

// unheard ends a desk whose output cannot be written: by whom it is read, if he
// has left, is no fault.
func (d *desk) unheard(err error) {
	d.refuse(d.part())
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		d.code = max(d.code, codePipe)
		return
	}
	d.note("The output cannot be written: %s.", reason.Of(err))
	d.code = max(d.code, codeFile)
}

// editor reads from the terminal if both ends are one.
func (d *desk) editor() lineedit.Editor {
	in, isFile := d.Stdin.(*os.File)
	out, toFile := d.Stdout.(*os.File)
	if d.NoInput || !isFile || !toFile || !show.IsTerminal(in) || !show.IsTerminal(out) {
		return lineedit.NewPipe(d.Stdin)
	}
	if d.Getenv("TERM") == "dumb" || d.Getenv("RAILSUM_SPOKEN") != "" {
		return lineedit.NewPlain(in, out)
	}
	history, err := lineedit.OpenHistory(historyFile(d.Getenv))
	if err != nil {
		d.note("%s", err)
	}
	ed, err := lineedit.NewTerminal(lineedit.Options{Stdin: in, Stdout: out, History: history, Complete: d.complete,
		Note: func(word string) string { return d.notes[word] }})
	if err != nil {
		d.note("the terminal cannot be used for editing: %s", err)
		return lineedit.NewPlain(in, out)
	}
	return ed
}

// historyFile is where the lines typed are kept; empty if there is no place.
func historyFile(getenv func(string) string) string {
	home := getenv("XDG_STATE_HOME")
	if !filepath.IsAbs(home) {
		home = xdg.StateHome
	}
	if !filepath.IsAbs(home) {
		return ""
	}
	return filepath.Join(home, "railsum", "history")
}

// step takes one line or order; it reports whether there is more to come.
func (d *desk) step() bool {
	if rows := d.resume; rows != nil {
		d.resume = nil
		d.refuse(d.goOn(rows))
	}
	text, err := d.prompt(d.number(d.s.NextRow()), d.offer())
	switch {
	case errors.Is(err, lineedit.ErrInterrupted):
		d.back = nil
		return true
	case errors.Is(err, lineedit.ErrTooLong):
		d.refuse(tooLong())
		return true
	case err != nil:
		if !errors.Is(err, lineedit.EOF) {
			d.note("The input cannot be read: %s.", reason.Of(err))
			d.code = max(d.code, codeFile)
		}
		err = d.part()
		d.refuse(err)
		return err != nil && d.ed.Interactive() && d.signals.code() == 0
	}
	d.signals.work()
	err = d.take(text)
	d.signals.rest()
	if errors.Is(err, errQuit) {
		return false
	}
	d.refuse(err)
	return d.out.Err() == nil
}

// prompt asks for a row of text.
func (d *desk) prompt(prompt, offer string) (string, error) {
	d.signals.rest()
	if d.signals.code() != 0 { // before there is another line: a pipe may have one ready for ever
		return "", lineedit.EOF
	}
	text, err := d.ed.Prompt(prompt, offer)
	if d.signals.code() != 0 {
		return "", lineedit.EOF
	}
	d.signals.work()
	return text, err
}

// take does what a typed text says: an order or a line.
func (d *desk) take(text string) error {
	d.look()
	if line := d.taking; line != "" {
		d.taking = ""
		if strings.TrimSpace(text) == "yes" {
			return d.takeOver(line)
		}
	}
	if asked, is := strings.CutPrefix(strings.TrimSpace(text), "?"); is && strings.TrimSpace(asked) != "" {
		return d.ask(strings.TrimSpace(asked))
	}
	if o, args := d.orderIn(text); o != nil {
		d.ed.Remember(text)
		return o.run(d, args)
	}
	if near := d.mistyped(text); near != "" {
		d.ed.Remember(text)
		d.ed.Suggest(near + strings.TrimPrefix(strings.TrimSpace(text), firstWord(text)))
		return refusal("%s is no order and no name known here", firstWord(text)).With("did you mean " + near + "?")
	}
	return d.enter(text)
}

// refuse says why something was not done.
func (d *desk) refuse(err error) {
	if err == nil {
		return
	}
	if !d.ed.Interactive() {
		d.code = max(d.code, codeOf(err))
	}
	d.say(err)
}

// codeOf is the exit code for something that was refused.
func codeOf(err error) int {
	var e *sessions.Error
	switch {
	case !errors.As(err, &e):
		return codeWrong
	case errors.Is(err, sessions.ErrNewer), errors.Is(err, sessions.ErrDamaged):
		return codeDamaged
	}
	return codeFile
}

// say shows an error with its place and its cure, as far as it has them.
func (d *desk) say(err error) {
	var r *sessions.Refusal
	var e *sessions.Error
	var diag syntax.Diag
	switch {
	case errors.As(err, &r):
		for _, diag := range r.Diags {
			d.err.Complaint(r.Line, diag)
		}
	case errors.As(err, &e):
		d.err.Complaint(nil, syntax.Diag{Wrong: e.Wrong})
	case errors.As(err, &diag):
		d.err.Complaint(nil, diag)
	case errors.Is(err, sessions.ErrStopped):
		d.note("Stopped. The notebook is as it was.")
	default:
		d.note("%s", err)
	}
}

// note says something that is no answer.
func (d *desk) note(format string, args ...any) { d.err.Say(format, args...) }

// offer is the next line to be given back, none while more text comes in by
// itself, or where no line can be edited.
func (d *desk) offer() string {
	if !d.ed.Edits() {
		d.back = nil
	}
	for len(d.back) > 0 && !d.ed.More() {
		next := d.back[0]
		d.back = d.back[1:]
		if next = untabbed(next); show.Safe(next) == next {
			return next
		}
		d.note("Not offered again, for it holds what cannot be shown: %s", next)
	}
	return ""
}

// untabbed is a row as it is offered: tabs move the cursor, and every blank is as
// good.
func untabbed(row string) string { return strings.ReplaceAll(row, "\t", "    ") }

func tooLong() error {
	return refusal("a line has at most %d characters; this one was not taken", lineedit.MaxLine).
		With("name parts of it on lines of their own, or write it into a file")
}

// question asks for one of several words. Yes is as good as the first of them,
// and no as the one that changes nothing: no itself, or later. Without a terminal
// nobody is asked, and the answer is empty; so it is, with the reason, after Ctrl-C
// and at the end of input.
func (d *desk) question(ask string, choices ...string) (string, error) {
	if !d.ed.Interactive() {
		return "", nil
	}
	d.choices = choices
	defer func() { d.choices = nil }()
	for range 10 {
		answer, err := d.prompt(ask, "")
		if err != nil {
			return "", err
		}
		answer = strings.ToLower(strings.TrimSpace(answer))
		for _, w := range choices {
			if answer == w || answer != "" && answer == w[:1] {
				return w, nil
			}
		}
		switch {
		case answer == "yes" || answer == "y":
			return choices[0], nil
		case (answer == "no" || answer == "n") && slices.Contains(choices, "later"):
			return "later", nil
		}
		d.note("Please answer with %s.", words.Or(choices))
	}
	return "", nil
}
