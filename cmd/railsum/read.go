package main

import (
	"context"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
)

func (a *app) readCommand() *cobra.Command {
	var as forms
	line := 0
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
` + jsonHelp + studyHelp + plainHelp + plainStudyHelp + csvHelp,
		Args: needs(1, "name a file, or - for standard input"),
		RunE: func(cmd *cobra.Command, args []string) error {
			form, err := as.one()
			switch {
			case err != nil:
				return err
			case line != 0 && form != readCSV:
				return misuse("--line says which vary line --csv writes").With("add --csv")
			case form != readCSV:
				return a.read(cmd.Context(), args, form)
			case len(args) > 1:
				return misuse("--csv writes one vary line of one file").With("name one file")
			}
			return a.readCSV(cmd.Context(), args[0], line)
		},
	}
	as.flags(c)
	c.Flags().IntVar(&line, "line", 0, "with --csv, the row of the vary line")
	return c
}

// readCSV streams a sweep of a notebook.
func (a *app) readCSV(ctx context.Context, name string, row int) error {
	book, err := a.open(name)
	if err != nil {
		return err
	}
	i, err := sweepLine(book.Lines(), row, "say which with --line")
	if err != nil {
		return err
	}
	return a.csv(ctx, shown(name), book, i)
}

// read answers each file; one that cannot be read does not hide the others.
func (a *app) read(ctx context.Context, names []string, as form) error {
	doc := document{Schema: schema, Files: []fileRecord{}}
	for i, name := range names {
		n, err := a.notebook(ctx, name)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			a.note(a.report(err))
			doc.Files = append(doc.Files, unreadRecord(shown(name), err))
			continue
		}
		if !n.ok {
			a.note(codeWrong)
		}
		switch as {
		case readJSON:
			doc.Files = append(doc.Files, recordOf(n))
		case readPlain:
			a.plain(n)
		default:
			a.text(n, i > 0)
		}
	}
	if as == readJSON {
		return doc.write(a.out)
	}
	return nil
}

// text writes a notebook with its answers; what is wrong with its lines goes
// to standard error. The other forms hold it themselves.
func (a *app) text(n *notebook, further bool) {
	out := a.answers()
	if further {
		out.Blank()
	}
	tally := show.Count(n.answers)
	if len(tally.Verdicts)+len(tally.Findings)+tally.Unsettled > 0 {
		out.Verdicts(n.name, n.answers)
		out.Blank()
	}
	form := inNotebook()
	out.SourcesLater = true
	for _, ans := range n.answers {
		out.Line(ans.Line)
		if !show.Repeats(ans) {
			out.AnswerAs(ans, form)
		}
	}
	out.SheetNotes(n.answers)
	a.messages(n)
}

// inNotebook gives the form of the cards of a notebook, in their order: what all
// cards of a sheet have in common is told once.
func inNotebook() func(*calc.Card) show.CardForm {
	told := map[*calc.Sheet]bool{}
	return func(c *calc.Card) show.CardForm {
		again := told[c.Sheet]
		told[c.Sheet] = true
		return show.CardForm{Trimmed: true, Bare: true, Again: again}
	}
}

// messages writes what is wrong with a notebook's lines, and what is worth
// saying of them.
func (a *app) messages(n *notebook) {
	p := a.errors()
	for _, ans := range n.answers {
		p.Diags(n.name, ans.Line, ans.Errors)
		p.Diags(n.name, ans.Line, notices(ans.Notices))
	}
}

// notices marks messages as notices, so that they are told from errors.
func notices(diags []syntax.Diag) []syntax.Diag {
	marked := make([]syntax.Diag, len(diags))
	for i, d := range diags {
		d.Notice = true
		marked[i] = d
	}
	return marked
}
