package calc_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/library"
)

// The rows of testdata/published are checks against what stands outside this
// program. A file is tab separated; rows that begin with "#" are notes, the
// first other row names the columns:
//
//	lines      lines of the language, " ; " standing for the end of a line: a
//	           semicolon is no mark of the language, so it cannot occur in one
//	read       what to look at: a name, or "NAME.ANSWER" for an answer or input
//	           of a placed sheet; nothing for the last question; "+-" for the
//	           tolerance of the last question; "verdict of NAME" for the
//	           verdict on the card of a placed sheet; "rule of NAME: CONDITION"
//	           for that of one rule of it, which begins so ("PIECE, CONDITION"
//	           where several pieces have such a rule); "hazards of NAME: WORDS"
//	           for whether the card shows a hazard that begins so; or what the
//	           last study says, in the words of study_read_test.go
//	expected   a literal of the language, none, or a verdict
//	tolerance  "exact" (to 1e-12 of the value), a percentage of the value, or a
//	           distance in the unit of the value; where the value is itself a
//	           percentage, a percentage is a distance
//	basis      published (printed in the source, or computed from its figures
//	           by a named library), derived (own arithmetic from named laws),
//	           practice (common in the trade, no source) or memory (recalled,
//	           not looked up)
//	source     standard and table, handbook and page, or what the check rests on
//
// In every column \t, \r and \uXXXX stand for the character.

const published = "../testdata/published/*.tsv"

var bases = []string{"published", "derived", "practice", "memory"}

// lineBreak stands for the end of a line in the column lines.
const lineBreak = " ; "

func TestPublished(t *testing.T) {
	rows := readRows(t, published, "lines", "read", "expected", "tolerance", "basis", "source")
	if len(rows) < 260 {
		t.Errorf("there are %d rows, want 260 at least", len(rows))
	}
	var book *calc.Book
	for i, r := range rows {
		if i == 0 || r.of["lines"] != rows[i-1].of["lines"] {
			book = open(r.of["lines"])
		}
		if !slices.Contains(bases, r.of["basis"]) {
			t.Errorf("%s: the basis is %q, want one of %v", r.at, r.of["basis"], bases)
		}
		if r.of["source"] == "" {
			t.Errorf("%s: no source", r.at)
		}
		holds, err := r.look(book)
		if err == nil {
			err = holds(r.of["expected"])
		}
		if err != nil {
			t.Errorf("%s: %s: %v", r.at, r.of["lines"], err)
			continue
		}
		// A check that cannot fail checks nothing.
		if spoilt := spoiled(t, r.of["expected"]); holds(spoilt) == nil {
			t.Errorf("%s: %s: passes for %s too", r.at, r.of["lines"], spoilt)
		}
	}
}

// Own arithmetic and common practice are held to a thousandth; a row that is
// not says why, after the word loose.
func TestTolerances(t *testing.T) {
	for _, r := range readRows(t, published, "lines", "read", "expected", "tolerance", "basis", "source") {
		if r.of["basis"] != "derived" && r.of["basis"] != "practice" || r.of["tolerance"] == "exact" {
			continue
		}
		want, err := literal(r.of["expected"])
		if err != nil {
			t.Fatalf("%s: %v", r.at, err)
		}
		by, err := allowance(want, r.of["tolerance"])
		if err != nil {
			t.Fatalf("%s: %v", r.at, err)
		}
		if off := math.Abs(want.Numbers[0]); off > 0 && by > 1.0001e-3*off && !strings.Contains(r.of["source"], "loose: ") {
			t.Errorf("%s: %s, %s: %s is held to %.2g only", r.at, r.of["lines"], r.of["read"], r.of["expected"], by/off)
		}
	}
}

// practiceOnly are the sheets for which no figure has been found in print: they
// rest on common practice, hand-worked rows and limiting cases.
var practiceOnly = []string{"stub", "cut_list", "breakers", "accessories", "crossing", "reversing", "turntable", "frog", "axles", "sections", "dwell", "leak", "motor",
	"servo", "siding", "helix", "easement", "cant", "districts", "programming", "feed"}

// Each way a row can go wrong is reported; that a spoiled expectation is, TestPublished holds of every row.
func TestPublishedCanFail(t *testing.T) {
	wrong := []struct{ what, lines, read, expected, tolerance string }{
		{"another value", "25 m at H0 as mm", "", "287.0 mm", "0.05 mm"},
		{"another dimension", "25 m at H0 as mm", "", "287.4 mm2", "1 %"},
		{"a plain number for a quantity", "2 * 3 V", "", "6", "1 %"},
		{"a difference for a temperature", "68 degF as degC", "", "293.15 K", "1 %"},
		{"another text", `bands(3k3)`, "", `"orange orange red silver"`, "exact"},
		{"a text for a number", "3k3", "", `"3k3"`, "exact"},
		{"the other truth", "2 V > 1 V", "", "no", "exact"},
		{"another tolerance", `resistor("yellow violet red gold")`, "+-", "10 %", "exact"},
		{"a tolerance where there is none", "3k3", "+-", "5 %", "exact"},
		{"another verdict", "use drop for x with wire = 0.14 mm2, trip = 10 A", "verdict of x", "clear", "exact"},
		{"a name that is not there", "a = 3 V", "b", "3 V", "exact"},
		{"no question", "a = 3 V", "", "3 V", "exact"},
		{"a line in error", "a = 3 V + 2 m ; 5 V", "", "5 V", "exact"},
		{"no answer", "1 / 0", "", "0", "exact"},
		{"a value for none", "x = none as V", "x", "0 V", "exact"},
		{"none for a value", "2 V", "", "none", "exact"},
		{"an expectation that is a sum", "2 V", "", "1 V + 1 V", "exact"},
		{"a tolerance of another dimension", "2 V", "", "2 V", "1 m"},
	}
	for _, w := range wrong {
		r := row{at: w.what, of: map[string]string{"lines": w.lines, "read": w.read, "expected": w.expected, "tolerance": w.tolerance}}
		if r.check() == nil {
			t.Errorf("%s passes: %s gives %s", w.what, w.lines, w.expected)
		}
	}
}

// A row is one check, by the names of its columns.
type row struct {
	at string // file and row
	of map[string]string
}

// readRows reads the rows of all files of a pattern.
func readRows(t *testing.T, pattern string, columns ...string) []row {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files %s: %v", pattern, err)
	}
	var rows []row
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		headed := false
		for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
			at := fmt.Sprintf("%s:%d", filepath.Base(path), i+1)
			cells := strings.Split(line, "\t")
			switch {
			case strings.HasPrefix(line, "# "):
			case !headed:
				if headed = true; !slices.Equal(cells, columns) {
					t.Fatalf("%s: the columns are %q, want %q", at, cells, columns)
				}
			case len(cells) != len(columns):
				t.Fatalf("%s: %d cells, want %d", at, len(cells), len(columns))
			default:
				r := row{at, map[string]string{}}
				for j, c := range cells {
					r.of[columns[j]] = unescaped(t, at, c)
				}
				rows = append(rows, r)
			}
		}
	}
	return rows
}

// unescaped puts characters in place that cannot be seen in a file.
func unescaped(t *testing.T, at, cell string) string {
	t.Helper()
	if !strings.Contains(cell, `\`) {
		return cell
	}
	s, err := strconv.Unquote(`"` + strings.ReplaceAll(cell, `"`, `\"`) + `"`)
	if err != nil {
		t.Fatalf("%s: %s cannot be read: %v", at, cell, err)
	}
	return s
}

// open puts lines through the front door: read, check, compute.
func open(lines string) *calc.Book { return openIn(lines, library.Shipped()) }

func openIn(lines string, lib calc.Library) *calc.Book {
	text := strings.ReplaceAll(lines, lineBreak, "\n") + "\n"
	return calc.Open(syntax.ParseFile([]byte(text)).Lines, lib)
}

// check reports what is wrong with a row, nil if it holds.
func (r row) check() error { return r.checkOn(open(r.of["lines"])) }

// checkOn does so where the row's lines are open already.
func (r row) checkOn(book *calc.Book) error {
	holds, err := r.look(book)
	if err != nil {
		return err
	}
	return holds(r.of["expected"])
}

// look reads what a row wants to read, once, and gives what holds it to an expectation.
func (r row) look(book *calc.Book) (holds func(expected string) error, err error) {
	answers := book.Answers()
	for _, a := range answers {
		if len(a.Errors) > 0 {
			return nil, fmt.Errorf("%s is in error: %w", a.Line.Raw, a.Errors[0])
		}
	}
	if _, err := onCard(answers, r.of["read"]); err != errNotOfCard {
		return func(expected string) error { return wantOnCard(answers, r.of["read"], expected) }, err
	}
	got, err := studyRead(book, r.of["read"])
	if err != nil {
		return nil, err
	}
	if got == nil {
		got = answered(answers, strings.TrimSuffix(r.of["read"], "+-"))
	}
	return func(expected string) error { return r.holds(got, expected) }, nil
}

// holds reports how a value that has been read differs from what is expected.
func (r row) holds(got *answer.Value, expected string) error {
	if none := got != nil && got.Fault(0) == answer.None; none || expected == answer.None {
		if none != (expected == answer.None) {
			return fmt.Errorf("got %s, want %s", got, expected)
		}
		return nil
	}
	want, err := literal(expected)
	switch {
	case err != nil:
		return fmt.Errorf("expected: %w", err)
	case got == nil || got.Column() || len(got.Numbers) != 1:
		return fmt.Errorf("there is no single value to read")
	case !got.Sound():
		return fmt.Errorf("no answer: %s", got.Faults[0])
	case r.of["read"] == "+-":
		if got.Tol.IsZero() {
			return fmt.Errorf("the answer %s has no tolerance", got)
		}
		if got, err = literal(got.Tol.String()); err != nil {
			return err
		}
	}
	return compare(got, want, r.of["tolerance"])
}

// answered gives the value of a name, or of the last question.
func answered(answers []*calc.Answer, name string) *answer.Value {
	var last *answer.Value
	placed, of, _ := strings.Cut(name, ".")
	for _, a := range answers {
		for _, c := range a.Cards {
			for _, line := range slices.Concat(c.Gives, c.Asks) {
				if c.Name == placed && line.Name == of {
					return line.Value
				}
			}
		}
		_, question := a.Line.Node.(*syntax.Question)
		if name == "" && question || name != "" && a.Name == name {
			last = a.Value
		}
	}
	return last
}

// wantOnCard holds the card of a placed sheet to what is to be read on it.
func wantOnCard(answers []*calc.Answer, read, want string) error {
	if got, err := onCard(answers, read); err != nil {
		return err
	} else if got != want {
		return fmt.Errorf("it says %s, want %s", got, want)
	}
	return nil
}

var errNotOfCard = errors.New("not to be read on a card")

// onCard reads a verdict, or whether a hazard shows, on the card of a placed
// sheet; the error is errNotOfCard where the words ask for something else.
func onCard(answers []*calc.Answer, read string) (string, error) {
	what, name, ok := strings.Cut(read, " of ")
	if !ok || !slices.Contains([]string{"verdict", "rule", "hazards"}, what) {
		return "", errNotOfCard
	}
	name, detail, _ := strings.Cut(name, ": ")
	for _, a := range answers {
		for _, c := range a.Cards {
			switch {
			case c.Name != name:
			case what == "rule":
				return ruleOn(c, detail)
			case what == "hazards":
				begins := func(h string) bool { return strings.HasPrefix(h, detail) }
				return map[bool]string{true: "yes", false: "no"}[slices.ContainsFunc(c.Hazards, begins)], nil
			default:
				return c.Verdict.String(), nil
			}
		}
	}
	return "", fmt.Errorf("no sheet is placed as %s", name)
}

// ruleOn gives the verdict of the one rule on a card that begins so: of the
// sheet's own if one does, else of its pieces'. A whole rule of the sheet's own
// is that rule, though another may begin so.
func ruleOn(c *answer.Card, begins string) (string, error) {
	var own, pieces []answer.Judged
	for _, r := range c.Rules {
		switch {
		case r.Piece == "" && r.Cond.String() == begins:
			return r.Verdict.String(), nil
		case r.Piece == "" && strings.HasPrefix(r.Cond.String(), begins):
			own = append(own, r)
		case r.Piece != "" && (strings.HasPrefix(r.Cond.String(), begins) || strings.HasPrefix(r.Piece+", "+r.Cond.String(), begins)):
			pieces = append(pieces, r)
		}
	}
	if len(own) == 0 {
		own = pieces
	}
	if len(own) != 1 {
		return "", fmt.Errorf("%d rules begin with %q", len(own), begins)
	}
	return own[0].Verdict.String(), nil
}

// literal reads an expectation. It must be a literal as such: what has to be
// computed is no expectation.
func literal(text string) (*answer.Value, error) {
	line, _ := syntax.ParseLine(text)
	q, ok := line.Node.(*syntax.Question)
	if !ok || q.Tail.As != nil || q.Tail.Tol != nil {
		return nil, fmt.Errorf("%q is no literal", text)
	}
	x := q.Expr
	if u, ok := x.(*syntax.Unary); ok && u.Op == "-" {
		x = u.X
	}
	switch x.(type) {
	case *syntax.Literal, *syntax.Text, *syntax.Truth:
	default:
		return nil, fmt.Errorf("%q is no literal", text)
	}
	return answered(open(text).Answers(), ""), nil
}

// compare reports how an answer differs from what was expected of it.
func compare(got, want *answer.Value, tolerance string) error {
	if got.Type.Kind != want.Type.Kind || got.Type.Dim != want.Type.Dim {
		return fmt.Errorf("got %s, %s; want %s, %s", got, got.Type.Words(), want, want.Type.Words())
	}
	if got.Type.Kind == types.Text {
		if got.Texts[0] != want.Texts[0] {
			return fmt.Errorf("got %q, want %q", got.Texts[0], want.Texts[0])
		}
		return nil
	}
	x, y := got.Numbers[0], want.Numbers[0]
	allowed, err := allowance(want, tolerance)
	if err != nil {
		return err
	}
	// The slack is for an expectation that lies just on the edge, as a printed
	// figure does whose last digit was rounded from a five.
	if !(math.Abs(x-y) <= allowed*(1+1e-9)) {
		return fmt.Errorf("got %s (%.9g), want %s (%.9g) within %s", got, x, want, y, tolerance)
	}
	return nil
}

// allowance is how far an answer may lie from what is expected, in SI.
func allowance(want *answer.Value, tolerance string) (float64, error) {
	if tolerance == "exact" {
		return 1e-12 * math.Abs(want.Numbers[0]), nil
	}
	by, err := literal(tolerance)
	switch {
	case err != nil:
		return 0, fmt.Errorf("tolerance: %w", err)
	case by.Unit.Percent() && !want.Unit.Percent():
		return by.Numbers[0] * math.Abs(want.Numbers[0]), nil
	case want.Type.Kind == types.Point && by.Unit.String() == "K":
	case want.Type.Kind == types.Point || by.Type.Dim != want.Type.Dim:
		return 0, fmt.Errorf("the tolerance is %s, want %s", by.Type.Words(), want.Type.Words())
	}
	return by.Numbers[0], nil
}

// spoiled makes an expectation that must not hold where the given one does.
func spoiled(t *testing.T, expected string) string {
	t.Helper()
	other := map[string]string{"yes": "no", "no": "yes", "clear": "danger", "caution": "clear", "danger": "clear", "no verdict": "clear", answer.None: "1"}
	if o, ok := other[expected]; ok {
		return o
	}
	want, err := literal(expected)
	if err != nil {
		t.Fatal(err)
	}
	if want.Type.Kind == types.Text {
		return `"not ` + want.Texts[0] + `"`
	}
	number, unit, _ := strings.Cut(expected, " ")
	if x, err := strconv.ParseFloat(number, 64); err == nil {
		number = strconv.FormatFloat(1.5*x+1, 'g', -1, 64)
	} else {
		number = "99"
	}
	return strings.TrimSpace(number + " " + unit)
}
