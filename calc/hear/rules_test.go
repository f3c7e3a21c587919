package hear_test

import (
	"flag"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/library"
)

// TestRules types the examples of every rule: what it takes is heard as it says,
// and what it refuses is not answered.
func TestRules(t *testing.T) {
	ear := hear.Beside(nil, library.Shipped(), index)
	for _, r := range hear.Examples() {
		if len(r.Takes) == 0 || len(r.Refuses) == 0 {
			t.Errorf("%s: a rule needs examples of what it takes and what it refuses", r.Name)
		}
		for _, take := range r.Takes {
			ear := ear
			before, line := typed(take[0])
			if len(before) > 0 {
				ear = hear.Beside(before, library.Shipped(), index)
			}
			h := ear.Hear(line)
			if h.Line == nil {
				t.Errorf("%s: %q is not heard: %+v", r.Name, take[0], h)
				continue
			}
			if want, _ := syntax.ParseLine(take[1]); h.Text() != syntax.Print(want) {
				t.Errorf("%s: %q is heard as %q, want %q", r.Name, take[0], h.Text(), take[1])
			}
		}
		for _, line := range r.Refuses {
			if a, h := answered(line); a.Value != nil && len(a.Errors)+len(a.Waiting) == 0 {
				t.Errorf("%s: %q is answered: %v, %+v", r.Name, line, a.Value, h)
			} else if h != nil && h.Message == "" && len(h.Readings)+len(h.Proposals)+len(h.Named)+len(h.Faults) == 0 && len(a.Errors) == 0 {
				t.Errorf("%s: nothing is said to %q", r.Name, line)
			}
		}
	}
}

// TestHeard runs the lines in which two rules together could make what checks
// and is wrong.
func TestHeard(t *testing.T) {
	for _, row := range firstLines(t, "../../testdata/heard.tsv") {
		ok, wrong, got := right(row)
		if !ok || wrong && row[1] != "sum" {
			t.Errorf("%q (%s): got %s, wanted %s: %s", row[0], row[1], got, row[2], row[3])
		}
	}
}

// strict says how much of TestStrictIsNeverHeard is tried: every so many lines, all of them in .ci/run.
var strict = flag.Int("strict", 10, "try every so many of the lines that strict accepts")

// TestStrictIsNeverHeard types lines that strict accepts: they are not listened
// to, and listened to all the same they are never heard as another line.
func TestStrictIsNeverHeard(t *testing.T) {
	ear := hear.Beside(nil, library.Shipped(), index)
	n := 0
	for i, line := range strictLines(t) {
		if i%*strict != 0 {
			continue
		}
		a := strictly(line)
		if l, _ := syntax.ParseLine(line); hear.Listens(calc.Open(nil, library.Shipped()), l) {
			continue
		}
		n++
		if h := ear.Hear(line); len(a.Errors)+len(a.Waiting) == 0 && h.Line != nil && a.Value != nil {
			was, _ := syntax.ParseLine(line)
			if syntax.Print(was) != h.Text() {
				t.Errorf("%q is strict, and heard as %q", line, h.Text())
			}
		}
	}
	if n < 2000 / *strict {
		t.Errorf("only %d lines that strict accepts", n)
	}
}

// TestHeardIsStrict: what was heard, printed and read strictly, is itself and
// gives the same answer.
func TestHeardIsStrict(t *testing.T) {
	for _, file := range []string{"../../testdata/first_lines.tsv", "../../testdata/heard.tsv"} {
		for _, row := range firstLines(t, file) {
			a, h := answered(row[0])
			if h == nil || h.Line == nil {
				continue
			}
			if strings.Contains(row[0], " ; ") {
				continue // it speaks of the lines before it
			}
			again := strictly(h.Text())
			if len(again.Errors)+len(again.Waiting) > 0 {
				t.Errorf("%q is heard as %q, which strict refuses", row[0], h.Text())
			}
			if l, _ := syntax.ParseLine(h.Text()); strings.TrimSpace(syntax.Print(l)) != h.Text() {
				t.Errorf("%q is not canonical", h.Text())
			}
			if a.Value != nil && again.Value.String() != a.Value.String() {
				t.Errorf("%q: %s and %s", h.Text(), a.Value, again.Value)
			}
		}
	}
}

// TestTwoReadings: what strict refuses because it can be read in two ways is never
// mended, but for what a rule is there for: a comma, a hyphen in a length.
func TestTwoReadings(t *testing.T) {
	ear := hear.Beside(nil, library.Shipped(), index)
	n := 0
	for _, line := range strictLines(t) {
		l, _ := syntax.ParseLine(line)
		if len(l.Errors) == 0 || !strings.Contains(l.Errors[0].Message, "two ways") {
			continue
		}
		n++
		if h := ear.Hear(line); h.Line != nil && !strings.ContainsAny(line, ",") && !strings.Contains(line, "-1/") {
			t.Errorf("%q can be read in two ways, and is heard as %q", line, h.Text())
		}
	}
	if n < 20 {
		t.Errorf("only %d lines with two readings", n)
	}
}
