package main

import (
	"io"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/page"
	"railsum/library"
)

func (a *app) handoutCommand() *cobra.Command {
	var f pageFile
	c := &cobra.Command{
		Use:   "handout FILE",
		Short: "a notebook as a page for a browser and for paper",
		Example: `railsum handout gannet.sums -o gannet.html
railsum handout gannet.sums --only branch -o branch.html
railsum handout lesson:coin --answers apart -o coin.html`,
		Long: `One file that needs nothing else: sections with pictures, questions, workings and
charts, what to mind before anybody touches a wire, what the sums rest on, and the
answers on a page of their own, closed on the screen. It prints on A4 and Letter.
Without -o it goes to standard output. --answers apart writes two files, NAME.html
without the answers and NAME.answers.html. The exit code is that of read: the page
is written even where a must fails (1).`,
		Args: cobra.MatchAll(needs(1, "a file name", "name a file, or - for standard input"), atMost(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.ready(&f); err != nil {
				return err
			}
			file, err := a.source(args[0])
			if err != nil {
				return err
			}
			ctx, lib := cmd.Context(), library.At(a.folder(file))
			o, err := a.outline(ctx, shown(args[0]), calc.Open(syntax.ParseFile(file.Text).Lines, lib))
			if err != nil {
				return err
			}
			if !o.OK {
				a.note(codeWrong)
			}
			f.opt.Set = func(ex *answer.Exercise) (*outline.Set, error) { return a.set(ctx, lib, ex) }
			return a.writePage(&f, func(w io.Writer, opt page.Options) error { return page.Write(w, o, opt) })
		},
	}
	f.flags(c.Flags())
	c.Flags().StringVar(&f.opt.Only, "only", "", "a sheet in use or a heading, the only one on the page")
	c.Flags().BoolVar(&f.opt.Blank, "blank", false, "leave every answer of a working to be filled in")
	c.Flags().BoolVar(&f.opt.Whole, "whole", false, "whole cards")
	return c
}
