package main

import (
	"context"
	"sync"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/present"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

func (a *app) presentCommand(ready chan<- struct{}) *cobra.Command {
	var c present.Config
	cmd := &cobra.Command{
		Use:   "present FILE",
		Short: "show a notebook step by step, before people",
		Example: `railsum present gannet.sums
railsum present lesson:out_and_back
railsum present --from 5 gannet.sums
railsum present --notes lesson:coin     what the speaker says, on a second terminal`,
		Long: `A step is a heading, an answer, a picture, a danger; a guess stops twice, for the
question and with the answer, and a working comes a row at a time. T tries a line for
this showing only, as in quay.length = 16 m, and R puts all back: nothing is written.
The keys stand in the last row, and ? tells them all.

Without a terminal, and with --spoken, all steps are printed in turn. The exit code is
that of read.`,
		Args: exactly(1, "a file name", "name a file, or lesson:NAME; railsum lessons lists them"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.present(cmd.Context(), args[0], c, ready)
		},
	}
	cmd.Flags().BoolVar(&c.Reveal, "reveal", false, "without a stop before each answer")
	cmd.Flags().IntVar(&c.From, "from", 1, "the step to begin with")
	cmd.Flags().BoolVar(&c.Notes, "notes", false, "what the speaker says and what comes next")
	return cmd
}

func (a *app) present(ctx context.Context, name string, c present.Config, ready chan<- struct{}) error {
	file, err := a.source(name)
	if err != nil {
		return err
	}
	lib := library.At(a.folder(file))
	c.Name, c.Library = shown(name), lib
	c.Book = calc.Open(syntax.ParseFile(file.Text).Lines, lib)
	c.Set = func(ex *answer.Exercise) (*outline.Set, error) { return a.set(ctx, lib, ex) }
	first := true
	c.Outline = func(book *calc.Book) (*outline.Outline, error) {
		o, err := a.outline(ctx, c.Name, book)
		if err == nil && first && !o.OK {
			a.note(codeWrong)
		}
		first = false
		return o, err
	}
	c.Options = show.Detect(a.world.stdout, a.getenv, a.choice())
	c.Screen = a.asks() && !c.Options.Stacked
	c.Stdin, c.Stdout = a.stdin, a.world.stdout
	if !c.Screen {
		c.Stdout = a.out
	} else if err := a.out.Flush(); err != nil {
		return err
	}
	var once sync.Once
	c.Ready = func() { once.Do(func() { close(ready) }) }
	code, err := present.Run(ctx, c)
	a.note(code)
	return err
}
