package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"

	"railsum/cmd/railsum/follow"
	"railsum/cmd/railsum/show"
)

// follow reads a notebook anew after every save, until it is interrupted.
func (a *app) follow(ctx context.Context, name string, as reading) error {
	if name == "-" || strings.HasPrefix(name, "lesson:") {
		return misuse("--follow is for a file that somebody saves").With("name a file")
	}
	file, err := a.source(name)
	if err != nil {
		return err
	}
	saves, err := follow.Saves(ctx, file.Path)
	if err != nil {
		return &failure{codeFile, asFailure(codeFile, err).Wrong}
	}
	for {
		again, err := a.once(ctx, name, as, saves)
		if err != nil {
			return err
		}
		if !again {
			select {
			case <-saves:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
	}
}

// once reads and shows the notebook. A save that comes meanwhile stops what is
// being worked out and asks for another reading.
func (a *app) once(ctx context.Context, name string, as reading, saves <-chan struct{}) (again bool, err error) {
	within, stop := context.WithCancel(ctx)
	var wait sync.WaitGroup
	wait.Go(func() {
		select {
		case <-saves:
			again = true
			stop()
		case <-within.Done():
		}
	})
	var text bytes.Buffer
	drawn := *a
	drawn.out, drawn.err, drawn.worst = newOutput(&text), nil, 0
	if as.form == readText {
		drawn.stderr = &flushing{w: &text, first: drawn.out}
	}
	err = drawn.read(within, []string{name}, as)
	drawn.out.Flush()
	stop()
	wait.Wait()
	switch {
	case ctx.Err() != nil:
		return false, ctx.Err()
	case again:
		return true, nil
	case err != nil && !errors.Is(err, context.Canceled):
		return false, err
	}
	return false, a.redraw(text.String(), as)
}

// redraw shows a reading: on a terminal in the place of the one before, as much of
// it as the window holds, for what is not clear comes first; else below it.
func (a *app) redraw(text string, as reading) error {
	if as.form == readText {
		at := "read at " + time.Now().Format(time.TimeOnly)
		if window, is := a.world.stdout.(*os.File); is && show.IsTerminal(window) {
			text = "\x1b[H\x1b[2J" + inWindow(window, at+"; Ctrl-C ends\n"+text)
		} else {
			text = at + "\n" + text + "\n"
		}
	}
	if _, err := io.WriteString(a.out, text); err != nil {
		return err
	}
	return a.out.Flush()
}

// inWindow cuts a text to the rows that a window has.
func inWindow(window *os.File, text string) string {
	_, height, err := term.GetSize(int(window.Fd()))
	rows := strings.SplitAfter(text, "\n")
	if err != nil || len(rows) <= height {
		return text
	}
	keep := max(1, height-2)
	return strings.Join(rows[:keep], "") + "and more: --brief, --only NAME, or a larger window\n"
}
