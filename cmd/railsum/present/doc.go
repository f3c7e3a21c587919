// Package present shows a notebook step by step, on a projector before people: a
// guess before its answer, a working row by row, each danger alone, and what
// another value would do, for this showing only.
//
// The model: a deck is a list of steps, made of the outline; a step is blocks of
// rows, laid out anew for each size of the terminal and, where they do not fit,
// divided into parts between blocks, never cut. Nothing is written: no file, no
// journal, no lock.
//
// Not its business: words and figures, which package show writes, and computing.
package present

import (
	"context"
	"io"
	"os"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
)

// Config is what a showing needs.
type Config struct {
	Name    string // of the notebook, where it has no title
	Book    *calc.Book
	Library calc.Library
	Outline func(*calc.Book) (*outline.Outline, error)   // with all studies carried out
	Set     func(*answer.Exercise) (*outline.Set, error) // makes the questions of an exercise

	Stdin   io.Reader
	Stdout  io.Writer
	Options show.Options
	Screen  bool // a terminal to draw on; without it all steps are printed

	Reveal bool // guesses and workings are shown with their answers
	From   int  // the step to begin with, from 1
	Notes  bool // what the speaker says, and what comes next, in place of the steps
	Ready  func()
}

// Run shows the notebook and gives the exit code of a signal, 0 if none came. The
// error is that of the outline or of the output.
func Run(ctx context.Context, c Config) (code int, err error) {
	o, err := c.Outline(c.Book)
	if err != nil {
		return 0, err
	}
	d := newDeck(o, &c)
	in, isFile := c.Stdin.(*os.File)
	if !c.Screen || !isFile {
		return 0, d.print(c.Stdout, c.Options)
	}
	r := &room{Config: c, deck: d, at: min(max(c.From, 1), len(d.steps)) - 1, lines: c.Book.Lines()}
	return r.run(ctx, in)
}
