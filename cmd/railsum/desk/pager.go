package desk

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"runtime"
	"strings"

	"github.com/clipperhouse/displaywidth"
	"golang.org/x/term"

	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/show"
)

// paged does what writes a long text. At a terminal that edits lines, a text that is
// longer than the window is shown a window at a time: by the program that $PAGER
// names, or by a few keys of our own. Otherwise it is written as it comes.
func (d *desk) paged(do func() error) error {
	window, is := d.Stdout.(*os.File)
	if !is || !d.ed.Edits() || d.ed.More() {
		return do()
	}
	text := &listing{stopped: d.signals.stopped}
	out, errs := d.out, d.err
	d.out, d.err = show.New(text, out.Options), show.New(text, errs.Options)
	err := text.written(do)
	if d.out, d.err = out, errs; d.signals.stopped() {
		d.note("Stopped.")
		return err
	}
	d.page(window, text.String())
	return err
}

// listing is a long text that is being written, until somebody stops that.
type listing struct {
	bytes.Buffer
	stopped func() bool
}

// Write ends the goroutine that writes once it is to stop.
func (l *listing) Write(b []byte) (int, error) {
	if l.stopped() {
		runtime.Goexit()
	}
	return l.Buffer.Write(b)
}

// written lets do write the text, in a goroutine of its own that can be left at any
// row, and waits for its end. A panic of it is one of the caller.
func (l *listing) written(do func() error) (err error) {
	var failed any
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() { failed = recover() }()
		err = do()
	}()
	if <-done; failed != nil {
		panic(failed)
	}
	return err
}

func (d *desk) page(window *os.File, text string) {
	rows := strings.SplitAfter(text, "\n")
	if fit(window, rows) == len(rows) {
		io.WriteString(d.out, text)
		return
	}
	if d.byPager(window, text) {
		return
	}
	for from := 0; from < len(rows); {
		n := fit(window, rows[from:])
		io.WriteString(d.out, strings.Join(rows[from:from+n], ""))
		if from+n == len(rows) {
			return
		}
		fmt.Fprintf(d.out, "rows %d to %d of %d: Space more, b back, q done", from+1, from+n, len(rows)-1)
		turn := d.turn()
		io.WriteString(d.out, "\r\x1b[K")
		switch turn {
		case onward:
			from += n
		case backward:
			to := from
			for from > 0 && fit(window, rows[from-1:to]) == to-from+1 {
				from--
			}
			io.WriteString(d.out, "\x1b[H\x1b[2J")
		case done:
			return
		}
	}
}

// fit is how many rows, one at least, the window has room for above its last.
func fit(window *os.File, rows []string) int {
	width, height, err := term.GetSize(int(window.Fd()))
	if err != nil || width <= 0 || height <= 1 {
		return len(rows)
	}
	for n, row := range rows {
		wide := displaywidth.Options{ControlSequences: true}.String(strings.TrimSuffix(row, "\n"))
		if height -= max(1, (wide+width-1)/width); height < 1 && row != "" {
			return max(1, n)
		}
	}
	return len(rows)
}

// What a key of the pager does.
const (
	onward = iota
	backward
	done
)

// turn waits for a key that means something.
func (d *desk) turn() int {
	for {
		if d.signals.stopped() { // it came before the keys were the pager's
			return done
		}
		key, err := d.ed.Key()
		switch {
		case err != nil:
			return done
		case strings.Contains("q Q \x1b \x03 \x04", key) && key != " ":
			return done
		case key == "b" || key == lineedit.PageUp:
			return backward
		case key == " " || key == "\r" || key == "\n" || key == lineedit.PageDown:
			return onward
		}
	}
}

// byPager shows a text with the program that the user has named for it; it reports
// false if there is none.
func (d *desk) byPager(window *os.File, text string) bool {
	command := d.Getenv("PAGER")
	if command == "" {
		return false
	}
	cmd := exec.Command("sh", "-c", command)
	cmd.Stdin = strings.NewReader(colours.ReplaceAllString(text, ""))
	cmd.Stdout, cmd.Stderr = window, d.Stderr
	err := cmd.Run()
	var exit *exec.ExitError
	return err == nil || errors.As(err, &exit) && exit.ExitCode() < 126 // beyond that the shell did not find it
}

// colours are what not every pager shows.
var colours = regexp.MustCompile("\x1b\\[[0-9;]*m")
