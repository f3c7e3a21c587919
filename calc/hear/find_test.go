package hear_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"railsum/calc/hear"
)

// The words of testdata/sought.tsv find the right sheet first, looked for and
// typed as a question.
func TestSought(t *testing.T) {
	text, err := os.ReadFile("../../testdata/sought.tsv")
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for row := range strings.Lines(string(text)) {
		sought, sheet, _ := strings.Cut(strings.TrimSpace(row), "\t")
		if strings.HasPrefix(row, "#") || sheet == "sheet" {
			continue
		}
		rows++
		wanted := strings.Split(sheet, "|")
		if found := index.Find(sought); len(found) == 0 || !slices.Contains(wanted, found[0].Name) {
			t.Errorf("%s: the first of %d is not %s", sought, len(found), sheet)
			for _, s := range found[:min(3, len(found))] {
				t.Logf("%s: found %s", sought, s.Name)
			}
		}
		if _, h := answered(sought); h == nil {
			t.Errorf("%s: is not heard", sought)
		} else if first := firstOf(h); !slices.Contains(wanted, first) {
			t.Errorf("%s: %q is proposed, want %s", sought, first, sheet)
		}
	}
	if rows < 60 {
		t.Errorf("%d rows", rows)
	}
	if found := index.Find("zeppelin"); len(found) > 0 {
		t.Errorf("%s speaks of zeppelins", found[0].Name)
	}
}

// firstOf is the sheet that is named, or proposed first.
func firstOf(h *hear.Heard) string {
	for _, e := range h.Named {
		if e.Kind == "sheet" {
			return e.Name
		}
	}
	if len(h.Proposals) > 0 {
		return h.Proposals[0].Sheet
	}
	return ""
}
