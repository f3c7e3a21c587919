package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

func (a *app) answerCommand() *cobra.Command {
	var as forms
	c := &cobra.Command{
		Use:   "answer LINE...",
		Short: "answer a line, or several that build on one another",
		Example: `railsum answer '25 m at H0 as mm'
railsum answer '-5 degC as degF'
railsum answer 'track = 15 V' 'track / 3k3'
railsum answer 'use drop with length = 9.5 m, load = 2.6 A'
railsum answer 'use drop for d' 'find d.length so d.lost = 1 V'`,
		Long: `Questions, rules, sheets and studies are answered, each on a row of its own; a
named value is answered only where it is the last line. A line may begin with a
minus. The exit code is 1 if a line is in error or a must fails. --json, --plain
and --csv write what they write for read; railsum read --help describes them.`,
		Args: needs(1, "railsum answer '5 % of 15 V' is one way to call it"),
		RunE: func(cmd *cobra.Command, args []string) error {
			form, err := as.one()
			if err != nil {
				return err
			}
			return a.answer(cmd.Context(), strings.Join(args, "\n"), form)
		},
	}
	as.flags(c)
	return c
}

// fromCall is what the lines given with the call are called.
const fromCall = "command line"

func (a *app) answer(ctx context.Context, text string, as form) error {
	file := syntax.ParseFile([]byte(text))
	book := calc.Open(file.Lines, library.At(a.dir))
	if as == readCSV {
		i, err := sweepLine(file.Lines, 0, "give one of them")
		if err != nil {
			return err
		}
		return a.csv(ctx, "", book, i)
	}
	n, err := a.outline(ctx, fromCall, book)
	if err != nil {
		return err
	}
	if !n.OK || n.Tally.Waiting > 0 {
		a.note(codeWrong)
	}
	w := a.writer(as)
	if as == readText {
		w = a.answers().Called(a.errors())
	}
	n.Write(w)
	return w.Close()
}
