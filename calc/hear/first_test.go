package hear_test

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/library"
)

// firstLines reads a list of lines: line, kind, wanted, how.
func firstLines(t *testing.T, file string) [][]string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, row := range strings.Split(strings.TrimRight(string(text), "\n"), "\n") {
		if strings.HasPrefix(row, "#") || strings.HasPrefix(row, "line\t") {
			continue
		}
		cells := strings.Split(row, "\t")
		if len(cells) != 4 {
			t.Fatalf("%s: not four columns: %q", file, row)
		}
		rows = append(rows, cells)
	}
	return rows
}

var index = hear.NewIndex(library.Shipped(), orders)

// orders stand in for the desk's.
var orders = []hear.Entry{
	{Kind: "order", Name: "quit", Form: "quit", Meaning: "leaves", Words: []string{"exit", "bye", "q", "logout", "leave"}},
	{Kind: "order", Name: "undo", Form: "undo", Meaning: "takes back the last change", Words: []string{"go back", "undo", "take back"}},
	{Kind: "order", Name: "redo", Form: "redo", Meaning: "does it again", Words: []string{"redo"}},
	{Kind: "order", Name: "strike", Form: "strike N", Meaning: "takes lines out", Words: []string{"delete", "remove"}},
	{Kind: "order", Name: "help", Form: "help", Meaning: "what can be typed", Words: []string{"?", "commands", "what can you do"}},
	{Kind: "order", Name: "save", Form: "save", Meaning: "writes the notebook", Words: []string{"save", "store"}},
	{Kind: "order", Name: "sheets", Form: "sheets", Meaning: "lists the sheets", Words: []string{"sheets", "list sheets"}},
	{Kind: "order", Name: "rename", Form: "rename A to B", Meaning: "renames", Words: []string{"rename"}},
	{Kind: "order", Name: "open", Form: "open FILE", Meaning: "goes on with another notebook", Words: []string{"open"}},
}

// typed is a line and the notebook that it is typed into: an empty one, or one of
// the lines that stand before " ; ".
func typed(text string) (before []*syntax.Line, line string) {
	rows := strings.Split(text, " ; ")
	for _, row := range rows[:len(rows)-1] {
		l, _ := syntax.ParseLine(row)
		before = append(before, l)
	}
	return before, rows[len(rows)-1]
}

// answered is what a line comes to, typed into its notebook.
func answered(text string) (a *calc.Answer, h *hear.Heard) {
	lines, line := typed(text)
	at := func(l *syntax.Line) (*calc.Book, *calc.Answer) {
		book := calc.Open(append(lines[:len(lines):len(lines)], l), library.Shipped())
		return book, book.Answer(len(lines))
	}
	l, _ := syntax.ParseLine(line)
	book, a := at(l)
	if !hear.Listens(book, l) {
		return a, nil
	}
	if h = hear.Beside(lines, library.Shipped(), index).Hear(line); h.Line != nil {
		_, a = at(h.Line)
	}
	return a, h
}

// agrees reports whether an answer is what is wanted, to four figures.
func agrees(a *calc.Answer, wanted string) bool {
	if len(a.Errors)+len(a.Waiting) > 0 || a.Value == nil || !a.Value.Sound() {
		return false
	}
	if text, ok := strings.CutPrefix(wanted, `"`); ok {
		return len(a.Value.Texts) == 1 && strings.Contains(a.Value.Texts[0], strings.TrimSuffix(text, `"`))
	}
	l, _ := syntax.ParseLine(wanted)
	w := calc.Open([]*syntax.Line{l}, library.Shipped()).Answer(0).Value
	return w != nil && len(a.Value.Numbers) == 1 && w.Type.Dim == a.Value.Type.Dim && w.Type.Kind == a.Value.Type.Kind &&
		math.Abs(w.Numbers[0]-a.Value.Numbers[0]) <= 6e-4*math.Abs(w.Numbers[0])
}

// first is the value that a line begins with.
var first = regexp.MustCompile(`^[0-9.]+( [a-z]+)?`)

// near reports whether what is shown of a reading is a value, within a hundredth.
func near(shown, wanted string) bool {
	value := func(text string) *answer.Value {
		l, _ := syntax.ParseLine(text)
		a := calc.Open([]*syntax.Line{l}, library.Shipped()).Answer(0)
		if len(a.Errors)+len(a.Waiting) > 0 || a.Value == nil || len(a.Value.Numbers) != 1 {
			return nil
		}
		return a.Value
	}
	s, w := value(shown), value(wanted)
	return s != nil && w != nil && s.Type == w.Type && math.Abs(s.Numbers[0]-w.Numbers[0]) <= 0.01*math.Abs(w.Numbers[0])
}

// proposed reports whether a sheet's line is the one wanted: one of the sheets,
// with these inputs set to these values. A ? before a value says that the proposal
// must say that it is by order alone.
func proposed(p hear.Proposal, wanted string) bool {
	names, settings, _ := strings.Cut(wanted, ":")
	l, _ := syntax.ParseLine(p.Line)
	use, ok := l.Node.(*syntax.Use)
	if !ok || !slices.Contains(strings.Split(names, "|"), use.Sheet) {
		return false
	}
	set := map[string]string{}
	for _, w := range use.With {
		set[w.Name.Text] = syntax.PrintExpr(w.Expr)
	}
	for _, s := range strings.Split(settings, ";") {
		name, value, ok := strings.Cut(strings.TrimSpace(s), "=")
		value, doubtful := strings.CutPrefix(value, "?")
		if doubtful && !slices.Contains(p.ByOrder, name) || ok && value != "" && !sameValue(set[name], value) {
			return false
		}
	}
	return true
}

func sameValue(a, b string) bool {
	la, _ := syntax.ParseLine(a)
	return a != "" && agrees(calc.Open([]*syntax.Line{la}, library.Shipped()).Answer(0), b)
}

// right reports whether a line came out as it is wanted, and wrong whether it is
// a number that is not.
func right(row []string) (ok, wrong bool, got string) {
	line, kind, wanted := row[0], row[1], row[2]
	a, h := answered(line)
	value := a.Value != nil && len(a.Errors)+len(a.Waiting) == 0
	got = "refused"
	if value && a.Value != nil {
		got = a.Value.String()
	}
	if h != nil {
		switch {
		case h.Line != nil:
			got = h.Text() + " -> " + got
		case len(h.Readings) > 0:
			got = fmt.Sprintf("readings %v (%s)", h.Readings, h.Message)
		case h.Correction != "":
			got = "correction " + h.Correction
		case len(h.Proposals)+len(h.Named) > 0:
			got = ""
			for _, n := range h.Named {
				got += n.Kind + " " + n.Name + "; "
			}
			for _, p := range h.Proposals {
				got += p.Line + fmt.Sprintf(" (by order %v, left %v) / ", p.ByOrder, p.Left)
			}
		case h.Message != "":
			got = "message " + h.Message
		}
	}
	switch kind {
	case "sum":
		ok = value && agrees(a, wanted)
		return ok, value && !ok, got
	case "second":
		if value {
			return agrees(a, wanted), !agrees(a, wanted), got
		}
		offer := ""
		switch {
		case h == nil:
		case h.Correction != "":
			offer = h.Correction
		case len(h.Readings) == 1:
			offer = h.Readings[0].Line
		}
		l, _ := syntax.ParseLine(offer)
		return offer != "" && agrees(calc.Open([]*syntax.Line{l}, library.Shipped()).Answer(0), wanted), false, got
	case "sheet":
		ok = h != nil && len(h.Proposals) > 0 && proposed(h.Proposals[0], wanted)
	case "names":
		if h == nil {
			return false, value, got
		}
		for _, w := range strings.Split(wanted, "|") {
			for _, n := range h.Named {
				ok = ok || n.Name == w
			}
			ok = ok || len(h.Proposals) > 0 && proposed(h.Proposals[0], w+":")
		}
	case "both":
		if value {
			return false, true, got
		}
		all := ""
		for _, e := range a.Errors {
			all += e.Message + " " + e.Cure + " "
		}
		if h != nil {
			for _, r := range h.Readings {
				all += r.Line + " " + r.Value + " "
			}
		}
		ok = true
		for _, w := range strings.Split(wanted, " || ") {
			if h != nil && slices.ContainsFunc(h.Readings, func(r hear.Reading) bool {
				return near(r.Value, w) || near(r.Line, w) || near(first.FindString(r.Line), w)
			}) {
				continue
			}
			ok = ok && strings.Contains(strings.NewReplacer("Ω", "ohm", "²", "2", "kΩ", "kohm").Replace(all), w)
		}
	case "heard":
		return h != nil && h.Line != nil && h.Text() == wanted, false, got
	case "refused":
		ok = !value
	case "nothing":
		ok = !value && (h == nil || len(h.Proposals)+len(h.Named)+len(h.Readings) == 0 && h.Correction == "")
	}
	return ok, value, got
}

// TestFirstLines types the lines that people type first, and reports how many
// come out as wanted. Nine in ten sums are answered at the first try, nine in ten
// questions get the right sheet first, and nothing is answered wrongly.
func TestFirstLines(t *testing.T) { holdToNineInTen(t, "../../testdata/first_lines.tsv") }

// TestNextLines types the lines that were noted later.
func TestNextLines(t *testing.T) { holdToNineInTen(t, "../../testdata/next_lines.tsv") }

func holdToNineInTen(t *testing.T, file string) {
	total, good := map[string]int{}, map[string]int{}
	for _, row := range firstLines(t, file) {
		ok, wrong, got := right(row)
		total[row[1]]++
		if ok {
			good[row[1]]++
		} else {
			t.Logf("%-8s %-50s wanted %s; got %s", row[1], row[0], row[2], got)
		}
		if wrong && strings.Contains(got, " -> ") {
			t.Errorf("%q: heard wrongly: %s, wanted %s", row[0], got, row[2])
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(total)) {
		t.Logf("%-8s %3d of %3d", kind, good[kind], total[kind])
		if 10*good[kind] < 9*total[kind] && total[kind] > 20 {
			t.Errorf("%s: fewer than nine in ten", kind)
		}
	}
	if good["refused"] < total["refused"] {
		t.Error("something is answered that should not be")
	}
}

// strictly is what strict alone says to a line.
func strictly(line string) *calc.Answer {
	l, _ := syntax.ParseLine(line)
	return calc.Open([]*syntax.Line{l}, library.Shipped()).Answer(0)
}

// strictLines are lines of many kinds, most of which strict accepts: the rows of
// the traps and of the published checks, and the lists of lines here.
func strictLines(t *testing.T) []string {
	t.Helper()
	var lines []string
	seen := map[string]bool{}
	for _, pattern := range []string{"../../testdata/traps/*.tsv", "../../testdata/published/*.tsv", "../../testdata/*.tsv"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatal(pattern, err)
		}
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range strings.Split(string(text), "\n") {
				cell, _, _ := strings.Cut(row, "\t")
				for _, line := range strings.Split(cell, " ; ") {
					if line != "" && !strings.HasPrefix(line, "#") && !seen[line] {
						seen[line] = true
						lines = append(lines, line)
					}
				}
			}
		}
	}
	return lines
}
