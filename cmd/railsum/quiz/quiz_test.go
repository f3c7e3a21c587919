package quiz

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"os"
	"path/filepath"
	"railsum/calc"
	"slices"
	"strconv"
	"strings"
	"testing"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/marking"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/show"
	"railsum/library"
	"railsum/units"
)

var (
	update = flag.Bool("update", false, "write what questions are compared with")
	seeds  = flag.Int("seeds", 2, "how many sets of each sheet are made; 200 for all")
)

// made makes a set.
func made(ex *answer.Exercise, seed int) ([]*outline.Question, error) {
	m, err := New(context.Background(), library.Shipped(), ex)
	if err != nil {
		return nil, err
	}
	set, err := m.Set(seed)
	if err != nil {
		return nil, err
	}
	return set.Questions, nil
}

func exercise(sheet string, count int) *answer.Exercise {
	return &answer.Exercise{Sheet: sheet, Count: count}
}

// Every sheet gives fair questions or says that it gives none; the right answer is
// right in every unit of its dimension and at two, three and four figures; every
// usual mistake gets its own sentence; and what is wrong in another way is told so.
// The digest is the same on every machine.
func TestEverySheet(t *testing.T) {
	made, none, c, digest := 0, map[string]int{}, counts{told: map[marking.Kind]int{}, why: map[string]bool{}}, fnv.New64a()
	for _, e := range library.Catalogue() {
		m, err := New(t.Context(), library.Shipped(), exercise(e.Sheet, 3))
		if err != nil {
			t.Fatalf("%s: %v", e.Sheet, err)
		}
		for seed := 1; seed <= *seeds; seed++ {
			set, err := m.Set(seed)
			if err != nil {
				if d, ok := err.(syntax.Diag); !ok || !strings.HasPrefix(d.Message, "no fair question could be made from ") || d.Cure == "" {
					t.Errorf("%s: %v", e.Sheet, err)
				}
				none[e.Sheet]++
				continue
			}
			for _, q := range set.Questions {
				made++
				if len(q.Given) == 0 || len(q.Given) > mostKnown || q.Right == nil {
					t.Errorf("%s, set %d: %+v", e.Sheet, seed, q)
				}
				fmt.Fprintln(digest, seed, q.Source, q.Name, q.Right.Cell(0))
				c.marks(t, q)
			}
		}
	}
	var never []string
	for _, e := range library.Catalogue() {
		sheet, err := library.Shipped().Sheet(e.Sheet, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range sheet.File.Lines {
			if slip, is := l.Node.(*syntax.Slip); is && !c.why[l.Note] {
				never = append(never, e.Sheet+"."+slip.X.String()+": "+l.Note)
			}
		}
	}
	if len(never) > 0 && *seeds >= 200 {
		t.Errorf("no question meets these mistakes: %s", strings.Join(never, "\n"))
	}
	t.Logf("%d usual mistakes of the sheets were not met in so few sets", len(never))
	if len(none) > 0 {
		t.Errorf("no questions from %v", none)
	}
	t.Logf("%d questions of %d sheets, %d sets of each, none from %v; digest %016x", made, len(library.Catalogue()), *seeds, none, digest.Sum64())
	t.Logf("%d spellings of right answers, %d usual mistakes; told apart: %d without a unit, %d of another dimension, %d a factor of 1000 off, "+
		"%d rounded to one figure, %d rounded on the way, %d upside down", c.spelled, c.slipped, c.told[marking.NoUnit],
		c.told[marking.Dimension], c.told[marking.Thousand], c.told[marking.Rounded], c.told[marking.Nearly], c.told[marking.Upside])
	for kind, n := range c.told {
		if n == 0 {
			t.Errorf("nothing was marked as %d", kind)
		}
	}
}

// counts are how much was marked.
type counts struct {
	spelled, slipped int
	told             map[marking.Kind]int
	why              map[string]bool
}

// marks holds the marking of a question to its rules.
func (c *counts) marks(t *testing.T, q *outline.Question) {
	t.Helper()
	r := marking.Reader{Library: library.Shipped()}
	asked := marking.Asked{Name: q.Name, Right: q.Right, Slips: q.Slips}
	mark := func(text string) marking.Mark { return r.Mark(text, asked) }
	if !q.Right.Quantity() {
		text := q.Right.Cell(0)
		if m := mark(text); !m.Good() {
			t.Errorf("%s, %s: %q is %+v", q.Source, q.Name, text, m)
		}
		c.spelled++
		return
	}
	right := q.Right.Numbers[0]
	for _, u := range unitsOf(q.Right) {
		x := right
		if !u.IsZero() {
			x = u.FromSI(right)
		}
		if math.Abs(x) < 1e-4 || math.Abs(x) > 1e7 {
			continue
		}
		for figures := 2; figures <= 4; figures++ {
			text := strings.TrimSpace(rounded(x, figures) + " " + u.String())
			if m := mark(text); !m.Good() {
				t.Errorf("%s, %s = %v: %q is %+v", q.Source, q.Name, q.Right.Cell(0), text, m)
			}
			c.spelled++
		}
	}
	for _, s := range q.Slips {
		text := strings.TrimSpace(strconv.FormatFloat(s.Wrong.InUnit(0), 'f', -1, 64) + " " + s.Wrong.Unit.String())
		m := mark(text)
		if m.Kind != marking.Slipped || m.Says != "not yet: "+s.Why {
			t.Errorf("%s, %s: the mistake %s is %+v", q.Source, q.Name, text, m)
		}
		c.slipped++
		c.why[s.Why] = true
	}
	if q.Right.Type.Kind == types.Point {
		return
	}
	tell := func(text string, kind marking.Kind) {
		t.Helper()
		if m := mark(text); m.Kind != kind {
			t.Errorf("%s, %s = %s: %s is %+v, not %d", q.Source, q.Name, q.Right.Cell(0), text, m, kind)
		}
		c.told[kind]++
	}
	spell := func(si float64) string {
		if q.Right.Unit.IsZero() {
			return strconv.FormatFloat(si, 'f', -1, 64)
		}
		return strconv.FormatFloat(q.Right.Unit.FromSI(si), 'f', -1, 64) + " " + q.Right.Unit.String()
	}
	tell(spell(right*1.0213), marking.Nearly)
	shown := q.Right.InUnit(0)
	if one := rounded(shown, 1); one != rounded(shown, 2) && math.Abs(number(one)/shown-1) > 0.006 {
		// Of 30 nobody can tell whether the nought is a figure: the answer has to round
		// to it at one figure alone.
		if two := number(rounded(shown, 2)); two != number(one) {
			tell(strings.TrimSpace(one+" "+q.Right.Unit.String()), marking.Rounded)
		}
	}
	if up := 1 / right; !nearAny(up/right, q, right) {
		tell(spell(up), marking.Upside)
	}
	if q.Right.Type.Dim.IsPlain() {
		return
	}
	tell(rounded(shown, 4), marking.NoUnit)
	other := "7 A"
	if q.Right.Type.Dim == units.Known("A").Dim() {
		other = "7 V"
	}
	tell(other, marking.Dimension)
	tell(spell(right*1000), marking.Thousand)
}

// nearAny reports whether something that is off by a factor may be taken for what is
// looked for before it is found to be upside down.
func nearAny(ratio float64, q *outline.Question, right float64) bool {
	factors := []float64{1, 1000, 0.001, 2, 0.5, 100, 0.01}
	for _, s := range q.Slips {
		factors = append(factors, s.Wrong.Numbers[0]/right)
	}
	return slices.ContainsFunc(factors, func(f float64) bool { return math.Abs(ratio/f-1) < 0.05 })
}

func number(text string) float64 {
	x, _ := strconv.ParseFloat(text, 64)
	return x
}

func rounded(x float64, figures int) string {
	text := strconv.FormatFloat(x, 'e', figures-1, 64)
	y, _ := strconv.ParseFloat(text, 64)
	exponent, _ := strconv.Atoi(text[strings.Index(text, "e")+1:])
	return strconv.FormatFloat(y, 'f', max(0, figures-1-exponent), 64) // noughts behind the point are figures
}

// unitsOf are all units that an answer can be given in.
func unitsOf(v *answer.Value) []units.Unit {
	all := []units.Unit{v.Unit}
	if v.Type.Kind == types.Point {
		return all
	}
	for _, i := range units.All() {
		if u := i.Unit; u.Dim() == v.Type.Dim && !u.Point() && !u.Percent() {
			all = append(all, u)
		}
	}
	return all
}

// The same set asks the same questions everywhere and in later releases, as long as
// a sheet has the same edition: these are kept.
func TestSets(t *testing.T) {
	var b bytes.Buffer
	p := show.New(&b, show.Options{Width: 100}).AtMargin()
	for _, sheet := range []string{"drop", "stub", "input_resistor", "led"} {
		for seed := 1; seed <= 3; seed++ {
			all, err := made(exercise(sheet, 2), seed)
			if err != nil {
				t.Fatal(err)
			}
			p.Heading("%s, set %d", sheet, seed)
			for _, q := range all {
				for _, g := range q.Given {
					p.Hanging("  " + g.Meaning + ": " + p.Value(g.Value))
				}
				p.Say("%s %s", q.Ask, p.Value(q.Right))
			}
		}
	}
	file := filepath.Join("testdata", "sets.golden")
	if *update {
		os.MkdirAll("testdata", 0o755)
		os.WriteFile(file, b.Bytes(), 0o644)
		return
	}
	want, err := os.ReadFile(file)
	if err != nil || b.String() != string(want) {
		t.Errorf("%s (go test -update writes it, if a sheet has a new edition):\n%s", file, b.String())
	}
}

// A set of several questions has some that are clear and some that are not, where
// that can be found.
func TestMixed(t *testing.T) {
	both := 0
	for seed := 1; seed <= 10; seed++ {
		all, err := made(exercise("drop", 4), seed)
		if err != nil {
			t.Fatal(err)
		}
		clear, other := 0, 0
		for _, q := range all {
			if q.Verdict <= answer.Clear {
				clear++
			} else {
				other++
			}
		}
		if clear > 0 && other > 0 {
			both++
		}
	}
	if both < 9 {
		t.Errorf("%d of 10 sets are mixed", both)
	}
}

// What is held by an exercise is not drawn, and only what it asks is asked.
func TestHeld(t *testing.T) {
	ex := exercise("drop", 3)
	ex.Asking = []string{"left"}
	ex.With = []answer.CardLine{{Name: "supply", Value: &answer.Value{Type: types.Type{Kind: types.Number, Dim: units.Known("V").Dim()},
		Numbers: []float64{15}, Unit: units.Known("V")}}}
	all, err := made(ex, 5)
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range all {
		if q.Name != "left" || !strings.Contains(q.Source, "supply = 15 V") || strings.Count(q.Source, "supply") != 1 {
			t.Errorf("%+v", q)
		}
	}
}

// What one types, and what is said of it.
func TestSession(t *testing.T) {
	lib := library.Shipped()
	ex := exercise("drop", 1)
	ex.Asking = []string{"lost"}
	all, err := made(ex, 1)
	if err != nil {
		t.Fatal(err)
	}
	right := all[0].Right
	for _, c := range []struct{ typed, says string }{
		{right.Cell(0), "right: "},
		{right.Number(0), "what? lost is a voltage"},
		{"3 A", "A is a current; lost is a voltage"},
		{"hint", "lost = largest current drawn at the far end"},
		{"1 m1", "write a number and a unit"},
		{"working", "load * resistance"},
		{"next", "lost = " + right.Number(0)},
		{"leave", "0 of 1 right. Again: railsum quiz drop --again 1"},
		{fmt.Sprintf("%v V", right.Numbers[0]*1.01), "It counts as right"},
		{fmt.Sprintf("%v V", right.Numbers[0]*2), "that is twice the answer"},
		{fmt.Sprintf("%v kV", right.Numbers[0]), "a factor of 1000"},
		{fmt.Sprintf("%v V", right.Numbers[0]*1.7), "yours is 1.7 times as much"},
		{"-" + right.Cell(0), "the wrong way round"},
		{"hint\n" + right.Cell(0), "1 of 1 right, 1 of them after a hint."},
	} {
		var b bytes.Buffer
		s := Session{Library: lib, In: strings.NewReader(c.typed + "\n"), Out: show.New(&b, show.Options{Width: 200}), Again: "railsum quiz drop"}
		if err := s.Run([]*outline.Set{{Title: "drop", Questions: all}}); err != nil || !strings.Contains(b.String(), c.says) {
			t.Errorf("%q: %v\n%s", c.typed, err, b.String())
		}
	}
}

// A question from nothing: the sheet put to work, and inputs drawn until it is fair.
func BenchmarkQuestion(b *testing.B) {
	for n := 0; b.Loop(); n++ {
		if _, err := made(exercise("drop", 1), n); err != nil {
			b.Fatal(err)
		}
	}
}

// A question of each sheet in turn.
func BenchmarkEverySheet(b *testing.B) {
	var all []*Maker
	for _, e := range library.Catalogue() {
		m, err := New(b.Context(), library.Shipped(), exercise(e.Sheet, 1))
		if err != nil {
			b.Fatal(err)
		}
		all = append(all, m)
	}
	for n := 0; b.Loop(); n++ {
		for _, m := range all {
			if _, err := m.Set(n); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/question")
}

// echoed is a keyboard: each line that is read from it stands on the screen, too.
type echoed struct {
	lines  []string
	screen io.Writer
}

func (e *echoed) Read(p []byte) (int, error) {
	if len(e.lines) == 0 {
		return 0, io.EOF
	}
	n := copy(p, e.lines[0]+"\n")
	e.screen.Write(p[:n])
	e.lines = e.lines[1:]
	return n, nil
}

// A lesson as somebody of 14 and somebody of 70 went through it, who had never seen one:
// what follows a prompt was typed, all else was answered.
func TestNewcomers(t *testing.T) {
	files, _ := filepath.Glob("../../../testdata/newcomers/*.txt")
	if len(files) != 2 {
		t.Fatal("no newcomers")
	}
	lib := library.Shipped()
	for _, file := range files {
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name, rest, _ := strings.Cut(string(want), "\n")
		var typed []string
		for line := range strings.Lines(rest) {
			if text, is := strings.CutPrefix(line, "> "); is {
				typed = append(typed, strings.TrimSuffix(text, "\n"))
			}
		}
		text, err := library.LessonText(strings.TrimPrefix(name, library.LessonPrefix))
		if err != nil {
			t.Fatal(err)
		}
		book := calc.Open(syntax.ParseFile(text).Lines, lib)
		exercises, err := Exercises(t.Context(), book)
		if err != nil {
			t.Fatal(err)
		}
		var sets []*outline.Set
		for _, ex := range exercises {
			m, err := New(t.Context(), lib, ex)
			if err != nil {
				t.Fatal(err)
			}
			set, err := m.Set(*ex.Seed)
			if err != nil {
				t.Fatal(err)
			}
			sets = append(sets, set)
		}
		guesses, err := Guesses(t.Context(), book, lib)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, &outline.Set{Title: name + ", its own questions", Questions: guesses})
		var b bytes.Buffer
		s := Session{Library: lib, In: &echoed{typed, &b}, Out: show.New(&b, show.Options{Width: 80}).AtMargin(), Prompts: true, Again: "railsum quiz " + name}
		if err := s.Run(sets); err != nil {
			t.Fatal(err)
		}
		got := name + "\n" + b.String()
		if *update {
			os.WriteFile(file, []byte(got), 0o644)
		} else if got != string(want) {
			t.Errorf("%s (go test -update writes it):\n%s", file, got)
		}
	}
}
