// Package lineedit reads lines from a person at a terminal, or from a pipe.
//
// Model: an Editor gives one line at a time and says whether the line was typed
// or came with others (a paste, a pipe). At a terminal the line can be edited,
// completed and recalled; the terminal is in its raw mode only while Prompt
// waits, so that an interrupt during work is a signal like any other.
//
// Behind it stands github.com/chzyer/readline, whose rough edges are covered
// here and nowhere else: keys pass through a filter of our own before it sees
// them, completion and history are ours, and it is never used unless both ends
// are terminals. Nothing outside this package knows of it.
//
// Non-goals: vi keys, several rows in one edit, drawing beyond the line.
package lineedit

import (
	"bufio"
	"errors"
	"io"
	"strings"
	"unicode/utf8"
)

// MaxLine is how many characters a line may have. The redraw of a line costs
// time in the square of its length, so this also bounds the wait.
const MaxLine = 4096

var (
	// ErrInterrupted is Ctrl-C at the prompt: the line is dropped.
	ErrInterrupted = errors.New("interrupted")

	// EOF is the end of input: Ctrl-D on an empty line, or the end of a pipe.
	EOF = io.EOF

	// ErrTooLong is a line of more than MaxLine characters; the line that comes
	// with it is its beginning.
	ErrTooLong = errors.New("the line is too long")
)

// Editor reads lines.
type Editor interface {
	// Prompt writes the prompt and reads a line, which begins as offer and can
	// be edited; what could act on the terminal is left out of both. A pipe has no
	// prompt and drops the offer.
	Prompt(prompt, offer string) (string, error)

	// More reports whether further text has already come: the rest of a paste.
	More() bool

	// Interactive reports whether somebody sees the prompt.
	Interactive() bool

	// Edits reports whether a line can be offered and edited, and Close wakes a
	// Prompt that waits.
	Edits() bool

	// Key waits for one key, where lines are edited: a character, or the name of a
	// key that has none.
	Key() (string, error)

	// Remember adds a line to the history.
	Remember(line string)

	// Suggest puts lines where Up finds them at the next prompt, the first of
	// them first, and only there: they are no lines that were typed.
	Suggest(lines ...string)

	// Close gives the terminal back. It may be called from a signal's
	// goroutine while Prompt waits, which then returns EOF.
	Close() error
}

// Completer gives what could stand in place of the last typed characters
// before the cursor: whole words, and how many characters of each are already
// typed. A word that can only be followed by a blank ends in one.
type Completer func(before string) (words []string, typed int)

// plain is an Editor that leaves the editing to whatever is at the other end: a
// program, or a terminal that moves no cursor.
type plain struct {
	r    *bufio.Reader
	w    io.Writer // for the prompt; nil if nobody sees it
	done bool
}

// NewPipe makes an Editor that reads lines without a prompt.
func NewPipe(r io.Reader) Editor { return &plain{r: bufio.NewReader(r)} }

// NewPlain makes an Editor that writes a prompt and reads a line as it comes:
// for terminals that cannot move the cursor, and for those who would rather
// have it stay where it is, as with a screen reader.
func NewPlain(r io.Reader, w io.Writer) Editor { return &plain{r: bufio.NewReader(r), w: w} }

func (p *plain) Prompt(prompt, _ string) (string, error) {
	if p.done {
		return "", EOF
	}
	if p.w != nil {
		io.WriteString(p.w, harmless(prompt))
	}
	line, long, err := readLine(p.r, 4*MaxLine)
	if err != nil {
		if p.done = p.w == nil; !p.done { // a terminal can go on after Ctrl-D
			io.WriteString(p.w, "\n")
		}
		if line == "" || !errors.Is(err, io.EOF) {
			return "", err
		}
	}
	line = strings.TrimSuffix(line, "\r")
	if long || utf8.RuneCountInString(line) > MaxLine {
		return cut(line, MaxLine), ErrTooLong
	}
	return line, nil
}

// readLine reads up to a newline and keeps at most limit bytes of it.
func readLine(r *bufio.Reader, limit int) (line string, long bool, err error) {
	var b []byte
	for {
		part, err := r.ReadSlice('\n')
		if room := limit - len(b); len(part) > room {
			b, long = append(b, part[:room]...), true
		} else {
			b = append(b, part...)
		}
		if err == bufio.ErrBufferFull {
			continue
		}
		return strings.TrimSuffix(string(b), "\n"), long, err
	}
}

func cut(s string, n int) string {
	for i := range s {
		if n == 0 {
			return s[:i]
		}
		n--
	}
	return s
}

func (p *plain) More() bool           { return p.w == nil && !p.done || p.r.Buffered() > 0 }
func (p *plain) Interactive() bool    { return p.w != nil }
func (p *plain) Edits() bool          { return false }
func (p *plain) Key() (string, error) { return "", EOF }
func (p *plain) Remember(string)      {}
func (p *plain) Suggest(...string)    {}
func (p *plain) Close() error         { return nil }
