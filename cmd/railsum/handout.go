package main

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"railsum/cmd/railsum/page"
	"railsum/cmd/railsum/show"
	"railsum/units/words"
)

func (a *app) handoutCommand() *cobra.Command {
	var opt page.Options
	var to, answers string
	var over bool
	c := &cobra.Command{
		Use:   "handout FILE",
		Short: "a notebook as a page for a browser and for paper",
		Example: `railsum handout gannet.sums -o gannet.html
railsum handout gannet.sums --only branch -o branch.html
railsum handout lesson.sums --answers apart -o answers.html`,
		Long: `One file that needs nothing else: sections with pictures, questions, workings and
charts, what to mind before anybody touches a wire, what the sums rest on, and the
answers on a page of their own, closed on the screen. It prints on A4 and Letter.
Without -o it goes to standard output. The exit code is that of read: the page is
written even where a must fails (1).`,
		Args: cobra.MatchAll(needs(1, "a file name", "name a file, or - for standard input"), atMost(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			opt.Answers = page.Answers(answers)
			if !slices.Contains([]page.Answers{page.Last, page.Apart, page.None}, opt.Answers) {
				return misuse("%q is not a choice for --answers", answers).With("write --answers last, --answers apart or --answers none")
			}
			if to == "" && show.IsTerminal(a.world.stdout) {
				return misuse("a page needs a file").With("add -o NAME.html")
			}
			if opt.Date == "" {
				opt.Date = a.today()
			}
			o, err := a.notebook(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			var b bytes.Buffer
			if err := page.Write(&b, o, opt); err != nil {
				return &failure{codeWrong, words.Say("%s", err)}
			}
			if !o.OK {
				a.note(codeWrong)
			}
			if to == "" {
				_, err = a.out.Write(b.Bytes())
				return err
			}
			return a.writeNew(to, b.Bytes(), over)
		},
	}
	f := c.Flags()
	f.StringVarP(&to, "output", "o", "", "the file to write")
	f.BoolVar(&over, "write-over", false, "write over a file that is there")
	f.StringVar(&opt.Only, "only", "", "a sheet in use or a heading, the only one on the page")
	f.BoolVar(&opt.Blank, "blank", false, "leave every answer of a working to be filled in")
	f.StringVar(&answers, "answers", string(page.Last), "last, apart (nothing but the answers) or none")
	f.BoolVar(&opt.Large, "large", false, "large print")
	f.BoolVar(&opt.Whole, "whole", false, "whole cards")
	f.StringVar(&opt.Date, "date", "", "the date on the page instead of today's")
	f.BoolVar(&opt.Plain, "plain-type", false, "the type of the reader's machine: a smaller page")
	return c
}

// today is the date on a page, or what SOURCE_DATE_EPOCH says, so that a page can be made again byte for byte.
func (a *app) today() string {
	now := time.Now()
	if s, err := strconv.ParseInt(a.getenv("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		now = time.Unix(s, 0).UTC()
	}
	return now.Format("2 January 2006")
}

// writeNew writes a file that is not there yet, or, with over, in the place of one that is.
func (a *app) writeNew(name string, text []byte, over bool) error {
	how := os.O_WRONLY | os.O_CREATE | os.O_EXCL
	if over {
		how = os.O_WRONLY | os.O_CREATE | os.O_TRUNC
	}
	f, err := os.OpenFile(a.path(name), how, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return &failure{codeFile, words.Say("there is a file %s already", name).With("--write-over writes over it")}
	}
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close())
}
