package page

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/library"
)

func pinnedUp(t *testing.T, text, dir string, b *Bench) (string, error) {
	t.Helper()
	b.File, b.Needs = "bay.sums", &outline.Needs{}
	b.Needs.Add(calc.Open(syntax.ParseFile([]byte(text)).Lines, library.At(dir)), "")
	if b.Spread == nil {
		b.Spread = func(string) *answer.Spread { return nil }
	}
	if b.Wide == 0 {
		b.Wide, b.High = 60, 17
	}
	var w bytes.Buffer
	err := b.Write(&w, outlined(t, "bay", text, dir), Options{Date: "25 November 2026"})
	return w.String(), err
}

// A row of a sheet placed over a table has a card with its own verdict and figures; each run of wire four labels.
func TestBench(t *testing.T) {
	text, err := os.ReadFile(layouts + "/gannet_bay.sums")
	if err != nil {
		t.Fatal(err)
	}
	page, err := pinnedUp(t, string(text), layouts, &Bench{Cards: []string{"bus"}, Labels: true, Parts: true, Meter: true})
	if err != nil {
		t.Fatal(err)
	}
	pins, labels := map[string]string{}, 0
	walk(t, page, func(n *html.Node) {
		switch {
		case n.Type == html.ElementNode && attribute(n, "class") == "pin":
			var b strings.Builder
			printable(n, &b)
			words := spaced(b.String())
			name, rest, _ := strings.Cut(words, " As built ")
			pins[name] = rest
		case n.Type == html.ElementNode && n.Data == "li" && strings.HasPrefix(attribute(n, "class"), "label"):
			labels++
		}
	})
	if len(pins) != 5 || labels != 6*4+1 {
		t.Fatalf("%d cards and %d labels:\n%v", len(pins), labels, pins)
	}
	for head, rest := range pins {
		danger := strings.HasPrefix(head, "bus, lighthouse branch danger")
		if !danger && !strings.HasSuffix(head, "clear As built, every check holds.") {
			t.Errorf("a card begins %s", head)
		}
		if danger != strings.Contains(head, "thicken the wire") || danger != strings.Contains(rest, "34 m") || !strings.Contains(rest, "a coin trips it: yes no") {
			t.Errorf("%s: %s", head, rest)
		}
	}
	if !strings.Contains(plainText(t, page), "31 m") {
		t.Error("what to buy is missing")
	}
}

// A card of defaults is never plain clear; what there is not, and a label too small to read, are refused.
func TestBenchWords(t *testing.T) {
	page, err := pinnedUp(t, "use led for lamp\n", ".", &Bench{Cards: []string{All}})
	if err != nil || !strings.Contains(plainText(t, page), "by defaults alone") {
		t.Errorf("%v\n%s", err, plainText(t, page))
	}
	for _, b := range []*Bench{{Cards: []string{"quay"}}, {Labels: true, Wide: 20, High: 9}} {
		if _, err := pinnedUp(t, "use led for lamp\n", ".", b); err == nil {
			t.Errorf("%+v is taken", b)
		}
	}
}
