package calc_test

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

// What a working says, worked by hand: "name: formula = filled = answer" for
// each step, deeper ones further in.
func TestWorking(t *testing.T) {
	for _, c := range []struct {
		what, lines string
		want        []string
	}{
		{"a sum", "a = 2 V ; b = 3 V ; c = a + b ; working c", []string{"c: a + b = 2 V + 3 V = 5 V", " a: 2 V", " b: 3 V"}},
		{"units that are converted", "a = 10 in ; c = a * 2 as mm ; working c", []string{"c: a * 2 = 10 in * 2 = 508 mm", " a: 10 in"}},
		{"each ingredient once", "a = 2 V ; b = a + a ; c = a * b ; working c", []string{"c: a * b = 2 V * 4 V = 8 V*V", " a: 2 V", " b: a + a = 2 V + 2 V = 4 V"}},
		{"to one level", "a = 2 V ; b = 2 * a ; c = 2 * b ; working c to 1 level", []string{"c: 2 * b = 2 * 4 V = 8 V"}},
		{"to two levels", "a = 2 V ; b = 2 * a ; c = 2 * b ; working c to 2 levels", []string{"c: 2 * b = 2 * 4 V = 8 V", " b: 2 * a = 2 * 2 V = 4 V"}},
		{"handing over is no level", "a = 2 V ; b = 2 * a ; d = b ; c = d ; working c to 1 level", []string{"c: d = 4 V = 4 V", " d: b = 4 V = 4 V", "  b: 2 * a = 2 * 2 V = 4 V"}},
		{"an input", "a = 2 V +- 5 % ; working a", []string{"a: 2 V +- 5 %"}},
		{"as many digits as it takes", "a = 1 V / 3 ; b = 1 V / 7 ; c = (a - 2.333 * b) * 1e6 ; working c to 1 level",
			[]string{"c: (a - 2.333 * b) * 1e6 = (333.333 mV - 2.333 * 142.857 mV) * 1e6 = 47.62 V"}},
		{"a value below nothing", "a = -2 V ; b = 3 V - a ; c = a^2 ; working b ", []string{"b: 3 V - a = 3 V - (-2 V) = 5 V", " a: -2 V"}},
		{"a power", "a = 3 m ; c = a^2 ; working c", []string{"c: a^2 = (3 m)^2 = 9 m2", " a: 3 m"}},
		{"a root and constants", "a = 4 ; c = sqrt(a) * pi ; working c", []string{"c: sqrt(a) * pi = sqrt(4) * pi = 6.283", " a: 4"}},
		{"a choice", "a = 4 V ; c = if a > 3 V then a else 1 V ; working c", []string{"c: if a > 3 V then a else 1 V, as a > 3 V holds = 4 V = 4 V", " a: 4 V"}},
		{"what decided", "a = 4 V ; b = 3 V ; c = 2 * max(a - 1 V, 3 V - b, b / 3) ; working c", []string{
			"c: 2 * max(a - 1 V, 3 V - b, b / 3), as a - 1 V is the largest = 2 * (4 V - 1 V) = 6 V", " a: 4 V"}},
		{"what is the same decides nothing", "a = 4 V ; b = 4 V ; c = min(a, b) ; working c", []string{
			"c: min(a, b) = min(4 V, 4 V) = 4 V", " a: 4 V", " b: 4 V"}},
		{"what decides stays an ingredient", "a = 4 V ; b = 3 V ; d = 2 V ; c = if a < b then d else min(a, 5 V) ; working c", []string{
			"c: if a < b then d else min(a, 5 V), as a < b does not hold, as a is the smaller = 4 V = 4 V", " a: 4 V", " b: 3 V"}},
		{"nothing of a dimension", "a = 4 V ; c = (if a > 5 V then 1 A else 0) * a ; working c", []string{
			"c: (if a > 5 V then 1 A else 0) * a, as a > 5 V does not hold = (0 A) * 4 V = 0 W", " a: 4 V"}},
		{"a row decides", "table t | a ; p | 1 V ; q | 2 V ; end ; k = 1.5 V ; t.b = max(t.a, k) ; working t.q.b", []string{
			"t.b: max(t.a, k), as t.a is the larger = 2 V in q = 1.5 V, 2 V", " t.a: 1 V, 2 V"}},
		{"a scale", "l = 25 m ; k = 1:87 ; c = l at (k) as mm ; working c", []string{"c: l at (k) = 25 m at (1:87) = 287.4 mm", " l: 25 m", " k: 1:87"}},
		{"a temperature", "t = 68 degF ; c = t - 10 K ; working c", []string{"c: t - 10 K = 68 degF - 10 K = 10 degC", " t: 68 degF"}},
		{"a text", `n = "a" ; c = n = "a" ; x = if n = "b" then 1 else 2 ; working x`, []string{`x: if n = "b" then 1 else 2, as n = "b" does not hold = 2 = 2`, " n: \"a\""}},
		{"a question", "a = 2 V ; a * 2 ; c = that + 1 V ; working c", []string{"c: that + 1 V = 4 V + 1 V = 5 V", " line 2: a * 2 = 2 V * 2 = 4 V", "  a: 2 V"}},
		{"a column, its first row", "table t | a ; p | 1 V ; q | 2 V ; end ; t.b = t.a * 3 ; working t.b", []string{"t.b: t.a * 3 = 1 V * 3 in p = 3 V, 6 V", " t.a: 1 V, 2 V"}},
		{"one row of a column", "table t | a ; p | 1 V ; q | 2 V ; end ; t.b = t.a * 3 ; working t.q.b", []string{"t.b: t.a * 3 = 2 V * 3 in q = 3 V, 6 V", " t.a: 1 V, 2 V"}},
		{"one row within a formula", "table t | a ; p | 1 V ; q | 2 V ; end ; t.b = t.a * 3 ; c = t.q.b + 1 V ; working c",
			[]string{"c: t.q.b + 1 V = 6 V + 1 V = 7 V", " t.b: t.a * 3 = 1 V * 3 in p = 3 V, 6 V", "  t.a: 1 V, 2 V"}},
		{"a cell", "k = 2 V ; table t | a ; p | 1 V ; q | 2 * k ; end ; working t.q.a", []string{`t."q".a: 2 * k = 2 * 2 V = 4 V`, " k: 2 V"}},
		{"a sum over a table", "table t | a ; p | 1 V ; q | 2 V ; end ; k = 2 ; c = sum(t.a) * k ; working c", []string{"c: sum(t.a) * k = sum(t.a) * 2 = 6 V", " t.a: 1 V, 2 V", " k: 2"}},
		{"no answer", "a = 0 V ; c = 1 V / a ; working c", []string{"c: 1 V / a = no answer: a division by nothing", " a: 0 V"}},
	} {
		var got []string
		for _, s := range workedOut(t, c.lines) {
			got = append(got, spellStep(s))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %s: got\n\t%s\nwant\n\t%s", c.what, c.lines, strings.Join(got, "\n\t"), strings.Join(c.want, "\n\t"))
		}
	}
}

// workedOut gives the steps of the last line, which may hang on lines in error.
func workedOut(t *testing.T, lines string) []answer.Step {
	t.Helper()
	book := open(lines)
	a, err := book.AnswerStudied(context.Background(), len(book.Lines())-1)
	if err != nil || a.Study == nil || len(a.Errors) > 0 {
		t.Fatalf("%s: %v%s", lines, err, listed(a.Errors))
	}
	return a.Study.(*answer.Working).Steps
}

func spellStep(s answer.Step) string {
	said := strings.Repeat(" ", s.Level-1) + s.Name + ": "
	if !s.Formula.IsZero() {
		said += s.Formula.String()
		for _, d := range s.Decided {
			said += ", as " + d.By.String() + " " + d.Why
		}
		said += " = "
	}
	if !s.Filled.IsZero() {
		said += s.Filled.String()
		if s.Row != "" {
			said += " in " + s.Row
		}
		said += " = "
	}
	if s.Answer.Column() {
		var cells []string
		for i := range s.Answer.Numbers {
			cells = append(cells, s.Answer.Cell(i))
		}
		return said + strings.Join(cells, ", ")
	}
	return said + s.Answer.String()
}

// Notes and sources stand beside what they belong to, the sources of a sheet
// once.
func TestWorkingTellsMeanings(t *testing.T) {
	steps := workedOut(t, "l = 9 m  # of the far siding ; use drop for d with length = l ; x = d.lost * 2  # there and back ; working x")
	sourced := map[string]int{}
	for _, s := range steps {
		if len(s.Sources) > 0 {
			sourced[s.Sheet]++
		}
		for name, want := range map[string]string{"x": "there and back", "l": "of the far siding"} {
			if s.Name == name && s.Meaning != want {
				t.Errorf("the meaning of %s is %q, want %q", name, s.Meaning, want)
			}
		}
		if s.Name == "d.lost" && (s.Meaning == "" || s.Sheet != "drop") {
			t.Errorf("d.lost has the meaning %q, sheet %q", s.Meaning, s.Sheet)
		}
		if s.Name == "d.load" && (!s.Input || !s.Default) || s.Name == "l" && (!s.Input || s.Default) {
			t.Errorf("%s is an input: %v, a default: %v", s.Name, s.Input, s.Default)
		}
	}
	if sourced["drop"] != 1 || sourced["loop"] != 1 {
		t.Errorf("the sources are told %v times", sourced)
	}
}

// mostWithin is how many of the filled formulas of all shipped sheets may have
// whole columns of the sheet's own tables left in them, which stand for more
// values than a line can hold. Those are read within their sheet.
const mostWithin = 50

// ofOtherTables are those whose columns belong to a sheet that another one has
// placed and given a table of its own.
var ofOtherTables = []string{"districts: x.worst.stalled"}

// Each formula of each shipped sheet, to all levels, with the values put in and
// read again by the front door, gives the answer that is shown beside it.
func TestWorkingOfEverySheet(t *testing.T) {
	lib := library.Shipped()
	answers, read := 0, 0
	within := map[string]bool{}
	seen := map[string]bool{}
	for _, sheet := range lib.SheetNames() {
		book := open("use " + sheet + " for x")
		gives := book.C.Places[0][0].Gives
		steps := map[string][]answer.Step{} // by the sheet that they are of
		for i, worked := range workings(t, book.Lines(), lib, len(gives), func(i int) string { return "working " + gives[i].Name }) {
			answers++
			if len(worked) == 0 || worked[0].Name != gives[i].Name {
				t.Errorf("%s: the working of %s has %d steps", sheet, gives[i].Name, len(worked))
			}
			for _, s := range worked {
				if key := sheet + ": " + s.Name + " = " + s.Filled.String(); !s.Filled.IsZero() && !seen[key] {
					seen[key] = true
					steps[s.Sheet] = append(steps[s.Sheet], s)
				}
			}
		}
		for of, steps := range steps {
			again, place := readAgain([]*calc.Book{open(""), book, sheetBook(t, sheet), sheetBook(t, of)}, steps)
			for i, s := range steps {
				key := sheet + ": " + s.Name + " = " + s.Filled.String()
				if place[i] > 0 {
					within[key] = true
				}
				if again[i] == nil || !again[i].Sound() {
					t.Errorf("%s cannot be read", key)
					continue
				}
				again[i].Unit = s.Answer.Unit
				if got, want := plain(again[i]), plain(s.Answer); got != want && !slices.Contains(ofOtherTables, sheet+": "+s.Name) {
					t.Errorf("%s is shown as %s, and read again as %s", key, want, got)
					continue
				}
				read++
			}
		}
	}
	t.Logf("%d answers, %d formulas read again, %d of them within their sheet", answers, read, len(within))
	if answers < 200 || read < 400 {
		t.Errorf("%d answers with %d formulas were read", answers, read)
	}
	if len(within) > mostWithin {
		t.Errorf("%d formulas hold whole columns of their sheet, want %d at most:", len(within), mostWithin)
		for key := range within {
			t.Log(key)
		}
	}
}

// sheetBook is a sheet's own lines as a notebook.
func sheetBook(t *testing.T, name string) *calc.Book {
	t.Helper()
	if name == "" {
		return open("")
	}
	sheet, err := library.Shipped().Sheet(name, false)
	if err != nil {
		t.Fatal(name, err)
	}
	return calc.Open(sheet.File.Lines, library.Shipped())
}

// workings carries out n studies at the end of the lines.
func workings(t *testing.T, lines []*syntax.Line, lib calc.Library, n int, ask func(i int) string) [][]answer.Step {
	t.Helper()
	all := slices.Clone(lines)
	for i := range n {
		line, _ := syntax.ParseLine(ask(i))
		all = append(all, line)
	}
	book := calc.Open(all, lib)
	steps := make([][]answer.Step, n)
	for i := range n {
		got, err := book.AnswerStudied(context.Background(), len(lines)+i)
		if err != nil || got.Study == nil {
			t.Errorf("%s: %v%s", ask(i), err, listed(got.Errors))
			continue
		}
		steps[i] = got.Study.(*answer.Working).Steps
	}
	return steps
}

// readAgain asks for the filled formula of each step at the end of one book after the other, until one has an answer,
// and tells which.
func readAgain(books []*calc.Book, steps []answer.Step) (values []*answer.Value, place []int) {
	values, place = make([]*answer.Value, len(steps)), make([]int, len(steps))
	for at, b := range books {
		lines := slices.Clone(b.Lines())
		var asked []int
		for i, s := range steps {
			if values[i] == nil {
				line, _ := syntax.ParseLine(asUnit(s.Filled.String(), s.Answer))
				asked, lines, place[i] = append(asked, i), append(lines, line), -1
			}
		}
		book := calc.Open(lines, library.Shipped())
		for j, i := range asked {
			if v := book.Answer(len(b.Lines()) + j).Value; v != nil && len(v.Numbers) > 0 {
				values[i], place[i] = v, at
			}
		}
	}
	return values, place
}

// asUnit asks for a formula in the unit that its answer is shown in.
func asUnit(formula string, v *answer.Value) string {
	if !v.Unit.Follows() {
		return formula
	}
	return formula + " as " + v.Unit.String()
}

// plain is how an answer is shown that is not shown as it was typed.
func plain(v *answer.Value) string {
	w := *v
	w.Literal = answer.Typed{}
	return w.Cell(0)
}

// The same for every named value of the layouts that come with the project.
func TestWorkingOfLayouts(t *testing.T) {
	paths, err := filepath.Glob("../testdata/layouts/*.sums")
	if err != nil || len(paths) == 0 {
		t.Fatal("no layouts", err)
	}
	read := 0
	for _, path := range paths {
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		lines := syntax.ParseFile(src).Lines
		lib := library.At(filepath.Dir(path))
		book := calc.Open(lines, lib)
		var names []string
		for _, a := range book.Answers() {
			if _, ok := a.Line.Node.(*syntax.Define); ok && a.Name != "" && a.Value != nil {
				names = append(names, a.Name)
			}
		}
		var steps []answer.Step
		for _, worked := range workings(t, lines, lib, len(names), func(i int) string { return "working " + names[i] + " to 1 level" }) {
			if len(worked) > 0 && !worked[0].Filled.IsZero() {
				steps = append(steps, worked[0])
			}
		}
		again, _ := readAgain([]*calc.Book{open(""), book}, steps)
		for i, s := range steps {
			if again[i] == nil || !again[i].Sound() {
				t.Errorf("%s: %s = %s cannot be read", path, s.Name, s.Filled)
				continue
			}
			again[i].Unit = s.Answer.Unit
			if plain(again[i]) != plain(s.Answer) {
				t.Errorf("%s: %s = %s is shown as %s, and read again as %s", path, s.Name, s.Filled, plain(s.Answer), plain(again[i]))
			}
			read++
		}
	}
	if read < 50 {
		t.Errorf("%d formulas were read", read)
	}
}
