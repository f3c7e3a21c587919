package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
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
	answers, ok, err := a.carryOut(ctx, book)
	if err != nil {
		return err
	}
	if !ok {
		a.note(codeWrong)
	}
	n := &notebook{fromCall, book, answers, ok}
	switch as {
	case readJSON:
		doc := document{Schema: schema, Files: []fileRecord{recordOf(n)}}
		return doc.write(a.out)
	case readPlain:
		a.plain(n)
	default:
		a.speakAll(n)
	}
	return nil
}

// speakAll writes the answers to the lines given with the call.
func (a *app) speakAll(n *notebook) {
	out := a.answers().AtMargin()
	for i, ans := range n.answers {
		line := ans.Line
		a.complain(line, ans.Errors)
		a.complain(line, ans.Notices)
		a.waits(line, ans)
		a.speak(out, ans, i == len(n.answers)-1)
	}
}

// speak writes one answer without the line it belongs to.
func (a *app) speak(out *show.Printer, ans *calc.Answer, last bool) {
	_, question := ans.Line.Node.(*syntax.Question)
	if len(ans.Errors)+len(ans.Waiting) > 0 && ans.Study == nil {
		return // said on standard error
	}
	if len(ans.Cards) > 0 || ans.Rule != nil || ans.Study != nil || question || last {
		out.Answer(ans)
	}
}

// complain writes messages below their line, without the place: the line was
// typed just now.
func (a *app) complain(line *syntax.Line, diags []syntax.Diag) {
	p := a.errors()
	for _, d := range diags {
		p.Complaint(line, d)
	}
}

func (a *app) waits(line *syntax.Line, ans *calc.Answer) {
	if len(ans.Waiting) == 0 || len(ans.Errors) > 0 {
		return
	}
	p := a.errors()
	p.Line(line)
	p.Say("nothing is called %s", strings.Join(ans.Waiting, ", "))
	a.note(codeWrong)
}
