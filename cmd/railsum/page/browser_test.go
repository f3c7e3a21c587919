package page

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railsum/calc/answer"
	"railsum/cmd/railsum/browsertest"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/quiz"
	"railsum/library"
)

// In a browser each page asks for nothing but itself, says nothing in the log, names all that a screen reader is told of,
// needs no scrolling sideways, keeps the texts of drawings apart, and prints as a tagged file, its answers opened.
func TestBrowser(t *testing.T) {
	b := browsertest.Start(t)
	dir := t.TempDir()
	for name, o := range notebooks(t) {
		if testing.Short() && name != "lesson" && name != "gannet_bay" {
			continue
		}
		file := filepath.Join(dir, name+".html")
		html := made(t, o, Options{Date: "25 November 2026", Set: asked(t)})
		if err := os.WriteFile(file, []byte(html), 0o644); err != nil {
			t.Fatal(err)
		}
		p := b.Open(t, file, 1000, 900)
		for _, e := range p.Events("Network.requestWillBeSent") {
			var r struct{ Request struct{ URL string } }
			if err := json.Unmarshal(e.Params, &r); err != nil {
				t.Fatal(err)
			}
			if u := r.Request.URL; !strings.HasPrefix(u, "file://"+file) && !strings.HasPrefix(u, "data:font/") {
				t.Errorf("%s asks for %.80s", name, u)
			}
		}
		seen(t, p, name)
		if tags, lesson := strings.Count(html, "<")-strings.Count(html, "</"), strings.HasPrefix(name, "lesson:"); lesson && (len(html) > 90_000 || tags > 1500) ||
			len(html) > 400_000 || tags > 12_000 {
			t.Errorf("%s has %d bytes and %d tags", name, len(html), tags)
		}
		for paper, size := range sheetSizes {
			pdf := p.PDF(t, size[0], size[1])
			if !bytes.HasPrefix(pdf, []byte("%PDF")) || !bytes.Contains(pdf, []byte("/StructTreeRoot")) {
				t.Errorf("%s: %s is not a tagged file", name, paper)
			}
			sheets := printed(t, pdf)
			if len(sheets) == 0 {
				continue
			}
			if strings.HasPrefix(name, "lesson:") && len(sheets) > 4 {
				t.Errorf("%s takes %d sheets of %s", name, len(sheets), paper)
			}
			for _, wrong := range misprints(t, o, html, sheets) {
				t.Errorf("%s on %s: %s", name, paper, wrong)
			}
		}
		p.Media(t, "print", nil)
		var open bool
		p.Eval(t, `[...document.querySelectorAll("details td")].every(c => c.getBoundingClientRect().height > 0)`, &open)
		if !open {
			t.Errorf("%s: answers stay closed on paper", name)
		}
		p.Close(t)
	}
}

// sheetSizes are the sizes of paper, in inches.
var sheetSizes = map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}}

// asked makes the questions of exercises, as the program does.
func asked(t *testing.T) func(*answer.Exercise) (*outline.Set, error) {
	return func(ex *answer.Exercise) (*outline.Set, error) {
		m, err := quiz.New(t.Context(), library.Shipped(), ex)
		if err != nil || ex.Seed == nil {
			return nil, err
		}
		return m.Set(*ex.Seed)
	}
}

// meetings finds texts of drawings that stand outside of them or on one another.
const meetings = `(() => {
	const wrong = [];
	for (const svg of document.querySelectorAll("svg.pic")) {
		if (!svg.getClientRects().length) continue;
		const view = svg.viewBox.baseVal;
		const boxes = [...svg.querySelectorAll("text")].map(t => ({t: t.textContent, b: t.getBBox()}));
		for (const [i, {t, b}] of boxes.entries()) {
			if (b.x < view.x - 1 || b.x + b.width > view.x + view.width + 1) wrong.push(t + " stands outside");
			for (const o of boxes.slice(0, i)) {
				if (b.x < o.b.x + o.b.width - 1 && o.b.x < b.x + b.width - 1 &&
					b.y + 4 < o.b.y + o.b.height - 4 && o.b.y + 4 < b.y + b.height - 4) wrong.push(t + " stands on " + o.t);
			}
		}
	}
	return wrong.slice(0, 10);
})()`
