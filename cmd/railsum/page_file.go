package main

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"railsum/cmd/railsum/page"
	"railsum/cmd/railsum/show"
	"railsum/units/words"
)

// pageFile is the file that a page is written to, and how the page is to be.
type pageFile struct {
	opt  page.Options
	to   string
	over bool
}

// flags are those that every call has that writes a page.
func (f *pageFile) flags(set *pflag.FlagSet) {
	set.StringVarP(&f.to, "output", "o", "", "the file to write")
	set.BoolVar(&f.over, "write-over", false, "write over a file that is there")
	set.StringVar((*string)(&f.opt.Answers), "answers", string(page.Last), "last, apart (in NAME.answers.html) or none")
	set.BoolVar(&f.opt.Large, "large", false, "large print")
	set.StringVar(&f.opt.Date, "date", "", "the date on the page instead of today's")
	set.BoolVar(&f.opt.Plain, "plain-type", false, "the type of the reader's machine: a smaller page")
}

// ready reports what is wrong with the flags.
func (a *app) ready(f *pageFile) error {
	switch {
	case !slices.Contains([]page.Answers{page.Last, page.Apart, page.None}, f.opt.Answers):
		return misuse("%q is not a choice for --answers", f.opt.Answers).
			With("write --answers last, --answers apart or --answers none")
	case f.to == "" && f.opt.Answers == page.Apart:
		return misuse("answers apart need a file name").With("add -o NAME.html, and the answers are in NAME.answers.html")
	case f.to == "" && show.IsTerminal(a.world.stdout):
		return misuse("a page needs a file").With("add -o NAME.html")
	}
	return nil
}

// writePage writes a page, and a second one where the answers are apart.
func (a *app) writePage(f *pageFile, write func(io.Writer, page.Options) error) error {
	opt := f.opt
	if opt.Date == "" {
		opt.Date = a.now().Format("2 January 2006")
	}
	files := []struct {
		name    string
		answers page.Answers
	}{{f.to, opt.Answers}}
	if opt.Answers == page.Apart {
		ending := filepath.Ext(f.to)
		files[0].answers = page.None
		files = append(files, files[0])
		files[1].name, files[1].answers = strings.TrimSuffix(f.to, ending)+".answers"+ending, page.Apart
	}
	for _, file := range files {
		var b bytes.Buffer
		opt.Answers = file.answers
		if err := write(&b, opt); err != nil {
			return &failure{codeWrong, words.Say("%s", err)}
		}
		if file.name == "" {
			_, err := a.out.Write(b.Bytes())
			return err
		}
		if err := a.writeNew(file.name, b.Bytes(), f.over); err != nil {
			return err
		}
	}
	return nil
}

// now is the time, or what SOURCE_DATE_EPOCH says, so that a page can be made again byte for byte.
func (a *app) now() time.Time {
	if s, err := strconv.ParseInt(a.getenv("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		return time.Unix(s, 0).UTC()
	}
	return time.Now()
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
