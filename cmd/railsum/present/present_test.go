package present

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/quiz"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

func config(name, text string) Config {
	lib := library.Shipped()
	return Config{
		Name: name, Library: lib, Book: calc.Open(syntax.ParseFile([]byte(text)).Lines, lib),
		Outline: func(book *calc.Book) (*outline.Outline, error) {
			answers := book.Answers()
			for i := range answers {
				if book.C.Studies[i] == nil {
					continue
				}
				var err error
				if answers[i], err = book.AnswerStudied(context.Background(), i); err != nil {
					return nil, err
				}
			}
			return outline.Of(name, answers, book.OK()), nil
		},
		Set: func(ex *answer.Exercise) (*outline.Set, error) {
			m, err := quiz.New(context.Background(), lib, ex)
			if err != nil {
				return nil, err
			}
			return m.Set(*ex.Seed)
		},
	}
}

func deckOf(t *testing.T, c Config) *deck {
	t.Helper()
	o, err := c.Outline(c.Book)
	if err != nil {
		t.Fatal(err)
	}
	return newDeck(o, &c)
}

// shipped are all notebooks that ship or are shown to people: lessons and layouts.
func shipped(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, l := range library.Lessons() {
		text, err := library.LessonText(l.Name)
		if err != nil {
			t.Fatal(err)
		}
		all[l.Name] = string(text)
	}
	files, _ := filepath.Glob("../../../testdata/layouts/*.sums")
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(name)] = string(text)
	}
	return all
}

// Every part of every step fits the screen it is laid out for, and no word of a
// step is lost between its parts.
func TestFits(t *testing.T) {
	for name, text := range shipped(t) {
		if testing.Short() && name == "marrowby.sums" {
			continue
		}
		d := deckOf(t, config(name, text))
		for _, size := range [][2]int{{40, 12}, {60, 18}, {80, 24}, {120, 40}} {
			o := options(show.Options{}, size[0])
			high := size[1] - frame
			for n, s := range d.steps {
				var said []string
				for _, part := range layOut(s.blocks, o, high) {
					if len(part) > high {
						t.Errorf("%s, step %d at %dx%d: %d rows", name, n+1, size[0], size[1], len(part))
					}
					for _, row := range part {
						if ansi.StringWidth(row) > size[0]-4 {
							t.Errorf("%s, step %d at %dx%d: too wide: %s", name, n+1, size[0], size[1], row)
						}
						said = append(said, strings.Fields(row)...)
					}
					page := page(d.title, d.stepOf(n), s.heading, part, "", size[0], size[1])
					if len(page) != size[1] {
						t.Errorf("%s, step %d at %dx%d: a page of %d rows", name, n+1, size[0], size[1], len(page))
					}
				}
				want := []string{}
				tall := o
				tall.High = high
				for _, b := range s.blocks {
					all := rows(b.draw, tall)
					if len(all) > high && b.instead != nil {
						all = rows(b.instead, tall)
					}
					want = append(want, strings.Fields(strings.Join(all, "\n"))...)
				}
				if strings.Join(said, " ") != strings.Join(want, " ") {
					t.Errorf("%s, step %d at %dx%d loses words", name, n+1, size[0], size[1])
				}
			}
		}
	}
}

// What is asked for further down is not told before, in any words of the steps.
func TestKeepsBack(t *testing.T) {
	d := deckOf(t, config("x", `use drop for quay with load = 2 A, length = 8 m, wire = 0.75 mm2
picture quay
quay.lost
guess quay.lost  # How many?
use drop for shed with load = 1.2 A
working shed.lost to 1 level leaving 1
`))
	// quay.lost is 463.43 mohm times 2 A, from the sheet's own figures.
	for n, s := range d.steps {
		var b strings.Builder
		for _, k := range s.blocks {
			if !k.blank {
				b.WriteString(strings.Join(rows(k.draw, show.Options{Width: 80}), "\n"))
			}
		}
		text := b.String()
		if before := s.guess == nil || !s.revealed; before && (strings.Contains(text, "926.9") || strings.Contains(text, "0.9269")) {
			t.Errorf("step %d tells the answer before it is asked for:\n%s", n+1, text)
		}
	}
	w := d.steps[len(d.steps)-2]
	if !w.grows || !w.blocks[len(w.blocks)-1].blank {
		t.Errorf("the working does not end with what was left blank: %+v", w)
	}
}

func TestDecode(t *testing.T) {
	for _, c := range []struct {
		in   string
		want key
		used int
	}{
		{"q", key{r: 'q'}, 1}, {"\x1b[C", key{name: "next"}, 3}, {"\x1b[5~", key{name: "back"}, 4},
		{"\x1b[200~0.5\rV\x1b[201~x", key{paste: "0.5\rV"}, 17}, {"\x1b[200~0.5", key{}, 0}, {"\x1b", key{name: "escape"}, 1},
		{"\x1b[1;5C", key{name: "other"}, 6}, {"µ", key{r: 'µ'}, 2}, {"\xc2", key{}, 0}, {"\x1b[", key{name: "escape"}, 2},
	} {
		if got, used := decode(c.in); got != c.want || used != c.used {
			t.Errorf("%q: %+v %d", c.in, got, used)
		}
	}
}
