package show

import (
	"context"
	"os"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

// studied is a notebook with its studies carried out.
func studied(t testing.TB, path string) []*calc.Answer {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	book := calc.Open(syntax.ParseFile(text).Lines, library.At("testdata/studies"))
	answers := book.Answers()
	for i := range answers {
		if answers[i], err = book.AnswerStudied(context.Background(), i); err != nil {
			t.Fatal(err)
		}
		for _, e := range answers[i].Errors {
			t.Errorf("line %d: %s", answers[i].Line.Row, e.Message)
		}
	}
	return answers
}

// screen writes the studies of a notebook, each below its line.
func screen(answers []*calc.Answer) func(p *Printer) {
	return func(p *Printer) {
		for _, a := range answers {
			if a.Study != nil {
				p.Line(a.Line)
				p.Answer(a, CardForm{})
			}
		}
	}
}

var screens = []struct {
	name string
	o    Options
}{
	{"80", Options{Width: 80}},
	{"120", Options{Width: 120}},
	{"80_coloured", Options{Width: 80, Colour: true}},
	{"120_coloured", Options{Width: 120, Colour: true}},
	{"80_ascii", Options{Width: 80, ASCII: true}},
	{"40", Options{Width: 40}},
	{"spoken", Options{Width: 80, Stacked: true}},
}

// TestStudyScreens compares the studies' screens with what was looked over by
// eye.
func TestStudyScreens(t *testing.T) {
	answers := studied(t, "testdata/studies/studies.sums")
	for _, s := range screens {
		golden(t, "studies/screen_"+s.name, written(s.o, screen(answers)))
	}
}

// TestStudyScreensHold looks at what all screens have in common: no row is
// wider than the window unless one word is, ASCII is ASCII, and colours only
// stand on words that say the same.
func TestStudyScreensHold(t *testing.T) {
	answers := studied(t, "testdata/studies/studies.sums")
	for _, s := range screens {
		text := written(s.o, func(p *Printer) {
			for _, a := range answers {
				if a.Study != nil {
					a.Study.Visit(p)
				}
			}
		})
		if s.o.Colour {
			bare := s.o
			bare.Colour = false
			plain := written(bare, func(p *Printer) {
				for _, a := range answers {
					if a.Study != nil {
						a.Study.Visit(p)
					}
				}
			})
			if !strings.Contains(text, "\x1b[") {
				t.Errorf("%s: no colour at all", s.name)
			}
			if sgr.ReplaceAllString(text, "") != plain {
				t.Errorf("%s: without its colours the screen is another", s.name)
			}
		} else if strings.Contains(text, "\x1b") {
			t.Errorf("%s: a colour where none is wanted", s.name)
		}
		for _, row := range strings.Split(text, "\n") {
			if width(row) > s.o.Width && strings.Contains(strings.TrimSpace(row), " ") {
				t.Errorf("%s: %d columns: %q", s.name, width(row), row)
			}
			if depth := nesting(row); depth > 1 {
				t.Errorf("%s: colours nested: %q", s.name, row)
			}
			if s.o.ASCII && strings.ContainsFunc(row, func(r rune) bool { return r > '~' }) {
				t.Errorf("%s: %q is not ASCII", s.name, row)
			}
			if strings.TrimRight(row, " ") != row {
				t.Errorf("%s: blanks at the end of %q", s.name, row)
			}
		}
	}
}
