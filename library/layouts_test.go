package library

import (
	"os"
	"slices"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
)

// The demo layouts: no line in error, and the verdicts they were written for.
func TestLayouts(t *testing.T) {
	for _, c := range []struct {
		file    string
		rows    int // at least
		verdict calc.Verdict
		fails   []string // rules that do not hold, with the rows they fail in
	}{
		{"gannet_bay.sums", 60, calc.Danger, []string{"bus: fault >= trip * margin: lighthouse branch"}},
		{"mill_lane.sums", 30, calc.Clear, nil},
	} {
		text, err := os.ReadFile("../testdata/layouts/" + c.file)
		if err != nil {
			t.Fatal(err)
		}
		b := open(t, string(text))
		rows := 0
		var fails []string
		judge := func(place string, r calc.Judged) {
			if r.Verdict != calc.Clear {
				fail := place + ": " + r.Text
				for _, label := range r.Fails {
					fail += ": " + label
				}
				fails = append(fails, fail)
			}
		}
		for i, line := range b.Lines() {
			rows += line.Rows()
			a := b.Answer(i)
			if a.Rule != nil {
				judge("", *a.Rule)
			}
			for _, card := range a.Cards {
				for _, r := range card.Rules {
					judge(card.Name, r)
				}
			}
			if len(a.Waiting) > 0 {
				t.Errorf("%s: %s waits for %v", c.file, line.Raw, a.Waiting)
			}
		}
		if rows < c.rows || b.Verdict() != c.verdict || !slices.Equal(fails, c.fails) {
			t.Errorf("%s: %d rows, verdict %v, not clear: %q", c.file, rows, b.Verdict(), fails)
		}
		if tidy := string(syntax.Format(syntax.ParseFile(text))); tidy != string(text) {
			t.Errorf("%s is not in canonical form; it would be\n%s", c.file, tidy)
		}
	}
}
