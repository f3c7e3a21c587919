package hear_test

import (
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/library"
)

// said lists every line that hearing offers, with what it was offered for.
func said(t *testing.T) map[string]string {
	all := map[string]string{}
	var typed []string
	for _, file := range []string{"../../testdata/first_lines.tsv", "../../testdata/heard.tsv"} {
		for _, row := range firstLines(t, file) {
			typed = append(typed, row[0])
		}
	}
	for _, r := range hear.Examples() {
		typed = append(typed, r.Refuses...)
	}
	for _, line := range append(typed, strictLines(t)...) {
		_, h := answered(line)
		if h == nil || strings.Contains(line, " ; ") { // that speaks of the lines before it
			continue
		}
		if h.Correction != "" {
			all[h.Correction] = line
		}
		for _, r := range h.Readings {
			all[r.Line] = line
		}
		for _, p := range h.Proposals {
			all[p.Line] = line
		}
	}
	return all
}

// TestOffersCompute types every correction, reading and proposal: each has an
// answer.
func TestOffersCompute(t *testing.T) {
	all := said(t)
	if len(all) < 200 {
		t.Errorf("only %d lines are offered", len(all))
	}
	for offer, typed := range all {
		if a := strictly(offer); len(a.Errors)+len(a.Waiting) > 0 || a.Value == nil && len(a.Cards) == 0 {
			t.Errorf("%q is offered for %q and has no answer: %+v, waits for %v", offer, typed, a.Errors, a.Waiting)
		}
	}
}

// TestFilesAreNotHeard: the lines of a file stay as they are, whatever could be
// heard in them: its cures are made, and the text is what was read.
func TestFilesAreNotHeard(t *testing.T) {
	var typed []string
	for _, row := range firstLines(t, "../../testdata/first_lines.tsv") {
		typed = append(typed, row[0])
	}
	text := strings.Join(typed, "\n") + "\n"
	file := syntax.ParseFile([]byte(text))
	book := calc.Open(file.Lines, library.Shipped())
	ear := hear.Beside(file.Lines, library.Shipped(), index)
	for i, l := range file.Lines {
		before := book.Answer(i)
		ear.Hear(l.Raw)
		if after := book.Answer(i); len(after.Errors) != len(before.Errors) {
			t.Errorf("%q: hearing has changed what the file says", l.Raw)
		}
	}
	if got := string(file.Bytes()); got != text {
		t.Errorf("hearing has changed the text to %q", got)
	}
}
