package main

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

func (a *app) answerCommand() *cobra.Command {
	var as forms
	var strict, whole bool
	c := &cobra.Command{
		Use:   "answer LINE...",
		Short: "answer a line, or several that build on one another",
		Example: `railsum answer '25 m at H0 as mm'
railsum answer '-5 degC as degF'
railsum answer 'track = 15 V' 'track / 3k3'
railsum answer 'use drop with length = 9.5 m, load = 2.6 A'
railsum answer 'use drop for d' 'find d.length so d.lost = 1 V'
railsum answer '12 volts x 3 amps'
railsum answer -                        lines from standard input`,
		Long: `Questions, rules, sheets and studies are answered, each on a row of its own; a
named value is answered only where it is the last line. A line may begin with a
minus. A line that the grammar refuses is heard, if it can mean one thing only, and
what it was heard as is said; --strict leaves that off. The exit code is 1 if a line
is in error or a must fails. --json, --plain
and --csv write what they write for read; railsum read --help describes them.`,
		Args: needs(1, "a line", "for example railsum answer '5 % of 15 V'"),
		RunE: func(cmd *cobra.Command, args []string) error {
			form, err := as.one()
			if err != nil {
				return err
			}
			text, err := a.given(args)
			if err != nil {
				return err
			}
			return a.answer(cmd.Context(), text, form, strict, whole)
		},
	}
	as.flags(c)
	c.Flags().BoolVar(&strict, "strict", false, "answer only what is written as the language has it")
	c.Flags().BoolVar(&whole, "whole", false, "cards with every check, meaning and source")
	return c
}

// fromCall is what the lines given with the call are called.
const fromCall = "command line"

// given gives the lines of a call: those on the command line, or standard input
// for "-". Words without quotes are one line, and not so many.
func (a *app) given(args []string) (string, error) {
	if len(args) == 1 && args[0] == "-" {
		file, err := a.pipe()
		if err != nil {
			return "", err
		}
		return string(file.Text), nil
	}
	if len(args) > 1 && !slices.ContainsFunc(args, func(arg string) bool { return strings.ContainsAny(arg, " \n=") }) {
		if whole, _ := a.meant(args); whole != "" {
			return "", misuse("a line stands in quotes").With("the call is: " + whole)
		}
	}
	return strings.Join(args, "\n"), nil
}

func (a *app) library() *library.Library { return library.At(a.dir) }

func (a *app) answer(ctx context.Context, text string, as form, strict, whole bool) error {
	file := syntax.ParseFile([]byte(text))
	var book *calc.Book
	var heard ear
	if lib := a.library(); strict {
		book = calc.Open(file.Lines, lib)
	} else {
		book, heard = listen(file, lib)
	}
	if as == readCSV {
		i, err := csvLine(file.Lines, 0, "give one of them")
		if err != nil {
			return err
		}
		return a.csv(ctx, "", book, i)
	}
	n, err := a.outline(ctx, fromCall, book)
	if err != nil {
		return err
	}
	for line, h := range heard {
		n.Hear(line, h)
		if h.Line == nil {
			a.note(codeWrong)
		}
	}
	if !n.OK || n.Tally.Waiting > 0 {
		a.note(codeWrong)
	}
	w := a.writer(as)
	if as == readText {
		if whole {
			n.Draw(book)
		}
		w = a.answers().Called(a.errors(), whole)
	}
	n.Write(w)
	return w.Close()
}
