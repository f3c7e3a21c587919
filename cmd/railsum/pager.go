package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path"
	"regexp"
	"strings"

	"golang.org/x/term"

	"railsum/cmd/railsum/show"
)

// mostHeld is how much output waits for a pager; what is longer goes by as it comes.
const mostHeld = 4 << 20

// usualPager is what shows long output where PAGER names nothing: it ends by itself
// if all fits the window, and leaves the text there.
const usualPager = "less -FIRX"

// paged has output wait until the call is over, to be shown by a pager if it is
// longer than the window. Only a terminal has one.
func (a *app) paged() {
	if a.flags.noPager || a.flags.noInput || a.pager() == "" || !show.IsTerminal(a.stdin) ||
		!show.IsTerminal(a.world.stdout) {
		return
	}
	a.out.hold()
}

// pager is the program that shows long output, empty for none.
func (a *app) pager() string {
	if a.getenv("TERM") == "dumb" || a.getenv("RAILSUM_SPOKEN") != "" {
		return ""
	}
	named, set := a.getenv("PAGER"), a.getenv("PAGER") != ""
	if !set {
		if _, err := exec.LookPath("less"); err != nil {
			return ""
		}
		return usualPager
	}
	if strings.TrimSpace(named) == "cat" {
		return ""
	}
	return named
}

func (o *output) hold() {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.held = &bytes.Buffer{}
}

func (o *output) holds() bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.held != nil
}

// take gives what is held and holds nothing any more.
func (o *output) take() []byte {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.held == nil {
		return nil
	}
	text := o.held.Bytes()
	o.held = nil
	return text
}

// release shows what was held: at once if it fits the window, else with the pager,
// which has the terminal and its interrupts from then on.
func (a *app) release(ready chan<- struct{}) {
	text := a.out.take()
	if text == nil {
		return
	}
	window, is := a.world.stdout.(*os.File)
	if is {
		_, height, err := term.GetSize(int(window.Fd()))
		if err == nil && bytes.Count(text, []byte("\n")) >= height {
			close(ready)
			if showWith(a.pager(), window, a.world.stderr.(*flushing).w, text) {
				return
			}
		}
	}
	a.out.Write(text)
}

var sgr = regexp.MustCompile("\x1b\\[[0-9;]*m")

// showWith shows a text with a program; it reports false if there is none.
func showWith(pager string, window *os.File, errs any, text []byte) bool {
	if path.Base(strings.Fields(pager)[0]) != "less" {
		text = sgr.ReplaceAll(text, nil) // what not every pager shows
	}
	cmd := exec.Command("sh", "-c", pager)
	cmd.Stdin, cmd.Stdout = bytes.NewReader(text), window
	if file, is := errs.(*os.File); is {
		cmd.Stderr = file
	}
	if os.Getenv("LESS") == "" {
		cmd.Env = append(os.Environ(), "LESS=FIRX")
	}
	err := cmd.Run()
	var exit *exec.ExitError
	// Beyond 126 the shell did not find it. Who leaves early has not read all.
	return err == nil || !errors.As(err, &exit) || exit.ExitCode() < 126
}
