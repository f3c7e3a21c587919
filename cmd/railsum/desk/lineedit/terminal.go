package lineedit

import (
	"errors"
	"io"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/chzyer/readline"
	"golang.org/x/term"

	"railsum/cmd/railsum/show"
)

// Options are what an Editor at a terminal needs. History and Complete may be
// nil; a MaxLine of 0 means the usual.
type Options struct {
	Stdin    *os.File
	Stdout   *os.File
	History  *History
	Complete Completer
	Note     func(word string) string // what is listed beside a completion; may be nil
	MaxLine  int
}

// terminal is an Editor at a terminal.
type terminal struct {
	Options
	rl     *readline.Instance
	stdin  *readline.CancelableStdin
	keys   *keys
	closed atomic.Bool

	suggested bool // the history holds lines that were only suggested

	prompting atomic.Bool
	prompted  atomic.Bool // once at least
	screen    gate
	once      sync.Once
	raw       rawMode
	stop      func() // of the watch for a changed width
	endPause  func() // of that for being asked to stop

	// Set by the key filter, used by the listener, both in readline's own
	// goroutine: readline has no way to bind a key but these two hooks.
	key    rune
	search search
	prompt string

	next atomic.Pointer[string] // the prompt of a line that readline's goroutine has not met yet
}

// NewTerminal makes an Editor at a terminal. Both files must be one.
func NewTerminal(o Options) (Editor, error) {
	t := &terminal{Options: o}
	// readline closes what it was given, but a read that waits ends only if this
	// one is closed.
	t.stdin = readline.NewCancelableStdin(o.Stdin)
	if t.MaxLine == 0 {
		t.MaxLine = MaxLine
	}
	t.keys = newKeys(t.stdin, t.MaxLine)
	t.screen.w = o.Stdout
	t.raw.fd = int(o.Stdin.Fd())
	cfg := &readline.Config{
		Stdin:                  t.keys,
		Stdout:                 &t.screen,
		Stderr:                 &t.screen,
		HistoryLimit:           maxRecalled,
		DisableAutoSaveHistory: true,
		InterruptPrompt:        "^C",
		EOFPrompt:              "\n", // nothing
		FuncFilterInputRune:    t.filter,
		FuncMakeRaw:            t.raw.enter,
		FuncExitRaw:            t.raw.leave,
		FuncIsTerminal:         func() bool { return true },
		FuncGetWidth:           func() int { return width(o.Stdout) },
		FuncOnWidthChanged:     func(f func()) { t.stop = onResize(f) },
	}
	cfg.SetListener(t.listen)
	rl, err := readline.NewEx(cfg)
	if err != nil {
		return nil, err
	}
	t.rl = rl
	t.endPause = onStop(t.pause)
	if o.History != nil {
		for _, line := range o.History.Lines() {
			rl.SaveHistory(line)
			t.search.lines = append(t.search.lines, line)
		}
	}
	return t, nil
}

// Bracketed paste: the terminal marks where pasted text begins and ends.
const (
	pasteOn  = "\x1b[?2004h"
	pasteOff = "\x1b[?2004l"
)

func (t *terminal) Prompt(prompt, offer string) (string, error) {
	if t.closed.Load() {
		return "", EOF
	}
	prompt, offer = harmless(prompt), harmless(offer) // readline writes both as they are
	t.next.Store(&prompt)
	t.rl.SetPrompt(prompt)
	t.keys.beginLine()
	io.WriteString(t.Stdout, pasteOn)
	t.prompting.Store(true)
	t.prompted.Store(true)
	var line string
	var err error
	if offer != "" && !t.keys.pending() && !t.typedAhead() {
		line, err = t.rl.ReadlineWithDefault(offer)
	} else {
		line, err = t.rl.Readline()
	}
	t.prompting.Store(false)
	io.WriteString(t.Stdout, pasteOff)
	t.forget()
	switch {
	case t.closed.Load():
		// what was half typed counts as an entered line to readline
		return "", EOF
	case errors.Is(err, readline.ErrInterrupt):
		return line, ErrInterrupted
	case err != nil:
		return "", EOF
	case t.keys.long.Load():
		return line, ErrTooLong
	}
	return line, nil
}

// typedAhead reports whether keys wait that were pressed before the prompt;
// they are a line of their own and must not run into an offered one. Only in
// raw mode does the system tell.
func (t *terminal) typedAhead() bool {
	if t.rl.Config.FuncMakeRaw() != nil {
		return false
	}
	return inputWaits(int(t.Stdin.Fd()))
}

func (t *terminal) More() bool        { return t.keys.pending() }
func (t *terminal) Interactive() bool { return true }
func (t *terminal) Edits() bool       { return true }

func (t *terminal) Remember(line string) {
	if line = clean(line); strings.TrimSpace(line) == "" {
		return
	}
	t.rl.SaveHistory(line)
	t.search.add(line)
	if t.History != nil {
		t.History.Add(line)
	}
}

func (t *terminal) Key() (string, error) {
	if t.closed.Load() {
		return "", EOF
	}
	if err := t.raw.enter(); err != nil {
		return "", err
	}
	defer t.raw.leave()
	return t.keys.key()
}

func (t *terminal) Suggest(lines ...string) {
	for _, line := range slices.Backward(lines) {
		if line = clean(line); strings.TrimSpace(line) != "" {
			t.rl.SaveHistory(line)
			t.suggested = true
		}
	}
}

// forget takes out of the history what was only suggested.
func (t *terminal) forget() {
	if !t.suggested {
		return
	}
	t.suggested = false
	t.rl.ResetHistory()
	for _, line := range t.search.recent() {
		t.rl.SaveHistory(line)
	}
}

func (t *terminal) Close() error {
	var err error
	t.once.Do(func() {
		waiting := t.prompting.Load()
		t.closed.Store(true)
		t.screen.shut()
		if t.stop != nil {
			t.stop()
		}
		t.endPause()
		io.WriteString(t.Stdout, pasteOff)
		if waiting {
			io.WriteString(t.Stdout, "\n") // leave the line that was being typed
		}
		t.stdin.Close()
		// Closed at once after its making, readline trips over itself, and there is
		// nothing for it to give back.
		if t.prompted.Load() {
			err = t.rl.Close()
		}
	})
	return err
}

// filter sees every key before readline does. A key of our own becomes a bell
// character, which readline ignores, and is done in listen.
func (t *terminal) filter(r rune) (rune, bool) {
	t.begin()
	t.key = 0
	if t.search.on {
		switch {
		case r == keySearch, r == readline.CharBackspace, r == readline.CharCtrlH, r == readline.CharBell,
			r >= ' ' && !show.Acts(r):
			t.key = r
			return readline.CharBell, true
		}
		t.endSearch()
	}
	switch {
	case r == keyDelete || r == keyTab || r == keySearch:
		t.key = r
		return readline.CharBell, true
	case r == readline.CharCtrlZ:
		stopJob() // of which pause hears
		return readline.CharBell, true
	case r < 0 && r < readline.MetaBackspace, r >= 0x80 && show.Acts(r):
		return readline.CharBell, true
	}
	return r, true
}

// begin takes over the prompt of a new line, on which nothing is being searched for.
func (t *terminal) begin() {
	if prompt := t.next.Swap(nil); prompt != nil {
		t.prompt, t.search.on = *prompt, false
	}
}

func (t *terminal) listen(line []rune, pos int, _ rune) ([]rune, int, bool) {
	t.begin()
	key := t.key
	t.key = 0
	switch key {
	case keyDelete:
		if pos < len(line) {
			return append(line[:pos:pos], line[pos+1:]...), pos, true
		}
	case keyTab:
		return t.complete(line, pos)
	}
	return t.look(key, line)
}

// look does what a key means to the search.
func (t *terminal) look(key rune, line []rune) ([]rune, int, bool) {
	switch {
	case key == keySearch && !t.search.on:
		t.search.begin(line)
	case !t.search.on || key == 0:
		return nil, 0, false
	case key == keySearch:
		t.search.again()
	case key == readline.CharBackspace || key == readline.CharCtrlH:
		t.search.less()
	case key == readline.CharBell: // Ctrl-G gives up
		t.endSearch()
		return t.search.original, len(t.search.original), true
	default:
		t.search.more(key)
	}
	if !t.search.on {
		return nil, 0, false
	}
	prompt, found, pos := t.search.shown()
	t.reprompt(prompt)
	return found, pos, true
}

// endSearch leaves what has been found to be edited or taken.
func (t *terminal) endSearch() {
	t.search.on = false
	t.reprompt(t.prompt)
	t.rl.Refresh()
}

// reprompt changes the prompt while the line is being edited.
func (t *terminal) reprompt(prompt string) {
	t.rl.Clean()
	t.rl.SetPrompt(prompt)
}

// gate is what readline writes to. It is shut when the editor is closed, since
// readline goes on drawing the line for a while.
type gate struct {
	mu   sync.Mutex
	w    io.Writer
	done bool
}

func (g *gate) Write(p []byte) (int, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.done {
		return len(p), nil
	}
	return g.w.Write(p)
}

func (g *gate) shut() {
	g.mu.Lock()
	g.done = true
	g.mu.Unlock()
}

// width is the terminal's, and never less than one column: readline does not
// come back from a width of nothing.
func width(f *os.File) int {
	w, _, err := term.GetSize(int(f.Fd()))
	if err != nil || w <= 0 {
		return 80
	}
	return w
}

// rawMode is the terminal's mode while a line is being edited.
type rawMode struct {
	fd     int
	mu     sync.Mutex
	wanted bool
	state  *readline.State // the mode to return to; nil while it is not raw
}

func (m *rawMode) enter() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.wanted = true
	return m.set()
}

func (m *rawMode) leave() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.wanted = false
	return m.unset()
}

func (m *rawMode) set() error {
	if m.state != nil {
		return nil
	}
	state, err := readline.MakeRaw(m.fd)
	if err == nil {
		m.state = state
	}
	return err
}

func (m *rawMode) unset() error {
	if m.state == nil {
		return nil
	}
	err := readline.Restore(m.fd, m.state)
	m.state = nil
	return err
}

// without does something while the terminal is not raw, and makes it so again if
// it is still wanted then.
func (m *rawMode) without(do func()) {
	m.mu.Lock()
	m.unset()
	m.mu.Unlock()
	do()
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.wanted {
		m.set()
	}
}

// pause stops the program, whoever asked for it, with the terminal in order.
func (t *terminal) pause() {
	waits := t.prompting.Load()
	if waits {
		t.rl.Clean()
		io.WriteString(t.Stdout, pasteOff)
	}
	t.raw.without(stopUntilResumed)
	if waits && t.prompting.Load() {
		io.WriteString(t.Stdout, pasteOn)
		t.rl.Refresh()
	}
}
