package main

import (
	"context"
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"railsum/calc"
	machine "railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/progress"
	"railsum/cmd/railsum/show"
	"railsum/units"
)

const csvHelp = `
--csv writes the rows of a vary line as they are computed, however many: first
a row of heads, each a name with its unit in brackets, then a row for each point,
its numbers with all their digits in those units. A value without an answer is
empty; a text with a comma or a quote stands in quotes (RFC 4180). Rows end with
a line feed.
`

// sweepLine finds the vary line to write: the one on a row, or for row 0 the
// only one.
func sweepLine(lines []*syntax.Line, row int, cure string) (int, error) {
	found, rows := -1, []string{}
	for i, l := range lines {
		if _, is := l.Node.(*syntax.Vary); !is {
			continue
		}
		rows = append(rows, strconv.Itoa(l.Row))
		if row == 0 || l.Row == row {
			found = i
		}
	}
	switch {
	case len(rows) == 0:
		return 0, misuse("--csv writes a vary line, and there is none").
			With("a line such as `vary x from 1 m to 5 m by 1 m show y` makes one")
	case found < 0:
		return 0, misuse("line %d is no vary line", row).With("a vary line stands on line " + strings.Join(rows, ", "))
	case row == 0 && len(rows) > 1:
		return 0, misuse("--csv writes one vary line, and there are %d, on lines %s", len(rows), strings.Join(rows, ", ")).
			With(cure)
	}
	return found, nil
}

// csv streams the sweep of line i to standard output.
func (a *app) csv(ctx context.Context, name string, book *calc.Book, i int) error {
	row := a.progress()
	if show.IsTerminal(a.world.stdout) { // rows that pass by are progress enough
		row = new(progress.Row)
	}
	defer row.End()
	book.OnProgress(row.Tell)
	row.Begin("line %d, vary", book.Lines()[i].Row)
	ans, err := book.AnswerStudied(ctx, i)
	if err != nil {
		return err
	}
	if len(ans.Errors)+len(ans.Waiting) > 0 || ans.Study == nil || ans.Study.Vary == nil {
		row.End()
		a.errors().Diags(name, ans.Line, ans.Errors)
		a.note(codeWrong)
		return nil
	}
	sweep, problem := book.Lab().Sweep(book.Checked().Studies[i])
	if problem != nil {
		return &failure{codeWrong, problem.Wrong} // the study has met it before
	}
	sweep = sweep.ShowOnly()
	t := sweepTable{w: a.out, book: book, shown: ans.Study.Vary}
	if err := t.head(); err != nil {
		return err
	}
	return sweep.Run(ctx, func(first, n int, cols []*machine.Col) error {
		return t.rows(first, n, sweep.Axis, cols)
	})
}

// sweepTable writes a sweep as comma-separated values, a block of rows at a
// time. Names and units are those that the first rows have settled.
type sweepTable struct {
	w     io.Writer
	book  *calc.Book
	shown *calc.Varied
	cells []cell
	buf   []byte
}

// cell is where a shown value comes from.
type cell struct {
	of, row int // which shown expression, and which row of a column
	kind    types.Kind
	unit    units.Unit
}

func (t *sweepTable) head() error {
	var heads []string
	for i := range t.shown.Axes {
		heads = append(heads, headOf(&t.shown.Axes[i]))
	}
	row := 0
	for i := range t.shown.Shown {
		s := &t.shown.Shown[i]
		if i > 0 && s.Of == t.shown.Shown[i-1].Of {
			row++
		} else {
			row = 0
		}
		t.cells = append(t.cells, cell{s.Of, row, s.Value.Type.Kind, s.Value.Unit})
		heads = append(heads, headOf(s))
	}
	w := csv.NewWriter(t.w)
	if err := w.Write(heads); err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// headOf is a name with its unit: "north.lost (mV)".
func headOf(s *calc.Series) string {
	if s.Value.Unit.IsZero() {
		return show.Safe(s.Name)
	}
	return show.Safe(s.Name) + " (" + s.Value.Unit.String() + ")"
}

func (t *sweepTable) rows(first, n int, axis func(i, row int) float64, cols []*machine.Col) error {
	b := t.buf[:0]
	for w := range n {
		for i := range t.shown.Axes {
			if i > 0 {
				b = append(b, ',')
			}
			b = units.AppendFull(b, t.shown.Axes[i].Value.Unit.FromSI(axis(i, first+w)))
		}
		for _, c := range t.cells {
			b = append(b, ',')
			v, mark := cols[c.of].At(c.row, w)
			if mark == 0 {
				b = t.cell(b, c, v)
			}
		}
		b = append(b, '\n')
	}
	t.buf = b
	_, err := t.w.Write(b)
	return err
}

func (t *sweepTable) cell(b []byte, c cell, v float64) []byte {
	switch c.kind {
	case types.Text:
		return append(b, quoted(show.Safe(t.book.Machine().Text(v)))...)
	case types.Truth:
		if v != 0 {
			return append(b, "yes"...)
		}
		return append(b, "no"...)
	}
	return units.AppendFull(b, c.unit.FromSI(v))
}

// quoted puts a text in quotes where commas, quotes or blanks at its start would
// be misread.
func quoted(s string) string {
	if s != "" && !strings.ContainsAny(s, ",\"\r\n") && s[0] != ' ' {
		return s
	}
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}
