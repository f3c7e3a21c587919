package main

import (
	"context"

	"github.com/spf13/cobra"
)

func (a *app) readCommand() *cobra.Command {
	var as forms
	line, brief := 0, false
	c := &cobra.Command{
		Use:   "read FILE...",
		Short: "every answer and verdict of a notebook",
		Example: `railsum read gannet.sums
railsum read --json gannet.sums
railsum read --csv --line 24 gannet.sums > sweep.csv
grep bus gannet.sums | railsum read -`,
		Long: `What is not clear comes first, then the lines, each with its answer below it, then
the hazards and sources of the sheets; railsum about SHEET tells a sheet's inputs.
A file named - is standard input. The exit code is 1 if a line is in error, or a
must fails or has no verdict.

--json writes one document, {"schema": 1, "files": [...]}; railsum about json lists
its keys.
` + plainHelp + csvHelp,
		Args: needs(1, "a file name", "name a file, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			form, err := as.one()
			switch {
			case err != nil:
				return err
			case line != 0 && form != readCSV:
				return misuse("--line says which line --csv writes").With("add --csv")
			case form != readCSV:
				return a.read(cmd.Context(), args, form, brief)
			case len(args) > 1:
				return misuse("--csv writes one line of one file").With("name one file")
			}
			return a.readCSV(cmd.Context(), args[0], line)
		},
	}
	as.flags(c)
	c.Flags().BoolVar(&brief, "brief", false, "verdicts and figures alone")
	c.Flags().IntVar(&line, "line", 0, "with --csv, the row of the vary or show line")
	return c
}

// readCSV streams the rows of a vary or show line.
func (a *app) readCSV(ctx context.Context, name string, row int) error {
	book, err := a.open(name)
	if err != nil {
		return err
	}
	i, err := csvLine(book.Lines(), row, "say which with --line")
	if err != nil {
		return err
	}
	return a.csv(ctx, shown(name), book, i)
}

// read answers each file; one that cannot be read does not hide the others.
func (a *app) read(ctx context.Context, names []string, as form, brief bool) error {
	w := a.writer(as)
	if as == readText {
		w = a.answers().Notebook(a.errors(), brief)
	}
	for _, name := range names {
		n, err := a.notebook(ctx, name)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			f := asFailure(codeFile, err)
			a.note(a.report(f))
			w.Unread(shown(name), f.Message, f.Cure)
			continue
		}
		if !n.OK {
			a.note(codeWrong)
			a.cures(n)
		}
		n.Write(w)
	}
	return w.Close()
}
