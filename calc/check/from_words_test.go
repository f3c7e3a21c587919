package check_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/library"
)

var update = flag.Bool("update", false, "write what is compared with")

// What `from` would take by another word, over all shipped sheets, as a list that a
// person can read and judge: under each word the inputs that have it, each with what
// it means, and the answers that are told under it. All that stands under one word
// has to mean one thing, for one house tells it to all of them.
func TestWhatFromTakesByAnotherWord(t *testing.T) {
	inputs, answers := map[string][]string{}, map[string][]string{}
	for _, sheet := range library.Shipped().SheetNames() {
		c := opened("use " + sheet + " for x\n")
		p := c.Places[0][0]
		typed := map[string]*check.Def{}
		for _, d := range p.Asks {
			typed[strings.TrimPrefix(d.Name, "x.")] = d
		}
		for _, l := range p.Sheet.File.Lines {
			switch n := l.Node.(type) {
			case *syntax.Ask:
				for _, w := range n.Words {
					if check.Vague(library.Shipped(), n.Name.Text, w.Text) {
						continue // takes nothing
					}
					row := fmt.Sprintf("%s.%s", sheet, n.Name.Text)
					if d := typed[n.Name.Text]; d != nil {
						row += ", " + d.Type.Scalar().Words()
					}
					inputs[w.Text] = append(inputs[w.Text], row+": "+l.Note)
				}
			case *syntax.Tell:
				answers[n.Name.Text] = append(answers[n.Name.Text], fmt.Sprintf("told by %s: %s", sheet, l.Note))
			}
		}
	}
	var b strings.Builder
	for _, w := range slices.Sorted(maps.Keys(inputs)) {
		fmt.Fprintln(&b, w)
		for _, row := range append(inputs[w], answers[w]...) {
			fmt.Fprintln(&b, "  "+strings.TrimSuffix(row, ": "))
		}
	}
	const golden = "../../testdata/from_words.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), b.String()); diff != "" {
		t.Errorf("what is taken by another word has changed; judge each row, then run with -update\n%s", diff)
	}
}
