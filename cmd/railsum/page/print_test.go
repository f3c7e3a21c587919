package page

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/browsertest"
	"railsum/cmd/railsum/outline"
)

// printed is the text of each sheet of a printed page, read by pdftotext of Debian's package poppler-utils; none where
// there is no such program, unless CI says that there must be.
func printed(t *testing.T, pdf []byte) []string {
	t.Helper()
	program, err := exec.LookPath("pdftotext")
	if err != nil {
		if os.Getenv(browsertest.Must) != "" {
			t.Fatal("there is no pdftotext, and " + browsertest.Must + " asks for it: install Debian's package poppler-utils")
		}
		t.Log("what is printed is not read back: Debian's package poppler-utils brings pdftotext")
		return nil
	}
	cmd := exec.Command(program, "-raw", "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// spaced is a text with one blank between its words.
func spaced(s string) string { return strings.Join(strings.Fields(s), " ") }

// misprints says which figures of the outline's answers stand on paper more or less often than on the page, which are
// nowhere, and which drawings are not whole on one sheet.
func misprints(t *testing.T, o *outline.Outline, page string, sheets []string) []string {
	var wrong []string
	var body strings.Builder
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	printable(root, &body)
	want, got := figures(body.String()), figures(strings.Join(sheets, "\n"))
	for _, f := range answered(o) {
		switch {
		case want[f] == 0:
			wrong = append(wrong, f+" is not on the page")
		case want[f] != got[f]:
			wrong = append(wrong, fmt.Sprintf("%s stands on paper %d times, and %d times on the page", f, got[f], want[f]))
		}
	}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || n.Data != "div" || attribute(n, "class") != "wide" {
			continue
		}
		var texts []string
		for t := range n.Descendants() {
			if t.Type == html.ElementNode && t.Data == "text" {
				texts = append(texts, spaced(t.FirstChild.Data))
			}
		}
		if !slices.ContainsFunc(sheets, func(s string) bool {
			s = spaced(s)
			return !slices.ContainsFunc(texts, func(text string) bool { return !strings.Contains(s, text) })
		}) {
			wrong = append(wrong, fmt.Sprintf("a drawing with %q is not whole on one sheet", texts))
		}
	}
	return wrong
}

// printable gathers what a page has for paper: no controls, one of the two sizes of each drawing.
func printable(n *html.Node, b *strings.Builder) {
	if n.Type == html.ElementNode {
		class := attribute(n, "class")
		if slices.Contains([]string{"head", "summary", "style", "title", "desc"}, n.Data) || slices.Contains([]string{"head", "controls", "narrow"}, class) {
			return
		}
	}
	if n.Type == html.TextNode {
		b.WriteString(n.Data + "\n")
	}
	for c := range n.ChildNodes() {
		printable(c, b)
	}
}

// figures counts the numbers of each row of a text with what stands behind each.
func figures(text string) map[string]int {
	count := map[string]int{}
	for row := range strings.Lines(text) {
		words := strings.Fields(row)
		for i := range words {
			words[i] = strings.Trim(words[i], "(),;:.?=")
		}
		for i, w := range words {
			if w != "" && w[0] >= '0' && w[0] <= '9' && i+1 < len(words) {
				count[w+" "+words[i+1]]++
			}
		}
	}
	return count
}

// answered are the figures of the answers that a page has to show: values of lines, guesses and workings.
func answered(o *outline.Outline) []string {
	var all []string
	m := &maker{o: o}
	add := func(v *answer.Value) {
		if v != nil && v.Quantity() && !v.Column() && !v.Unit.IsZero() && v.Tol.IsZero() && v.Fault(0) == "" {
			if text := m.value(v); strings.Count(text, " ") == 1 && !slices.Contains(all, text) {
				all = append(all, text)
			}
		}
	}
	for i := range o.Items {
		item := &o.Items[i]
		switch b := item.Body.(type) {
		case *outline.Answer:
			if _, question := item.Line.Node.(*syntax.Question); question || !m.onCard(item.Line) {
				add(b.Value)
			}
		case *outline.Verdict:
			if c := b.Compared; c != nil {
				add(c.Left)
				add(c.Right)
			}
		}
		for _, v := range secret(item) {
			add(v)
		}
	}
	return all
}
