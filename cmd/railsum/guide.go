package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/guide"
	"railsum/library"
)

func (a *app) sheetsCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "sheets [WORD]",
		Short: "list the sheets, or those about a word",
		Example: `railsum sheets            all sheets, by group
railsum sheets wire       those that have to do with wire`,
		RunE: func(_ *cobra.Command, args []string) error {
			a.paged()
			return orFailure(codeWrong, guide.Sheets(a.answers(), library.At(a.dir), strings.Join(args, " ")))
		},
	}
}

func (a *app) aboutCommand() *cobra.Command {
	in := ""
	c := &cobra.Command{
		Use:   "about NAME",
		Short: "what a sheet, function, unit or table is, with its sources",
		Example: `railsum about drop        a sheet: what it asks and tells
railsum about drop whole  what it takes for granted, every check, sources
railsum about preferred   a function
railsum about mph         a unit
railsum about conductors  a table, each row with its source
railsum about engine --in gannet.sums    which lines depend on it, and on which it does`,
		Args: needs(1, "a name", "railsum sheets lists the sheets"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return guide.Names(library.At(a.dir)), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			a.paged()
			name := strings.Join(args, " ")
			if in == "" {
				return orFailure(codeUse, guide.About(a.answers(), library.At(a.dir), name))
			}
			file, err := a.source(in)
			if err != nil {
				return err
			}
			lib := library.At(a.folder(file))
			return orFailure(codeUse, guide.AboutIn(a.answers(), lib, calc.Open(syntax.ParseFile(file.Text).Lines, lib), name))
		},
	}
	c.Flags().StringVar(&in, "in", "", "the notebook that has the name")
	return c
}

// orFailure gives a message of the guide its exit code; an error of the writer
// stays what it is.
func orFailure(code int, err error) error {
	var d syntax.Diag
	if errors.As(err, &d) {
		return asFailure(code, err)
	}
	return err
}
