package syntax

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// A lineCase is one block of testdata/lines.txt.
type lineCase struct {
	at         int // its row in the file
	src, want  string
	incomplete bool
}

func lineCases(t *testing.T) []lineCase {
	data, err := os.ReadFile("testdata/lines.txt")
	if err != nil {
		t.Fatal(err)
	}
	var cases []lineCase
	row := 1
	for _, block := range strings.Split(string(data), "\n\n") {
		c := lineCase{at: row}
		row += strings.Count(block, "\n") + 2
		var src, want []string
		for _, l := range strings.Split(strings.TrimSuffix(block, "\n"), "\n") {
			switch {
			case strings.HasPrefix(l, "> "), strings.HasPrefix(l, "! "), strings.HasPrefix(l, "? "):
				want = append(want, l)
			case l == "…":
				c.incomplete = true
			case !strings.HasPrefix(l, "; "):
				src = append(src, l)
			}
		}
		c.src, c.want = strings.Join(src, "\n"), strings.Join(want, "\n")
		if c.src != "" {
			cases = append(cases, c)
		}
	}
	return cases
}

// outcome says what comes of a line, in the form of the test data.
func outcome(l *Line) string {
	var out []string
	broken := false
	for _, d := range l.Errors {
		mark := "!"
		if d.Notice {
			mark = "?"
		} else if _, header := l.Node.(*Header); !header {
			broken = true
		}
		out = append(out, fmt.Sprintf("%s %d:%d %s", mark, d.At.Row, d.At.Col, d.Error()))
	}
	if !broken {
		out = append(out, "> "+strings.ReplaceAll(Print(l), "\n", "\n> "))
	}
	return strings.Join(out, "\n")
}

func TestLines(t *testing.T) {
	cases := lineCases(t)
	errors := 0
	for _, c := range cases {
		l, incomplete := ParseLine(c.src)
		checkLine(t, l)
		if got := outcome(l); got != c.want {
			t.Errorf("testdata/lines.txt:%d: %s\ngot\n%s\nwant\n%s", c.at, c.src, got, c.want)
		}
		if incomplete != c.incomplete {
			t.Errorf("testdata/lines.txt:%d: %s\nincomplete is %v", c.at, c.src, incomplete)
		}
		if _, broken := l.Node.(*Broken); broken {
			errors++
			continue
		}
		checkPrint(t, l)
	}
	if len(cases) < 300 || errors < 150 {
		t.Errorf("%d cases, %d of them errors: some were lost", len(cases), errors)
	}
}
