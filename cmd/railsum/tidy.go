package main

import (
	"bytes"

	"github.com/rogpeppe/go-internal/diff"
	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

func (a *app) tidyCommand() *cobra.Command {
	var write, differ bool
	c := &cobra.Command{
		Use:   "tidy FILE...",
		Short: "write a notebook in its usual form",
		Example: `railsum tidy gannet.sums           print it
railsum tidy --diff gannet.sums    show what would change
railsum tidy --write gannet.sums   change the file
railsum tidy - < gannet.sums       as a filter`,
		Long: `Blanks, units and numbers are written one way, the cells of a table below one
another; no answer changes. A line that cannot be read is kept as it is, and the
exit code is 1.`,
		Args: needs(1, "a file name", "name a file, or - for standard input"),
		RunE: func(_ *cobra.Command, args []string) error {
			if write && differ {
				return misuse("--write and --diff cannot be used together").With("choose one")
			}
			for _, name := range args {
				if write && name == "-" {
					return misuse("standard input cannot be written").With("leave out --write to print it")
				}
			}
			for _, name := range args {
				if err := a.tidy(name, write, differ); err != nil {
					a.note(a.report(err))
				}
			}
			return nil
		},
	}
	c.Flags().BoolVar(&write, "write", false, "write the file instead of printing it")
	c.Flags().BoolVar(&differ, "diff", false, "print what would change")
	return c
}

func (a *app) tidy(name string, write, differ bool) error {
	file, err := a.source(name)
	if err != nil {
		return err
	}
	parsed := syntax.ParseFile(file.Text)
	for _, l := range parsed.Lines {
		if _, broken := l.Node.(*syntax.Broken); broken {
			a.errors().Diags(shown(name), l, l.Errors)
			a.note(codeWrong)
		}
	}
	tidied := calc.Tidy(parsed, library.At(a.folder(file)))
	switch {
	case differ:
		_, err = a.out.Write(a.asIs(diff.Diff(shown(name), file.Text, shown(name), tidied)))
	case !write:
		_, err = a.out.Write(a.asIs(tidied))
	case !bytes.Equal(file.Text, tidied):
		if err = file.Save(tidied, false); err == nil {
			a.errors().Say("%s is tidied", name)
		}
	}
	return err
}

// asIs is the text of a notebook on its way out: byte for byte to a file or
// pipe, made safe for a terminal.
func (a *app) asIs(text []byte) []byte {
	if show.IsTerminal(a.world.stdout) {
		return []byte(show.SafeRows(string(text)))
	}
	return text
}
