package outline

import (
	"strings"
	"testing"

	"railsum/calc/syntax"
)

func TestWith(t *testing.T) {
	const book = `track = 15 V
use drop for quay with supply = track, length = 8 m  # the quay
quay.load = 2 A
quay.lost
`
	for _, c := range [][2]string{
		{"track = 12 V", "track = 12 V\nuse drop for quay with supply = track, length = 8 m  # the quay\nquay.load = 2 A\nquay.lost\n"},
		{"quay.load = 3 A", strings.Replace(book, "2 A", "3 A", 1)},
		{"quay.length = 16 m", "track = 15 V\nuse drop for quay with supply = track  # the quay\nquay.length = 16 m\nquay.load = 2 A\nquay.lost\n"},
		{"quay.left", book + "quay.left\n"},
	} {
		line, _ := syntax.ParseLine(c[0])
		lines, at := With(syntax.ParseFile([]byte(book)).Lines, line)
		got := ""
		for _, l := range lines {
			got += l.Raw + "\n"
		}
		if got = strings.TrimSuffix(strings.Replace(got, "\n\n", "\n", 1), "\n") + "\n"; got != c[1] || lines[at] != line {
			t.Errorf("%s gives\n%s", c[0], got)
		}
	}
}
