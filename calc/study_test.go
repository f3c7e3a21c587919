package calc_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/library"
)

// answeredStudy opens lines and gives what the last of them, a study, has to
// say. No line may be in error.
func answeredStudy(t *testing.T, lines string) answer.Study {
	t.Helper()
	book := open(lines)
	var last answer.Study
	for i := range book.Lines() {
		a, err := book.AnswerStudied(context.Background(), i)
		switch {
		case err != nil:
			t.Fatalf("%s: %v", lines, err)
		case len(a.Errors) > 0:
			t.Fatalf("%s: %s is in error:%s", lines, a.Line.Raw, listed(a.Errors))
		}
		last = a.Study
	}
	if last == nil {
		t.Fatalf("%s: the last line is no study", lines)
	}
	return last
}

// lastStudy answers all studies of a book and gives what the last has to say.
func lastStudy(book *calc.Book) answer.Study {
	var last answer.Study
	for i := range book.Lines() {
		if a, err := book.AnswerStudied(context.Background(), i); err == nil && a.Study != nil {
			last = a.Study
		}
	}
	return last
}

// studiesOf spells all that the studies of a book have to say, as text to
// compare: numbers to the last digit, so that nothing that moves can hide.
func studiesOf(t *testing.T, b *calc.Book) string {
	t.Helper()
	var s strings.Builder
	for i := range b.Lines() {
		a, err := b.AnswerStudied(context.Background(), i)
		if err != nil {
			t.Fatal(err)
		}
		if a.Study == nil && len(a.Errors) == 0 {
			continue
		}
		fmt.Fprintf(&s, "%d:", i)
		for _, d := range a.Errors {
			fmt.Fprintf(&s, " (%v %s)", d.At, d.Message)
		}
		if a.Study != nil {
			spellStudy(&s, a.Study)
		}
		s.WriteString("\n")
	}
	return s.String()
}

func spellStudy(s *strings.Builder, a answer.Study) {
	number := func(vs ...*answer.Value) {
		for _, v := range vs {
			if v != nil {
				fmt.Fprintf(s, " %v%v%s", v.Numbers, v.Faults, v.Unit)
			}
		}
	}
	if f, is := a.(*answer.Found); is {
		fmt.Fprintf(s, " find %s %v %v %q %q", f.Cond, f.All, f.More, f.Take, f.Label)
		number(append(f.Looked, f.Current)...)
		for _, p := range f.Places {
			number(p.From, p.To)
			fmt.Fprint(s, p.ToStart, p.ToEnd, p.Touches, p.Jump)
		}
		number(f.Poles...)
		if f.Near != nil {
			number(f.Near.X, f.Near.Left, f.Near.Right)
		}
	}
	if v, is := a.(*answer.Varied); is {
		for _, x := range append(v.Axes, v.Shown...) {
			fmt.Fprintf(s, " %s", x.Name())
			number(x.Value)
		}
		fmt.Fprint(s, v.Turns)
		for _, l := range v.Limits {
			number(l.At)
		}
	}
	if x, is := a.(*answer.Supposed); is {
		for _, l := range x.Lines {
			fmt.Fprintf(s, " %s %s", l.Name, percentOf(l.Percent))
			number(l.Now, l.Then, l.Change)
		}
		fmt.Fprint(s, x.Turns)
	}
	spreads, _ := a.(answer.Spreads)
	for _, x := range spreads {
		fmt.Fprintf(s, " spread %s %v %s", x.Name, x.Exact, x.Why)
		number(x.Nominal, x.Lowest, x.Highest, x.RSS, x.Low95, x.High95)
		for _, p := range x.Parts {
			fmt.Fprint(s, p.Name, p.Tol, p.Share)
		}
		fmt.Fprint(s, x.Rules)
	}
	if w, is := a.(*answer.Working); is {
		for _, x := range w.Steps {
			fmt.Fprintf(s, " %s [%s|%s]", x.Name, x.Formula, x.Filled)
			number(x.Answer)
		}
	}
	if m, is := a.(*answer.Measured); is {
		fmt.Fprintf(s, " measured %v %s", m.Inside, percentOf(m.Percent))
		number(m.Sum, m.Meter, m.Difference, m.Low, m.High)
		for _, e := range m.Suspects {
			fmt.Fprint(s, e.Name, e.Tolerant)
			number(e.Now, e.Wanted)
		}
	}
}

// allStudies is a notebook with every kind of study on it.
const allStudies = "track = 15 V +- 5 % ; load = 3 A +- 0.2 A ; length = 8 m +- 0.5 m ; use drop for north with supply = track, load = load, length = length ; " +
	"must north.lost <= 0.75 V ; find length so north.lost = 0.75 V ; find length from 1 m to 20 m so north.lost <= 1 V ; " +
	"find north.wire among conductors.area so north.lost <= 0.4 V ; vary length from 2 m to 20 m by 2 m show north.lost, north.share ; " +
	"vary length from 2 m to 6 m by 2 m and load among 1 A, 2 A show north.lost ; suppose load = 4 A, length = 10 m show north.lost, north.next_wire ; " +
	"spread north.lost, north.left ; working north.lost ; measured north.lost = 0.8 V +- 0.01 V"

// A study changes nothing: all other answers are to the last digit what they
// were, and the study says the same again.
func TestStudiesChangeNothing(t *testing.T) {
	book := open(allStudies)
	before := spelled(book)
	said := studiesOf(t, book)
	if n := strings.Count(said, "\n"); n != 9 {
		t.Fatalf("%d studies answered, want 9:\n%s", n, said)
	}
	if after := spelled(book); after != before {
		t.Errorf("the studies have changed the answers:\n%s\nbefore:\n%s", after, before)
	}
	fresh := open(allStudies)
	for i := len(fresh.Lines()) - 1; i >= 0; i-- { // in another order
		if _, err := fresh.AnswerStudied(context.Background(), i); err != nil {
			t.Fatal(err)
		}
	}
	if again := studiesOf(t, fresh); again != said {
		t.Errorf("asked in another order the studies say\n%s\nwant\n%s", again, said)
	}
}

// After an edit the studies say what those of a book opened afresh say.
func TestStudiesFollowUpdate(t *testing.T) {
	edits := []struct {
		line int
		text string
	}{
		{1, "load = 2 A +- 0.2 A"},             // a value
		{0, "track = 14 V +- 10 %"},            // a value and its tolerance
		{0, "track = 14 V"},                    // no tolerance
		{4, "must north.lost <= 0.6 V"},        // a rule
		{2, "length = 3 m + 4 m"},              // an input still
		{2, "length = load / 1 A * 3 m"},       // no input any more
		{2, "length = 20 m"},                   // and again
		{5, "find load so north.lost = 0.7 V"}, // another question
		{1, "load ="},                          // broken
		{1, "load = 1 A"},
	}
	book := open(allStudies)
	studiesOf(t, book)
	for _, e := range edits {
		lines := replaceLine(book, e.line, e.text)
		book.Update(lines)
		got, want := studiesOf(t, book), studiesOf(t, calc.Open(lines, library.Shipped()))
		if got != want {
			t.Fatalf("after %q the studies say\n%s\nand opened afresh\n%s", e.text, got, want)
		}
	}
	l, _ := syntax.ParseLine("vary load from 1 A to 2 A over 4 steps show north.lost")
	lines := append(append([]*syntax.Line(nil), book.Lines()...), l)
	book.Update(lines)
	if got, want := studiesOf(t, book), studiesOf(t, calc.Open(lines, library.Shipped())); got != want {
		t.Errorf("with one more study at the end they say\n%s\nand opened afresh\n%s", got, want)
	}
}

// What a line in the middle of a formula depends on may change without its type
// changing; the studies must see it.
func TestStudiesFollowNewDependence(t *testing.T) {
	start := "a = 2 V ; x = 1 V + 1 V ; y = 2 * a ; find x so y = 6 V ; find a so y = 6 V"
	book := open(start)
	for _, e := range []struct {
		line int
		text string
	}{{2, "y = 3 * x"}, {2, "y = 2 * a"}, {1, "x = a + 1 V"}, {2, "y = 2 * x"}, {1, "x = 1 V + 3 V"}} {
		lines := replaceLine(book, e.line, e.text)
		book.Update(lines)
		if got, want := studiesOf(t, book), studiesOf(t, calc.Open(lines, library.Shipped())); got != want {
			t.Fatalf("after %q the studies say\n%s\nand opened afresh\n%s", e.text, got, want)
		}
	}
}

// A study that is stopped ends at once, with the session whole; asked again it
// is answered.
func TestStudiesStop(t *testing.T) {
	book := open(allStudies + " ; vary length from 1 m to 100 m over 19999999 steps show north.lost")
	before := spelled(book)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for i := range book.Lines() {
		a, err := book.AnswerStudied(stopped, i)
		if _, working := book.Lines()[i].Node.(*syntax.Working); working {
			continue // it computes nothing
		}
		if study := book.C.Studies[i] != nil; study && (err == nil || a.Study != nil) {
			t.Errorf("%s was answered in spite of the stop: %v", a.Line.Raw, err)
		}
	}
	if after := spelled(book); after != before {
		t.Errorf("a stop has changed the answers:\n%s\nbefore:\n%s", after, before)
	}
	if said := studiesOf(t, open(allStudies)); !strings.HasPrefix(studiesOf(t, book), said) {
		t.Error("after a stop the studies do not say what they said before")
	}
}

// A stop in the middle of a study leaves the book as it was, too.
func TestStudiesStopHalfWay(t *testing.T) {
	book := open(allStudies)
	before := spelled(book)
	for i, l := range book.Lines() {
		switch l.Node.(type) {
		case *syntax.Spread, *syntax.Measured:
		default:
			continue
		}
		ctx, stop := context.WithCancel(context.Background())
		shares := 0
		book.OnProgress(func(share float64) {
			if shares++; shares == 3 {
				stop()
			}
			if share <= 0 || share > 1 {
				t.Errorf("the progress of %s is %v", l.Raw, share)
			}
		})
		_, err := book.AnswerStudied(ctx, i)
		stop()
		if err == nil || shares != 3 {
			t.Errorf("%s: stopped at the third word of progress it went on for %d: %v", l.Raw, shares, err)
		}
	}
	book.OnProgress(nil)
	if after := spelled(book); after != before {
		t.Errorf("a stop has changed the answers:\n%s\nbefore:\n%s", after, before)
	}
}

// A line that is broken takes no study with it that does not need it. One that
// needs it, directly or not, says so at its place.
func TestStudiesBesideBrokenLines(t *testing.T) {
	for study, what := range map[string]string{
		"find a so b = 6 V": "a", "find a from 1 V to 9 V so b <= 6 V": "a", "find a among 1 V, 3 V so b = 6 V": "a",
		"vary a from 1 V to 3 V by 1 V show b": "a", "suppose a = 3 V show b": "a", "measured a = 5 V +- 1 V": "a", "spread a": "a", "working a": "a",
		"spread b": "b", "working b": "b", "measured b = 5 V": "b", "find k so b + k = 2 V": "b + k = 2 V",
	} {
		answeredStudy(t, "k = 1 V ; a = 2 V ; b = 2 * a ; "+study)
		for _, broken := range []string{"z = 2 V +-", "z = 2 V + 3 m", "2 +", "z = nowhere"} {
			if book := open(broken + " ; k = 1 V ; a = 2 V ; b = 2 * a ; " + study); lastStudy(book) == nil || len(book.Answer(0).Errors) != 1 {
				t.Errorf("%s is not answered beside %s", study, broken)
			}
		}
		book := open("k = 1 V ; a = 2 V +- ; b = 2 * a ; " + study)
		a, err := book.AnswerStudied(context.Background(), 3)
		if err != nil || a.Study != nil {
			t.Errorf("%s is answered though its input is broken: %v", study, err)
		}
		if want := what + " has no value, for a line it needs is in error; mend that first"; len(a.Notices) != 1 || a.Notices[0].At.Row != 4 || a.Notices[0].Message != want {
			t.Errorf("%s on a broken line says:%s", study, listed(append(a.Errors, a.Notices...)))
		}
	}
}

// What has no answer at the present values may well have one at others: it is
// no error of the study. Where the study needs it, its line says why.
func TestStudiesWithoutPresentAnswer(t *testing.T) {
	for lines, want := range map[string]string{
		"x = 0 ; find x from -1 to 1 so 1 / x = 2":           "find",
		"x = 0 ; vary x from 0 to 2 by 1 show 1 / x":         "vary",
		"x = 0 ; suppose x = 2 show 1 / x":                   "suppose",
		"x = 0 ; y = 1 / x ; find x so y = 2":                "find",
		"x = 0 ; y = 1 / x ; vary x among 0, 1 show y":       "vary",
		"x = 0 ; y = 1 / x ; suppose x = 2 show y":           "suppose",
		"x = 0 ; y = 1 / x ; spread y":                       "spread",
		"x = 0 ; y = 1 / x ; working y":                      "working",
		"x = 0 ; y = 1 / x ; vary x from y to 2 by 1 show x": "",
		"x = 0 ; y = 1 / x ; measured y = 3":                 "",
	} {
		book := open(lines)
		last := len(book.Lines()) - 1
		a, err := book.AnswerStudied(context.Background(), last)
		if err != nil || len(a.Errors) > 0 {
			t.Errorf("%s: %v%s", lines, err, listed(a.Errors))
		}
		if got := a.Study != nil; got != (want != "") {
			t.Errorf("%s: answered: %v", lines, got)
		}
		if told := len(a.Notices) == 1 && strings.Contains(a.Notices[0].Message, "a division by nothing in y"); told != (want == "" || want == "spread") {
			t.Errorf("%s: notices:%s", lines, listed(a.Notices))
		}
	}
}

// A value outside what an input is good for is answered, and told.
func TestStudiesOutsideTheRange(t *testing.T) {
	const told = "this is outside what drop is good for, 0.1 m to 100 m"
	for study, want := range map[string]string{
		"suppose d.length = 900 m show d.lost":                                 told,
		"suppose d.length = 90 m show d.lost":                                  "",
		"vary d.length from 1 m to 900 m over 3 steps show d.lost":             told,
		"vary d.length from 1 mm to 900 m over 3 steps show d.lost":            told + "; " + told,
		"vary d.length among 1 m, 900 m, 901 m show d.lost":                    told + "; " + told,
		"vary d.length from 1 m to 100 m over 3 steps show d.lost":             "",
		"use braking for b ; vary b.speed_steps among 28, 14 show b.step_time": "",
	} {
		book := open("use drop for d ; " + study)
		a, err := book.AnswerStudied(context.Background(), len(book.Lines())-1)
		if err != nil || a.Study == nil {
			t.Fatalf("%s: %v%s", study, err, listed(a.Errors))
		}
		var got []string
		for _, n := range a.Notices {
			got = append(got, n.Message)
		}
		if strings.Join(got, "; ") != want {
			t.Errorf("%s: notices %q, want %q", study, got, want)
		}
	}
}

func percentOf(p *float64) string {
	if p == nil {
		return ""
	}
	return answer.SignedPercent(*p)
}
