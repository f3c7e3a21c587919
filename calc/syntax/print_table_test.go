package syntax

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestAligned holds tables to how they would stand on paper.
func TestAligned(t *testing.T) {
	long := strings.Repeat("and so on ", 6)
	for _, c := range []struct{ name, src, want string }{
		{"numbers right, words left, notes below notes",
			"table t|length=3 as m|kind|on#n\nquay|12|\"a\"|yes\nyard, old||\"bc\"|no#seen\nend",
			"table t     | length = 3 as m | kind | on   # n\n  quay      |              12 | \"a\"  | yes\n  yard, old |                 | \"bc\" | no   # seen\nend"},
		{"nothing behind the last bar", "table t|a=1\nx|\nlonger|22\nend", "table t  | a = 1\n  x      |\n  longer |    22\nend"},
		{"letters of two columns, and of none", "table t|a\n東京|1\ne\u0301|22\nend", "table t | a\n  東京  |  1\n  é     | 22\nend"},
		{"a wide cell sticks out", "table t|a|b\nx|\"" + long + "\"|1\nyy|\"c\"|22\nend",
			"table t | a   | b\n  x     | \"" + long + "\" |  1\n  yy    | \"c\" | 22\nend"},
		{"a wide label too", "table t|a\n" + long + "x|1\ny|22\nend", "table t | a\n  " + long + "x |  1\n  y     | 22\nend"},
	} {
		l, _ := ParseLine(c.src)
		if got := Print(l); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
		checkPrint(t, l)
	}
}

// TestOneCellOneRow changes a cell that does not widen its column.
func TestOneCellOneRow(t *testing.T) {
	src := "table t | a | b\n  x | 100 | \"one\"  # n\n  y | %s | \"two\"\n  z | 3 | \"six\"  # n\nend"
	print := func(cell string) []string {
		l, _ := ParseLine(fmt.Sprintf(src, cell))
		return strings.Split(Print(l), "\n")
	}
	before := print("7")
	for _, cell := range []string{"8", "45", "7.5", "-2", "x.y"} {
		after := print(cell)
		after[2] = before[2]
		if !slices.Equal(before, after) {
			t.Errorf("%s changes other rows:\n%s\n%s", cell, strings.Join(before, "\n"), strings.Join(after, "\n"))
		}
	}
}

// TestAlignedWithinBounds holds that no row and no text becomes too long to be
// read by being aligned.
func TestAlignedWithinBounds(t *testing.T) {
	note := strings.Repeat("n", MaxRunes-len("  x | 1  # "))
	l, _ := ParseLine("table t | a\n  x | 1  # " + note + "\n  a longer label | 1\nend")
	checkPrint(t, l)
	for row := range strings.SplitSeq(Print(l), "\n") {
		if utf8.RuneCountInString(row) > MaxRunes {
			t.Error("a row has become too long")
		}
	}
	if got := Print(l); !strings.Contains(got, "\n  x | 1  # ") {
		t.Errorf("aligned all the same: %.60s", got)
	}

	rows := "\n  the longest label of all of them | 1" + strings.Repeat("\n  x | 1", 90_000)
	src := []byte("railsum 1\ntable t | a" + rows + "\nend\n")
	tidy := Format(ParseFile(src))
	if len(tidy) > MaxBytes || string(tidy) != string(src) {
		t.Errorf("%d bytes become %d", len(src), len(tidy))
	}
}
