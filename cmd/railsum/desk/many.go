package desk

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"railsum/cmd/railsum/desk/lineedit"
	"railsum/sessions"
)

// span is some rows of the notebook, by their numbers.
type span struct{ from, to int }

// spans reads numbers of rows: "14", "14 15 19", "27 to 31".
func (d *desk) spans(args string) ([]span, error) {
	words := strings.FieldsFunc(args, func(r rune) bool { return r == ' ' || r == ',' })
	var all []span
	for i := 0; i < len(words); i++ {
		n, err := d.rowNumber(words[i])
		if err != nil {
			return nil, err
		}
		s := span{n, n}
		if i+2 < len(words) && words[i+1] == "to" {
			if s.to, err = d.rowNumber(words[i+2]); err != nil {
				return nil, err
			}
			if s.to < s.from {
				return nil, refusal("%d comes before %d", s.to, s.from).With(fmt.Sprintf("write %d to %d", s.to, s.from))
			}
			i += 2
		}
		all = append(all, s)
	}
	return all, nil
}

// linesOf are the lines of some rows, which must be whole lines: the number of a
// table's first row stands for all of it.
func (d *desk) linesOf(s span) ([]int, error) {
	first, within := d.s.At(s.from)
	if within > 0 {
		return nil, d.inTable(s.from, within)
	}
	last, within := d.s.At(s.to)
	if end := d.s.Lines()[last].Rows() - 1; within > 0 && within < end {
		return nil, d.inTable(s.to, within)
	}
	var lines []int
	for i := first; i <= last; i++ {
		lines = append(lines, i)
	}
	return lines, nil
}

func (d *desk) inTable(n, within int) error {
	return refusal("line %d is a row of a table", n).
		With(fmt.Sprintf("its table is line %d; `strike` with one number takes out a row", n-within))
}

// before is the line before which something is put: one more than there are for
// the number of the next.
func (d *desk) before(word string) (int, error) {
	word = strings.TrimSpace(word)
	if n, err := strconv.Atoi(strings.TrimSuffix(word, ".")); err == nil && n == d.s.NextRow() {
		return len(d.s.Lines()), nil
	}
	n, err := d.rowNumber(word)
	if err != nil {
		return 0, err
	}
	i, within := d.s.At(n)
	if within > 0 {
		return 0, refusal("line %d is a row of a table", n).With(fmt.Sprintf("its table begins at line %d", n-within))
	}
	return i, nil
}

// insert puts lines before another: one given with the order, or those that are
// typed until an empty one.
func (d *desk) insert(args string) error {
	rest, is := strings.CutPrefix(args, "before ")
	where, text, _ := strings.Cut(strings.TrimSpace(rest), " ")
	if !is || where == "" {
		return misuse("insert")
	}
	i, err := d.before(where)
	if err != nil {
		return err
	}
	var texts []string
	row := d.s.RowOf(i)
	if text != "" {
		if text, err = d.formed(text, row); err != nil {
			return err
		}
		texts = []string{text}
	} else if texts, err = d.typed(row); err != nil {
		return err
	}
	edit, err := d.s.Insert(i, texts...)
	return d.done(edit, err)
}

// typed asks for lines until an empty one; one with a mistake is asked for again.
func (d *desk) typed(row int) ([]string, error) {
	d.note("An empty line ends this; Ctrl-C drops it.")
	var texts []string
	for offer := ""; ; {
		text, err := d.prompt(d.number(row), offer)
		switch {
		case errors.Is(err, lineedit.ErrInterrupted):
			return nil, refusal("nothing was inserted")
		case err != nil && !errors.Is(err, lineedit.EOF):
			return nil, err
		case err != nil || strings.TrimSpace(text) == "":
			return texts, nil
		}
		formed, err := d.formed(text, row)
		if err != nil {
			d.refuse(err)
			offer = text
			continue
		}
		offer = ""
		texts = append(texts, formed)
		row += strings.Count(formed, "\n") + 1
	}
}

// formed takes a text as a line, all rows of it if it opens a table.
func (d *desk) formed(text string, row int) (string, error) {
	line, err := d.block(text, row)
	if err != nil {
		return "", err
	}
	if err := d.s.DropDraft(); err != nil {
		return "", err
	}
	line, taken := d.listen(line, d.s.Lines())
	switch {
	case !taken:
		return "", refusal("the line was not taken")
	case mistaken(line):
		return "", &sessions.Refusal{Diags: line.Errors, Line: line}
	}
	d.remember(line)
	return line.Raw, nil
}

// copyFrom adds what another notebook has under some names.
func (d *desk) copyFrom(args string) error {
	what, file, is := strings.Cut(args, " from ")
	names := strings.FieldsFunc(what, func(r rune) bool { return r == ' ' || r == ',' })
	file = strings.Trim(strings.TrimSpace(file), "\"")
	if !is || len(names) == 0 || file == "" {
		return misuse("copy")
	}
	path := d.path(withEnding(file))
	if d.s.Dir() != "" && !filepath.IsAbs(file) {
		path = filepath.Join(d.s.Dir(), withEnding(file))
	}
	f, err := sessions.Load(path)
	switch {
	case err != nil:
		return err
	case !f.Exists:
		return refusal("there is no file %s beside this notebook", withEnding(file))
	}
	f.Name = withEnding(file)
	edit, err := d.s.Bring(f, names...)
	return d.done(edit, err)
}
