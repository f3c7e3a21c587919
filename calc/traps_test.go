package calc_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

// The rows of testdata/traps are lines that someone will type. Files have the
// form that published_test.go describes, with other columns.
//
// wrong.tsv holds lines that must be refused:
//
//	lines    as in published_test.go
//	at       row and column of the one error, counted from 1
//	message  words that the message must hold
//	cure     words that the cure must hold, " & " between them; empty if there
//	         need not be one
//	trap     the family of the trap
//
// A row passes only if there is one error and no other: one cause, one error,
// and the sound lines beside it are answered.
//
// right.tsv holds lines that must be answered:
//
//	lines     as in published_test.go
//	read      nothing for the last question; a name; "verdict" for the last rule;
//	          "verdict of NAME" for a card; "fails" for the rows in which the last
//	          rule does not hold; "worst" for the verdict of the notebook; "notice"
//	          for words that a notice must hold; "waiting" for the names that lines
//	          wait for; "print" for how the last line is written canonically; "find"
//	          for what the last find line has found, as study_find_test.go spells it
//	expected  the answer as it is shown; ", " between the rows of a column
//	trap      the family of the trap
//
// Sheets in the folder are the own sheets that rows put to use.
const (
	wrongLines = "../testdata/traps/wrong.tsv"
	rightLines = "../testdata/traps/right.tsv"
	trapSheets = "../testdata/traps"
)

// openTrap is open with the own sheets of the folder in sight.
func openTrap(lines string) *calc.Book {
	text := strings.ReplaceAll(lines, lineBreak, "\n") + "\n"
	return calc.Open(syntax.ParseFile([]byte(text)).Lines, library.At(trapSheets))
}

func TestWrongLines(t *testing.T) {
	rows := readRows(t, wrongLines, "lines", "at", "message", "cure", "trap")
	if len(rows) < 150 {
		t.Errorf("there are %d rows, want 150 at least", len(rows))
	}
	for _, r := range rows {
		if err := r.refused(); err != nil {
			t.Errorf("%s: %s: %v", r.at, r.of["lines"], err)
		}
	}
}

func TestRightLines(t *testing.T) {
	for _, r := range readRows(t, rightLines, "lines", "read", "expected", "trap") {
		if err := r.shown(); err != nil {
			t.Errorf("%s: %s: %v", r.at, r.of["lines"], err)
		}
	}
}

// Every answer can be typed back and is then the same answer, to the digits
// that were shown.
func TestShownAnswersParseBack(t *testing.T) {
	for _, r := range readRows(t, rightLines, "lines", "read", "expected", "trap") {
		v := answered(openTrap(r.of["lines"]).Answers(), "")
		if r.of["read"] != "" || v == nil || v.Column() || v.Texts != nil || !v.Sound() {
			continue
		}
		again := answered(openTrap(v.String()).Answers(), "")
		if again == nil {
			t.Errorf("%s: %s: the answer %s cannot be typed back", r.at, r.of["lines"], v)
			continue
		}
		if err := compare(again, v, "0.1 %"); v.Numbers[0] != 0 && !v.Unit.Percent() && err != nil {
			t.Errorf("%s: %s: typed back, %v", r.at, r.of["lines"], err)
		}
		if again.String() != v.String() {
			t.Errorf("%s: %s: typed back, %s is shown as %s", r.at, r.of["lines"], v, again)
		}
	}
}

// A text is kept byte for byte, however wrong it is.
func TestTrapsAreKept(t *testing.T) {
	for _, r := range readRows(t, wrongLines, "lines", "at", "message", "cure", "trap") {
		text := strings.ReplaceAll(r.of["lines"], lineBreak, "\n")
		if got := string(syntax.ParseFile([]byte(text)).Bytes()); got != text {
			t.Errorf("%s: %q is kept as %q", r.at, text, got)
		}
	}
}

// Each bound has its message: length of a row, depth, length of a number.
func TestBounds(t *testing.T) {
	deep := func(n int) string { return strings.Repeat("(", n) + "1" + strings.Repeat(")", n) }
	bounds := []struct{ what, lines, at, message string }{
		{"a long row", "1" + strings.Repeat(" + 1", 1024), "1:1", "too many characters"},
		{"a deep row", deep(syntax.MaxDepth + 1), fmt.Sprintf("1:%d", syntax.MaxDepth+1), "nests more than 200 deep"},
		{"many signs", strings.Repeat("-", 300) + "1", "1:201", "nests more than 200 deep"},
		{"a long unit", "1 " + strings.Repeat("m*", 70) + "m", "1:3", "longer than 128 characters"},
	}
	for _, b := range bounds {
		r := row{of: map[string]string{"lines": b.lines, "at": b.at, "message": b.message}}
		if err := r.refused(); err != nil {
			t.Errorf("%s: %v", b.what, err)
		}
	}
	if err := (row{of: map[string]string{"lines": deep(syntax.MaxDepth), "read": "", "expected": "1"}}).shown(); err != nil {
		t.Errorf("as deep as may be: %v", err)
	}
}

// Spoiled rows must be reported: a check that cannot fail checks nothing.
func TestTrapsCanFail(t *testing.T) {
	wrong := map[string]string{"lines": "2 V + 3 m", "at": "1:5", "message": "cannot be added", "cure": ""}
	right := map[string]string{"lines": "-2^2", "read": "", "expected": "-4"}
	for column, value := range map[string]string{"lines": "2 V + 3 V", "at": "1:6", "message": "cannot be divided", "cure": "write"} {
		r := row{of: with(wrong, column, value)}
		if r.refused() == nil {
			t.Errorf("a wrong line passes with %s %q", column, value)
		}
	}
	for column, value := range map[string]string{"lines": "(-2)^2", "read": "print", "expected": "4"} {
		r := row{of: with(right, column, value)}
		if r.shown() == nil {
			t.Errorf("a right line passes with %s %q", column, value)
		}
	}
	if err := (row{of: wrong}).refused(); err != nil {
		t.Error(err)
	}
	if err := (row{of: right}).shown(); err != nil {
		t.Error(err)
	}
}

// with is a row's cells with one of them changed.
func with(of map[string]string, column, value string) map[string]string {
	m := map[string]string{column: value}
	for c, v := range of {
		if c != column {
			m[c] = v
		}
	}
	return m
}

// refused reports how the errors of a row's lines differ from the one wanted.
func (r row) refused() error {
	var errors []syntax.Diag
	book := openTrap(r.of["lines"])
	for i := range book.Lines() {
		a, err := book.AnswerStudied(context.Background(), i)
		if err != nil {
			return err
		}
		errors = append(errors, a.Errors...)
	}
	switch {
	case len(errors) == 0:
		return fmt.Errorf("no error; want one at %s: …%s…", r.of["at"], r.of["message"])
	case len(errors) > 1:
		return fmt.Errorf("%d errors, want one:%s", len(errors), listed(errors))
	}
	d := errors[0]
	wrong := fmt.Sprintf("%d:%d", d.At.Row, d.At.Col) != r.of["at"] || !strings.Contains(d.Message, r.of["message"])
	for _, words := range strings.Split(r.of["cure"], " & ") {
		wrong = wrong || !strings.Contains(d.Cure, words)
	}
	if wrong {
		return fmt.Errorf("got%s\n\twant %s: %s; %s", listed(errors), r.of["at"], r.of["message"], r.of["cure"])
	}
	return nil
}

// listed spells errors below one another.
func listed(errors []syntax.Diag) string {
	var b strings.Builder
	for _, d := range errors {
		fmt.Fprintf(&b, "\n\t     %d:%d: %s; %s", d.At.Row, d.At.Col, d.Message, d.Cure)
	}
	return b.String()
}

// shown reports how what a row shows differs from what is wanted.
func (r row) shown() error {
	book := openTrap(r.of["lines"])
	read, want := r.of["read"], r.of["expected"]
	judged := strings.HasPrefix(read, "verdict of ") || slices.Contains([]string{"verdict", "fails", "worst", "waiting"}, read)
	for _, a := range book.Answers() {
		if len(a.Errors) > 0 && !judged { // what has no verdict is in error too
			return fmt.Errorf("in error:%s", listed(a.Errors))
		}
	}
	if _, err := onCard(book.Answers(), read); err != errNotOfCard {
		return wantOnCard(book.Answers(), read, want)
	}
	got := lookedAt(book, read)
	if read == "notice" && strings.Contains(got, want) {
		return nil
	}
	if got != want {
		return fmt.Errorf("got %q, want %q", got, want)
	}
	return nil
}

// lookedAt gives what the column read asks for, as it is shown.
func lookedAt(book *calc.Book, read string) string {
	answers := book.Answers()
	switch read {
	case "print":
		return syntax.Print(answers[len(answers)-1].Line)
	case "notice":
		var said []string
		for i := range answers {
			a, err := book.AnswerStudied(context.Background(), i)
			if err != nil {
				return err.Error()
			}
			for _, n := range a.Notices {
				said = append(said, n.Error())
			}
		}
		return strings.Join(said, "\n")
	case "worst":
		return book.Verdict().String()
	case "waiting":
		var names []string
		for _, a := range answers {
			names = append(names, a.Waiting...)
		}
		return strings.Join(names, ", ")
	case "find":
		if f, is := lastStudy(book).(*answer.Found); is {
			return spellFind(f)
		}
		return ""
	case "verdict", "fails":
		return ruled(answers, read == "fails")
	}
	v := answered(book.Answers(), read)
	switch {
	case v == nil:
		return ""
	case !v.Column():
		s := forReaders(v, 0)
		if !v.Tol.IsZero() {
			s += " +- " + v.Tol.String()
		}
		return s
	}
	cells := make([]string, len(v.Numbers))
	for i := range cells {
		cells[i] = forReaders(v, i)
	}
	return strings.Join(cells, ", ")
}

// forReaders spells a row with the signs of its unit: mm², and not mm2.
func forReaders(v *answer.Value, row int) string {
	if v.Fault(row) != "" || !v.Quantity() || !v.Unit.Follows() || !v.Literal.IsZero() {
		return v.Cell(row)
	}
	return v.Number(row) + " " + v.Unit.Shown()
}

// ruled gives the verdict of the last rule, or the rows in which it fails.
func ruled(answers []*calc.Answer, fails bool) string {
	said := ""
	for _, a := range answers {
		switch {
		case a.Rule == nil:
		case fails:
			said = strings.Join(a.Rule.Fails, ", ")
		default:
			said = a.Rule.Verdict.String()
		}
	}
	return said
}
