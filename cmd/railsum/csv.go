package main

import (
	"context"
	"encoding/csv"
	"strconv"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	machine "railsum/calc/run"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/progress"
	"railsum/cmd/railsum/show"
	"railsum/units"
)

const csvHelp = `
--csv writes the rows of a vary line as they are computed, however many, or those
of a show line: first a row of heads, each a name with its unit in brackets, then a
row for each point or label, its numbers with all their digits in those units. A
value without an answer is empty; a text with a comma or a quote stands in quotes
(RFC 4180). Rows end with a line feed.
`

// csvLine finds the vary or show line to write: the one on a row, or for row 0
// the only one.
func csvLine(lines []*syntax.Line, row int, cure string) (int, error) {
	found, rows := -1, []string{}
	for i, l := range lines {
		switch l.Node.(type) {
		case *syntax.Vary, *syntax.Show:
		default:
			continue
		}
		rows = append(rows, strconv.Itoa(l.Row))
		if row == 0 || l.Row == row {
			found = i
		}
	}
	switch {
	case len(rows) == 0:
		return 0, misuse("--csv writes a vary or show line, and there is none").
			With("a line such as `vary x from 1 m to 5 m by 1 m show y` makes one")
	case found < 0:
		return 0, misuse("line %d is no vary or show line", row).With("there is one on line " + strings.Join(rows, ", "))
	case row == 0 && len(rows) > 1:
		return 0, misuse("--csv writes one vary or show line, and there are %d, on lines %s", len(rows),
			strings.Join(rows, ", ")).
			With(cure)
	}
	return found, nil
}

// csv streams the rows of line i to standard output.
func (a *app) csv(ctx context.Context, name string, book *calc.Book, i int) error {
	row := a.progress()
	if show.IsTerminal(a.world.stdout) { // rows that pass by are progress enough
		row = new(progress.Row)
	}
	defer row.End()
	book.OnProgress(row.Tell)
	row.Begin("line %d, %s", book.Lines()[i].Row, book.Lines()[i].Node.(syntax.Study).Word())
	ans, err := book.AnswerStudied(ctx, i)
	if err != nil {
		return err
	}
	t := &sweepTable{app: a, name: name, ctx: ctx, book: book, at: i, row: row}
	outline.Of(name, []*calc.Answer{ans}, true).Write(t)
	return t.err
}

// sweepTable writes a sweep as comma-separated values, a block of rows at a
// time. Names and units are those that the first rows have settled.
type sweepTable struct {
	app   *app
	name  string // of the file
	ctx   context.Context
	book  *calc.Book
	at    int // which line
	row   *progress.Row
	shown *answer.Varied
	cells []cell
	buf   []byte
	err   error
}

// A sweep stands alone: all that is not of it is left out.
func (t *sweepTable) Begin(*outline.Outline)                  {}
func (t *sweepTable) Each(*syntax.Line)                       {}
func (t *sweepTable) End(*outline.Outline)                    {}
func (t *sweepTable) Heading(*outline.Item, *outline.Heading) {}
func (t *sweepTable) Prose(*outline.Item, *outline.Prose)     {}
func (t *sweepTable) Answer(*outline.Item, *outline.Answer)   {}
func (t *sweepTable) Verdict(*outline.Item, *outline.Verdict) {}
func (t *sweepTable) Card(*outline.Item, *outline.Card)       {}
func (t *sweepTable) Working(*outline.Item, *answer.Working)  {}
func (t *sweepTable) Hazard(*outline.Item, *outline.Hazard)   {}
func (t *sweepTable) Source(*outline.Item, *outline.Source)   {}

// Fault says on standard error why there are no rows.
func (t *sweepTable) Heard(*outline.Item, *outline.Heard) {}

func (t *sweepTable) Fault(i *outline.Item, f *outline.Fault) {
	if len(f.Errors)+len(f.Waiting) > 0 {
		t.row.End()
		t.app.errors().Diags(t.name, i.Line, f.Errors)
		t.app.note(codeWrong)
	}
}

// Study streams a sweep, or writes a table.
func (t *sweepTable) Study(_ *outline.Item, s answer.Study) {
	varied, is := s.(*answer.Varied)
	if table, listed := s.(*answer.Table); listed {
		t.err = t.table(table)
	}
	if !is {
		return
	}
	sweep, problem := t.book.Lab().Sweep(t.book.C.Studies[t.at])
	if problem != nil {
		t.err = &failure{codeWrong, problem.Wrong} // the study has met it before
		return
	}
	t.shown, sweep = varied, sweep.ShowOnly()
	if t.err = t.head(); t.err == nil {
		t.err = sweep.Run(t.ctx, func(first, n int, cols []*machine.Col) error { return t.rows(first, n, sweep.Axis, cols) })
	}
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
	for i := range t.shown.Shown {
		s := &t.shown.Shown[i]
		t.cells = append(t.cells, cell{s.Of, s.Row, s.Value.Type.Kind, s.Value.Unit})
		heads = append(heads, headOf(s))
	}
	w := csv.NewWriter(t.app.out)
	if err := w.Write(heads); err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// table writes the rows of a show line.
func (t *sweepTable) table(listed *answer.Table) error {
	heads := []string{"label"}
	for i := range listed.Columns {
		heads = append(heads, headed(listed.Columns[i].Name, listed.Columns[i].Value.Unit))
	}
	w := csv.NewWriter(t.app.out)
	w.Write(heads) // Flush gives its error
	for r := range listed.Shown() {
		row := []string{show.Safe(listed.Columns[0].Value.Label(r))}
		for i := range listed.Columns {
			row = append(row, show.Safe(listed.Columns[i].Value.Full(r)))
		}
		w.Write(row)
	}
	w.Flush()
	return w.Error()
}

func headOf(s *answer.Series) string { return headed(s.Name(), s.Value.Unit) }

// headed is a name with its unit: "north.lost (mV)".
func headed(name string, u units.Unit) string {
	if !u.Follows() {
		return show.Safe(name)
	}
	return show.Safe(name) + " (" + u.String() + ")"
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
	_, err := t.app.out.Write(b)
	return err
}

func (t *sweepTable) cell(b []byte, c cell, v float64) []byte {
	switch c.kind {
	case types.Text:
		return append(b, quoted(show.Safe(t.book.M.Text(v)))...)
	case types.Truth:
		if v != 0 {
			return append(b, "yes"...)
		}
		return append(b, "no"...)
	case types.Date:
		return append(b, units.FormatDate(v)...)
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
