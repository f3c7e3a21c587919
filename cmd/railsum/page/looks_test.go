package page

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railsum/cmd/railsum/browsertest"
)

// seen holds an open page to what TEACH asks of each: headings in order, all that a screen reader is told of named, no
// scrolling sideways, texts of drawings apart, and ink that stands out from its paper in light, dark and forced colours.
func seen(t *testing.T, p *browsertest.Page, name string) {
	t.Helper()
	var wrong []string
	p.Eval(t, headings, &wrong)
	for _, n := range p.Tree(t) {
		switch role := n.Role.Value; role {
		case "image", "img", "checkbox", "heading", "DisclosureTriangle", "link", "region", "figure", "table":
			if !n.Ignored && n.Name.Value == "" {
				wrong = append(wrong, "a "+role+" without a name")
			}
		}
	}
	for _, wide := range []int{320, 500, 1000} {
		p.Size(t, wide, 900)
		var over int
		p.Eval(t, `document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
		if over > 0 {
			wrong = append(wrong, fmt.Sprintf("scrolls sideways by %d at %d", over, wide))
		}
		var met []string
		p.Eval(t, meetings, &met)
		for _, w := range met {
			wrong = append(wrong, fmt.Sprintf("at %d: %s", wide, w))
		}
	}
	for _, feature := range [][2]string{{"prefers-color-scheme", "light"}, {"prefers-color-scheme", "dark"}, {"forced-colors", "active"}} {
		p.Media(t, "", map[string]string{feature[0]: feature[1]})
		var is bool
		p.Eval(t, fmt.Sprintf(`matchMedia("(%s: %s)").matches`, feature[0], feature[1]), &is)
		if !is {
			wrong = append(wrong, feature[1]+": the browser does not show it so")
		}
		var faint []string
		p.Eval(t, contrasts, &faint)
		for _, f := range faint {
			wrong = append(wrong, feature[1]+": "+f)
		}
	}
	p.Media(t, "", nil)
	if log := p.Events("Log.entryAdded"); len(log) > 0 {
		wrong = append(wrong, "the log says "+log[0].String())
	}
	for _, w := range wrong {
		t.Errorf("%s: %s", name, w)
	}
}

// headings finds a page without its one first heading, and headings that skip a level.
const headings = `(() => {
	const all = [...document.querySelectorAll("h1,h2,h3,h4,h5,h6")], wrong = [];
	if (all.filter(h => h.tagName === "H1").length !== 1 || all[0].tagName !== "H1") wrong.push("not one first heading");
	let above = 0;
	for (const h of all) {
		const level = +h.tagName[1];
		if (level > above + 1) wrong.push("a level is skipped before " + h.textContent.trim());
		above = level;
	}
	return wrong.slice(0, 5);
})()`

// contrasts finds texts that do not stand out from what is painted behind them, by the colours that the browser has
// come to: 4.5 to 1, and 3 to 1 for large letters (WCAG 2.1, 1.4.3).
const contrasts = `(() => {
	const parts = c => { const m = c.match(/[\d.]+/g).map(Number); return m.length < 4 ? [...m, 1] : m };
	const light = c => [0.2126, 0.7152, 0.0722].reduce((sum, w, i) => {
		const x = c[i] / 255;
		return sum + w * (x <= 0.04045 ? x / 12.92 : ((x + 0.055) / 1.055) ** 2.4);
	}, 0);
	const behind = e => {
		for (; e; e = e.parentElement) {
			const c = parts(getComputedStyle(e).backgroundColor);
			if (c[3] === 1) return c;
		}
		return parts(getComputedStyle(document.documentElement).backgroundColor);
	};
	const wrong = new Set();
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const text = walk.currentNode.textContent.trim(), e = walk.currentNode.parentElement;
		if (!text || !e.getClientRects().length || ["STYLE", "TITLE", "DESC"].includes(e.tagName.toUpperCase())) continue;
		const s = getComputedStyle(e);
		const ink = parts(e instanceof SVGElement ? s.fill : s.color), paper = behind(e);
		const a = light(ink), b = light(paper);
		const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		const size = parseFloat(s.fontSize), large = size >= 24 || size >= 18.66 && +s.fontWeight >= 700;
		if (ratio < (large ? 3 : 4.5)) wrong.add(text.slice(0, 30) + " has a contrast of " + ratio.toFixed(2));
	}
	return [...wrong].slice(0, 5);
})()`

// What is pinned up is held to the same as a page, and so are a page in large print and one with blanks.
func TestBrowserPinned(t *testing.T) {
	b := browsertest.Start(t)
	dir := t.TempDir()
	for _, name := range []string{"gannet_bay", "marrowby"} {
		text, err := os.ReadFile(layouts + "/" + name + ".sums")
		if err != nil {
			t.Fatal(err)
		}
		pages := map[string]string{}
		for what, bench := range map[string]*Bench{"cards": {Cards: []string{All}}, "labels": {Labels: true}, "parts": {Parts: true}, "meter": {Meter: true, Cards: []string{All}}} {
			if pages[what], err = pinnedUp(t, string(text), layouts, bench); err != nil {
				t.Fatal(err)
			}
		}
		o := outlined(t, name, string(text), layouts)
		pages["large"] = made(t, o, Options{Date: "25 November 2026", Set: asked(t), Large: true})
		pages["blank"] = made(t, o, Options{Date: "25 November 2026", Set: asked(t), Blank: true})
		for what, html := range pages {
			file := filepath.Join(dir, name+"_"+what+".html")
			if err := os.WriteFile(file, []byte(html), 0o644); err != nil {
				t.Fatal(err)
			}
			p := b.Open(t, file, 1000, 900)
			seen(t, p, name+", "+what)
			for paper, size := range sheetSizes {
				if sheets := printed(t, p.PDF(t, size[0], size[1])); sheets != nil && strings.TrimSpace(sheets[len(sheets)-1]) == "" {
					t.Errorf("%s, %s: the last sheet of %s is empty", name, what, paper)
				}
			}
			p.Close(t)
		}
	}
}

// In grey, danger and clear are still told apart: by the arm, drawn at another angle, and by their words.
func TestGrey(t *testing.T) {
	b := browsertest.Start(t)
	file := filepath.Join(t.TempDir(), "grey.html")
	html := made(t, outlined(t, "grey", "use drop for short with length = 1 m\nuse drop for long with length = 90 m\n", "."), Options{Date: "25 November 2026"})
	if err := os.WriteFile(file, []byte(strings.Replace(html, "</style>", "html{filter:grayscale(1)}</style>", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	p := b.Open(t, file, 1000, 900)
	arms := map[string]*[]int{}
	p.Eval(t, `Object.fromEntries([...document.querySelectorAll(".v")].map(v => {
		const r = v.querySelector(".arm").getBoundingClientRect();
		return [v.textContent.trim(), [r.x + scrollX, r.y + scrollY, r.width, r.height].map(Math.round)];
	}))`, &arms)
	if arms["danger"] == nil || arms["clear"] == nil {
		t.Fatalf("not both verdicts: %v", arms)
	}
	shot, err := png.Decode(bytes.NewReader(p.Screenshot(t)))
	if err != nil {
		t.Fatal(err)
	}
	dark := func(box []int) (grid [8][8]bool, n int) {
		for y := range 8 {
			for x := range 8 {
				r, g, b, _ := at(shot, box, x, y)
				if r != g || g != b {
					t.Fatal("there is colour in it")
				}
				if grid[y][x] = r < 0x8000; grid[y][x] {
					n++
				}
			}
		}
		return grid, n
	}
	danger, n := dark(*arms["danger"])
	clear, m := dark(*arms["clear"])
	differ := 0
	for y := range danger {
		for x := range danger[y] {
			if danger[y][x] != clear[y][x] {
				differ++
			}
		}
	}
	if n < 6 || m < 6 || differ < 8 {
		t.Errorf("of 64 places the arms of danger and clear have %d and %d dark, and differ in %d", n, m, differ)
	}
}

// at is the colour of one of eight times eight places in a box of a picture.
func at(shot image.Image, box []int, x, y int) (r, g, b, a uint32) {
	return shot.At(box[0]+(2*x+1)*box[2]/16, box[1]+(2*y+1)*box[3]/16).RGBA()
}
