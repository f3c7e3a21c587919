package main

import (
	"context"

	"github.com/spf13/cobra"

	"railsum/cmd/railsum/outline"
)

func (a *app) readCommand() *cobra.Command {
	var as forms
	var form reading
	line := 0
	c := &cobra.Command{
		Use:   "read FILE...",
		Short: "every answer and verdict of a notebook",
		Example: `railsum read gannet.sums
railsum read --brief gannet.sums marrowby.sums    a screen each, a summary first
railsum read --only north,track gannet.sums       the lines about some names
railsum read --follow --brief gannet.sums         drawn anew whenever it is saved
railsum read --json gannet.sums
railsum read --csv --line 24 gannet.sums > sweep.csv
grep bus gannet.sums | railsum read -`,
		Long: `What is not clear comes first, then the lines, each with its answer below it, then
the hazards and sources of the sheets; railsum about SHEET tells a sheet's inputs.
A file named - is standard input. The exit code is 1 if a line is in error, or a
must fails or has no verdict. Of several files a summary comes first. --only leaves
the lines that give a name its meaning, set something of it, ask for it or judge it;
verdict and exit code stay those of the whole.

--json writes one document, {"schema": 1, "files": [...]}; railsum about json lists
its keys.
` + plainHelp + csvHelp,
		Args: needs(1, "a file name", "name a file, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			kind, err := as.one()
			form.form = kind
			switch {
			case err != nil:
				return err
			case form.brief && kind != readText:
				return misuse("--brief is for somebody who reads").With("leave out one of the two")
			case line != 0 && kind != readCSV:
				return misuse("--line says which line --csv writes").With("add --csv")
			case form.follow && (kind == readCSV || len(args) > 1):
				return misuse("--follow reads one notebook").With("name one file, and leave out --csv")
			case form.follow:
				return a.follow(cmd.Context(), args[0], form)
			case kind != readCSV:
				a.paged()
				return a.read(cmd.Context(), args, form)
			case len(form.only) > 0:
				return misuse("--csv writes one line").With("leave out --only, and say which with --line")
			case len(args) > 1:
				return misuse("--csv writes one line of one file").With("name one file")
			}
			return a.readCSV(cmd.Context(), args[0], line)
		},
	}
	as.flags(c)
	c.Flags().BoolVar(&form.brief, "brief", false,
		"a screen for each notebook: what is not clear, and a row for each answer there is room for")
	c.Flags().BoolVar(&form.follow, "follow", false, "read it again after every save, beside an editor, until Ctrl-C")
	c.Flags().StringSliceVar(&form.only, "only", nil, "the lines about these names alone, separated by commas")
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

// reading is how notebooks are read.
type reading struct {
	form
	brief  bool
	follow bool
	only   []string // names, none for all lines
}

// read answers each file; one that cannot be read does not hide the others.
func (a *app) read(ctx context.Context, names []string, as reading) error {
	w := a.reader(as)
	found := map[string]bool{}
	var all []*outline.Outline
	for _, name := range names {
		n, err := a.about(ctx, name, as.only, found)
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
		if as.form != readText || len(names) == 1 {
			n.Write(w)
		} else {
			all = append(all, n)
		}
	}
	for _, name := range as.only {
		if !found[name] {
			a.note(a.report(misuse("no line is about %s", name).With("railsum read --brief shows what there is")))
		}
	}
	if len(all) > 1 {
		a.answers().Summary(all)
	}
	for _, n := range all {
		n.Write(w)
	}
	return w.Close()
}

// about reads a file and has it answered: all lines, or those about some names, of
// which found tells that there are.
func (a *app) about(ctx context.Context, name string, only []string, found map[string]bool) (*outline.Outline, error) {
	if len(only) == 0 {
		return a.notebook(ctx, name)
	}
	book, err := a.open(name)
	if err != nil {
		return nil, err
	}
	return a.outlineOnly(ctx, shown(name), book, only, found)
}

// reader is the writer for a reading.
func (a *app) reader(as reading) outline.Files {
	switch {
	case as.form == readText && as.brief:
		return a.answers().Brief()
	case as.form == readText:
		return a.answers().Notebook(a.errors())
	}
	return a.writer(as.form)
}
