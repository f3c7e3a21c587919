package main

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"
)

// TestBriefFits: however many rules a notebook has, and whatever they say, it is a
// screen of 24 rows and 80 columns in brief, the worst first.
func TestBriefFits(t *testing.T) {
	for _, rules := range []int{0, 1, 10, 100, 1000} {
		for _, failing := range []int{0, rules / 2, rules} {
			var text strings.Builder
			text.WriteString("railsum 1\na = 1 V\nb = 2 * a\nuse drop for north\n")
			for i := range rules {
				word, limit := "should", i+2
				if i%2 == 0 {
					word = "must"
				}
				if i >= failing {
					limit = -i
				}
				fmt.Fprintf(&text, "%s a >= %d V # enough is left of it at the far end; else what is left at the far end of it is much too little for an engine: see line %d\n", word, limit, i)
			}
			var out bytes.Buffer
			call(context.Background(), strings.NewReader(text.String()), &out, "read", "--brief", "-")
			rows := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
			if len(rows) > 22 {
				t.Errorf("%d rules of which %d fail: %d rows", rules, failing, len(rows))
			}
			for _, row := range rows {
				if n := len([]rune(row)); n > 80 {
					t.Errorf("%d columns: %s", n, row)
				}
			}
			said := out.String()
			if danger, caution := strings.Index(said, ". danger,"), strings.Index(said, ". caution,"); failing > 1 && (danger < 0 || caution >= 0 && caution < danger) {
				t.Errorf("%d rules of which %d fail: the worst is not first:\n%s", rules, failing, said)
			}
			if !strings.Contains(said, "north, drop: ") {
				t.Errorf("%d rules of which %d fail: no card in\n%s", rules, failing, said)
			}
		}
	}
}
