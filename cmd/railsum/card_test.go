package main

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
	"railsum/library"
)

// firstCards gives the card of every shipped sheet, alone and with each of its
// inputs at an end of its range or at one of its choices.
func firstCards(t *testing.T, do func(line string, c *answer.Card)) {
	lib := library.Shipped()
	card := func(line string) {
		lines := syntax.ParseFile([]byte(line)).Lines
		a := calc.Open(lines, lib).Answer(0)
		if len(a.Cards) != 1 || len(a.Errors) > 0 {
			t.Fatalf("%s: %d cards, errors %v", line, len(a.Cards), a.Errors)
		}
		do(line, a.Cards[0])
	}
	for _, e := range library.Catalogue() {
		name := e.Sheet
		sheet, err := lib.Sheet(name, false)
		if err != nil {
			t.Fatal(err)
		}
		card("use " + name)
		for _, l := range sheet.File.Lines {
			ask, ok := l.Node.(*syntax.Ask)
			if !ok {
				continue
			}
			values := ask.Tail.Among
			if ask.Tail.From != nil {
				values = append(values, ask.Tail.From, ask.Tail.To)
			}
			for _, v := range values {
				card(fmt.Sprintf("use %s with %s = %s", name, ask.Name.Text, syntax.PrintExpr(v)))
			}
		}
	}
}

// onScreen is the first card as a window of some width has it.
func onScreen(c *answer.Card, width int) []string {
	var b bytes.Buffer
	show.New(&b, show.Options{Width: width}).AtMargin().Card(c, show.CardForm{More: "`list quay whole`: every check, meaning and source"})
	return strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
}

// TestFirstCards: at 80 columns a card fits a window of 24 rows, its verdict is
// the first row and its first answer the tenth at the latest; every danger stands
// on it with its figures.
func TestFirstCards(t *testing.T) {
	p := show.New(nil, show.Options{})
	most, cards := 0, 0
	firstCards(t, func(line string, c *answer.Card) {
		cards++
		rows := onScreen(c, 80)
		text := strings.Join(strings.Fields(strings.Join(rows, " ")), " ")
		most = max(most, len(rows))
		wrong := func(format string, args ...any) {
			t.Errorf("%s: %s\n%s", line, fmt.Sprintf(format, args...), strings.Join(rows, "\n"))
		}
		if len(rows) > 22 {
			wrong("%d rows", len(rows))
		}
		if len(c.Rules) > 0 && !strings.HasPrefix(rows[0], c.Sheet+": "+c.Verdict.String()) {
			wrong("the first row has no verdict")
		}
		for i := range c.Rules {
			if j := &c.Rules[i]; j.Verdict > answer.Clear && !strings.Contains(text, j.Sentence()) {
				wrong("%q is missing", j.Sentence())
			}
		}
		first := c.Gives[0].Name
		at := -1
		for i, row := range rows {
			if strings.HasPrefix(row, "  "+first+" ") || strings.HasPrefix(row, "   ") && strings.HasSuffix(row, "   "+first) || strings.Contains(row, "   "+first+"   ") {
				at = i + 1
				break
			}
		}
		if at < 1 || at > 10 {
			wrong("the first answer, %s, is on row %d", first, at)
		}
		for _, row := range rows {
			if strings.HasSuffix(row, "…") && !strings.HasPrefix(strings.TrimSpace(row), answerOf(c, row)) {
				wrong("cut: %q", row)
			}
		}
		for _, h := range c.Hazards {
			if head, _, _ := strings.Cut(h, ": "); !strings.Contains(text, strings.Join(strings.Fields(head), " ")) {
				wrong("the hazard %q is missing", h)
			}
		}
		narrow := strings.Join(strings.Fields(strings.Join(onScreen(c, 40), " ")), " ")
		for i := range c.Rules {
			if j := &c.Rules[i]; j.Verdict > answer.Clear {
				for _, want := range []string{j.Sentence(), j.Cure} {
					if !strings.Contains(narrow, want) {
						t.Errorf("%s: at 40 columns %q is cut\n%s", line, want, narrow)
					}
				}
			}
		}
		for i := range c.Gives[:min(8, len(c.Gives))] {
			l := &c.Gives[i]
			if l.Value == nil || l.Value.Column() {
				continue
			}
			if want := l.Name + " " + strings.Trim(p.Value(l.Value), `"`); !strings.Contains(narrow, want) {
				t.Errorf("%s: at 40 columns %q is cut\n%s", line, want, narrow)
			}
		}
	})
	if cards < 500 {
		t.Errorf("only %d cards", cards)
	}
	t.Logf("%d cards, %d rows at the most", cards, most)
}

// answerOf is the answer whose row it is: only meanings are cut.
func answerOf(c *answer.Card, row string) string {
	for i := range c.Gives {
		if name := c.Gives[i].Name + " "; strings.HasPrefix(strings.TrimSpace(row), name) {
			return name
		}
	}
	return "\x00"
}
