package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
)

func studyOf(t *testing.T, book *calc.Book, i int) answer.Study {
	t.Helper()
	a, err := book.AnswerStudied(t.Context(), i)
	if err != nil || len(a.Errors)+len(a.Waiting) > 0 || a.Study == nil {
		t.Fatalf("%s: %v %v %v", a.Line.Raw, err, a.Errors, a.Waiting)
	}
	return a.Study
}

// What a guess asks for is what the same line says as a question, and with other
// inputs what it says where they stand in the notebook.
func TestGuess(t *testing.T) {
	const text = `use drop for quay with load = 2 A, length = 8 m
guess quay.lost as mV  # How many volts?
guess quay.lost / 15 V with quay.length = 16 m, quay.load = 1 A  # And there?
guess quay.left > 14 V with quay.load = 9 A  # Enough?
quay.lost as mV
`
	book := openText(text)
	other := openText(strings.Replace(text, "load = 2 A, length = 8 m", "load = 1 A, length = 16 m", 1) + "quay.lost / 15 V\n")
	if got, want := studyOf(t, book, 1).(*answer.Guess).Answer.String(), book.Answer(4).Value.String(); got != want {
		t.Errorf("%s, the question says %s", got, want)
	}
	if got, want := studyOf(t, book, 2).(*answer.Guess).Answer.String(), other.Answer(5).Value.String(); got != want {
		t.Errorf("%s, set so it is %s", got, want)
	}
	if g := studyOf(t, book, 3).(*answer.Guess); g.Answer.String() != "no" || g.Question != "Enough?" {
		t.Errorf("%+v", g)
	}
}

// A working that leaves answers out leaves the last, and no formula left tells
// one that was.
func TestWorkingLeaving(t *testing.T) {
	const lines = `a = 2 V
b = a * 3
c = b + 1 V
d = c * 2
working d leaving %s
`
	for n, want := range map[string]string{"1": "d", "2": "d c", "9": "d c b"} {
		w := studyOf(t, openText(fmt.Sprintf(lines, n)), 4).(*answer.Working)
		var blank []string
		for i := range w.Steps {
			s := &w.Steps[i]
			if s.Blank {
				blank = append(blank, s.Name)
			}
			if i > 0 && s.Blank && !w.Steps[i-1].Filled.IsZero() {
				t.Errorf("leaving %s: %s tells what %s is", n, w.Steps[i-1].Name, s.Name)
			}
		}
		if got := strings.Join(blank, " "); got != want {
			t.Errorf("leaving %s: %s is left out, wanted %s", n, got, want)
		}
	}
}

// Pictures are rows with values: a column is a row for each row of its table, and
// limits are the rules that compare, whichever side the limit stands on.
func TestPicture(t *testing.T) {
	book := openText(`table t | at as m
  dock | 2
  quay | 3
end
picture strip | from | to | look  # along it
  each | t.at | t.at | "mark"
  all | 0 m | most(t.at) | "run"
end
x = 4 m
must x <= 5 m
should 3 m <= x
should 1 m < x < 3 m
must x > 0 m
picture limits
`)
	p := studyOf(t, book, 1).(*answer.Picture)
	var rows []string
	for i, r := range p.Rows {
		rows = append(rows, r.Label+" "+p.Cell(i, "to", 0).String())
	}
	if got := strings.Join(rows, ", "); got != "dock 2 m, quay 3 m, all 3 m" || p.Caption != "along it" || p.None != "" {
		t.Errorf("%s %+v", got, p)
	}
	var limits []string
	for _, l := range studyOf(t, book, 7).(*answer.Picture).Limits {
		limits = append(limits, strings.Join([]string{spell(l.Low), spell(l.Value), spell(l.High), l.Verdict.String()}, " "))
	}
	want := "- 4 m 5 m clear, 3 m 4 m - clear, 1 m 4 m 3 m caution"
	if got := strings.Join(limits, ", "); got != want {
		t.Errorf("limits %s, wanted %s", got, want)
	}
}

func spell(v *answer.Value) string {
	if v == nil {
		return "-"
	}
	return v.String()
}
