package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/page"
	"railsum/library"
	"railsum/units/words"
)

func (a *app) handoutCommand() *cobra.Command {
	var b page.Bench
	var size string
	var f pageFile
	c := &cobra.Command{
		Use:   "handout FILE",
		Short: "a notebook as a page for a browser and for paper",
		Example: `railsum handout gannet.sums -o gannet.html
railsum handout gannet.sums --only branch -o branch.html
railsum handout gannet.sums --card all --labels --meter -o pinned.html
railsum handout lesson:coin --answers apart -o coin.html`,
		Long: `One file that needs nothing else: sections with pictures, questions, workings and
charts, what to mind before anybody touches a wire, what the sums rest on, and the
answers on a page of their own, closed on the screen. It prints on A4 and Letter.
Without -o it goes to standard output. --answers apart writes two files, NAME.html
without the answers and NAME.answers.html. --card, --labels, --parts and --meter make a
page to pin up in its place. The exit code is that of read: the page
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
			book := calc.Open(syntax.ParseFile(file.Text).Lines, lib)
			o, err := a.outline(ctx, shown(args[0]), book)
			if err != nil {
				return err
			}
			if !o.OK {
				a.note(codeWrong)
			}
			if len(b.Cards) > 0 || b.Labels || b.Parts || b.Meter {
				return a.pinUp(ctx, &b, &f, filepath.Base(shown(args[0])), size, o, book, lib)
			}
			if f.opt.Whole {
				o.Draw(book)
			}
			f.opt.Stopped = ctx.Err
			f.opt.Set = func(ex *answer.Exercise) (*outline.Set, error) { return a.set(ctx, lib, ex) }
			return a.writePage(&f, func(w io.Writer, opt page.Options) error { return page.Write(w, o, opt) })
		},
	}
	f.flags(c.Flags())
	c.Flags().StringVar(&f.opt.Only, "only", "", "a sheet in use or a heading, the only one on the page")
	c.Flags().BoolVar(&f.opt.Blank, "blank", false, "leave every answer of a working to be filled in")
	c.Flags().BoolVar(&f.opt.Whole, "whole", false, "whole cards")
	c.Flags().StringSliceVar(&b.Cards, "card", nil, "a card to pin up of a sheet in use, or of all")
	c.Flags().BoolVar(&b.Labels, "labels", false, "labels for wires and parts")
	c.Flags().StringVar(&size, "label", "60x17mm", "how large a label is")
	c.Flags().BoolVar(&b.Parts, "parts", false, "what to buy")
	c.Flags().BoolVar(&b.Meter, "meter", false, "a sheet to write down what the meter says")
	return c
}

// handoutTo writes the page of a notebook at the desk, of all of it or of what is called only.
func (a *app) handoutTo(ctx context.Context, book *calc.Book, name, only, to string) error {
	o, err := a.outline(ctx, name, book)
	if err != nil {
		return err
	}
	if _, err := os.Lstat(a.path(to)); err == nil {
		return &failure{codeFile, words.Say("there is a file %s already", to).With("choose another name")}
	}
	f := pageFile{to: to, opt: page.Options{Only: only, Answers: page.Last, Stopped: ctx.Err}}
	f.opt.Set = func(ex *answer.Exercise) (*outline.Set, error) { return a.set(ctx, a.library(), ex) }
	return a.writePage(&f, func(w io.Writer, opt page.Options) error { return page.Write(w, o, opt) })
}

// pinUp writes the page of what is pinned up beside a layout.
func (a *app) pinUp(ctx context.Context, b *page.Bench, f *pageFile, name, size string, o *outline.Outline,
	book *calc.Book, lib calc.Library) error {
	if _, err := fmt.Sscanf(size, "%fx%fmm", &b.Wide, &b.High); err != nil {
		return misuse("%q is no size of a label", size).With("write it as 60x17mm")
	}
	b.File, b.Needs = name, &outline.Needs{}
	b.Needs.Add(book, "")
	lines := slices.Clone(book.Lines())
	beside := calc.Open(lines, lib)
	b.Spread = func(of string) *answer.Spread {
		line, _ := syntax.ParseLine("spread " + of)
		lines = append(lines, line)
		beside.Update(lines)
		s, _, err := beside.Study(ctx, len(lines)-1)
		all, is := s.(answer.Spreads)
		if err != nil || !is || len(all) == 0 {
			return nil
		}
		return all[0]
	}
	return a.writePage(f, func(w io.Writer, opt page.Options) error { return b.Write(w, o, opt) })
}
