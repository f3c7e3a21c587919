package page

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/library"
)

const layouts = "../../../testdata/layouts"

// lesson is a notebook with every kind of line that a page shows.
const lesson = `railsum 1
# A coin across the rails
# Afterwards: why bright lamps prove nothing.
track = 15 V  # voltage at the booster
assume wheel = 0.5 ohm  # resistance of a derailed bogie
use drop for branch with supply = track, length = 34 m, wire = 1 mm2, load = 0.35 A, contact = wheel  # the branch
# --- A wheel falls across the rails ---
picture branch
guess branch.fault  # How many amperes flow?
# > An aside that nobody reads.
working branch.fault to 2 levels
picture branch.strip
branch.share
# --- What cures it ---
vary branch.length from 5 m to 40 m by 5 m show branch.fault
guess branch.fault with branch.wire = 1.5 mm2  # The next size of wire: how many amperes now?
suppose branch.wire = 1.5 mm2 show branch.fault, branch.lost
find branch.wire among conductors.area so branch.fault >= branch.trip * branch.margin
spread branch.lost
measured branch.lost = 0.5 V
picture limits
must branch.lost < 1 V  # little is lost
# --- Finish this one ---
use drop for yard with supply = track, length = 12 m, wire = 0.75 mm2, load = 1 A, trip = 3 A
working yard.fault to 1 level leaving 1
exercise drop asking lost count 2 seed 2
use stub for tail
picture tail
`

func outlined(t testing.TB, name, text, dir string) *outline.Outline {
	t.Helper()
	book := calc.Open(syntax.ParseFile([]byte(text)).Lines, library.At(dir))
	answers := book.Answers()
	for i := range answers {
		var err error
		if answers[i], err = book.AnswerStudied(t.Context(), i); err != nil {
			t.Fatal(err)
		}
	}
	return outline.Of(name, answers, book.OK())
}

func made(t testing.TB, o *outline.Outline, opt Options) string {
	t.Helper()
	var b bytes.Buffer
	if opt.Answers == "" {
		opt.Answers = Last
	}
	if err := Write(&b, o, opt); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// notebooks are the lesson and all layouts.
func notebooks(t testing.TB) map[string]*outline.Outline {
	t.Helper()
	all := map[string]*outline.Outline{"lesson": outlined(t, "lesson", lesson, ".")}
	paths, err := filepath.Glob(layouts + "/*.sums")
	if err != nil || len(paths) < 5 {
		t.Fatal("no layouts", err)
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(path), ".sums")
		all[name] = outlined(t, name, string(text), layouts)
	}
	for _, l := range library.Lessons() {
		text, err := library.LessonText(l.Name)
		if err != nil {
			t.Fatal(err)
		}
		all["lesson:"+l.Name] = outlined(t, l.Name, string(text), ".")
	}
	return all
}

// walk calls f with every element of a page.
func walk(t testing.TB, page string, f func(*html.Node)) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		f(n)
	}
}

func attribute(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// Each page is one file that asks for nothing and can do nothing, with headings in order, each name once, and small.
func TestPages(t *testing.T) {
	for name, o := range notebooks(t) {
		page := made(t, o, Options{Date: "25 November 2026"})
		most, nodes := 110<<10, 0 // the lesson has every kind of line there is
		if strings.HasPrefix(name, "lesson:") {
			most = 90000
		}
		if name == "marrowby" {
			most = 400 << 10
		}
		if len(page) > most && name != "brindle_end" && name != "damson_bank" {
			t.Errorf("%s: %d bytes, at most %d", name, len(page), most)
		}
		ids, level := map[string]bool{}, 0
		walk(t, page, func(n *html.Node) {
			nodes++
			if n.Type != html.ElementNode {
				return
			}
			switch n.Data {
			case "script", "link", "iframe", "img", "object", "embed", "base", "form":
				t.Errorf("%s: an element %s", name, n.Data)
			case "h1", "h2", "h3":
				now := int(n.Data[1] - '0')
				if now > level+1 {
					t.Errorf("%s: from h%d to h%d", name, level, now)
				}
				level = now
			case "a":
				if !strings.HasPrefix(attribute(n, "href"), "#") {
					t.Errorf("%s: a link to %s", name, attribute(n, "href"))
				}
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" {
					t.Errorf("%s: an attribute %s", name, a.Key)
				}
			}
			if id := attribute(n, "id"); id != "" {
				if ids[id] {
					t.Errorf("%s: two of %s", name, id)
				}
				ids[id] = true
			}
		})
		if !strings.Contains(page, `content="default-src 'none'; style-src 'unsafe-inline'; font-src data:"`) {
			t.Errorf("%s: no Content-Security-Policy", name)
		}
		if name == "lesson" && nodes > 3000 || nodes > 12000 {
			t.Errorf("%s: %d nodes", name, nodes)
		}
	}
}

// What a page asks for is told by nothing above it, and stands among the answers; nothing of the speaker's is on it.
func TestSecrets(t *testing.T) {
	o := outlined(t, "lesson", lesson, ".")
	page := plainText(t, made(t, o, Options{}))
	above, answers, found := strings.Cut(page, "How many amperes flow?")
	if !found || strings.Contains(above, "6.675") || !strings.Contains(answers, "6.675 A") {
		t.Errorf("the answer stands above its question, or nowhere:\n%s", above)
	}
	if strings.Contains(page, "nobody reads") {
		t.Error("the speaker's own note is on the page")
	}
	if !strings.Contains(page, "What cures it") || !strings.Contains(page, "Before anybody touches a wire") {
		t.Error("a part of the page is missing")
	}
	blank := plainText(t, made(t, o, Options{Blank: true, Answers: None}))
	if strings.Contains(blank, "our values") || strings.Contains(blank, "show the answers") {
		t.Error("a page to be filled in tells something")
	}
	only := plainText(t, made(t, o, Options{Only: "yard"}))
	if strings.Contains(only, "the branch") || !strings.Contains(only, "yard") {
		t.Error("a page of one sheet has another")
	}
	if err := Write(new(bytes.Buffer), o, Options{Only: "quay"}); err == nil {
		t.Error("a page of nothing")
	}
	apart := plainText(t, made(t, o, Options{Answers: Apart}))
	if !strings.Contains(apart, "8.799 A") || strings.Contains(apart, "Before anybody") {
		t.Error("answers apart are the answers and no more")
	}
	if large := made(t, o, Options{Large: true, Plain: true, Whole: true}); !strings.Contains(large, `id="large" checked`) ||
		strings.Contains(large, "@font-face") {
		t.Error("large print, or the reader's own type")
	}
}

// plainText is what a reader of a page reads.
func plainText(t testing.TB, page string) string {
	var b strings.Builder
	walk(t, page, func(n *html.Node) {
		if n.Type == html.TextNode && n.Parent.Data != "style" {
			b.WriteString(strings.ReplaceAll(n.Data, "\u00a0", " ") + " ")
		}
	})
	return b.String()
}

// Text stands out from paper at 4.5 to 1, lines at 3 to 1, in each set of colours (WCAG 2.1, 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	sets := regexp.MustCompile(`:root\{color-scheme:[^}]*\}|@media \(prefers-color-scheme:dark\)\{:root\{[^}]*\}`).FindAllString(style, -1)
	if len(sets) != 3 {
		t.Fatalf("%d sets of colours", len(sets))
	}
	for _, set := range sets {
		colour := map[string]float64{}
		for _, m := range regexp.MustCompile(`--(\w+):#([0-9a-f]{3,6})`).FindAllStringSubmatch(set, -1) {
			colour[m[1]] = luminance(t, m[2])
		}
		for _, c := range []struct {
			ink, paper string
			least      float64
		}{{"ink", "paper", 4.5}, {"soft", "paper", 4.5}, {"copper", "paper", 4.5}, {"copper2", "paper", 4.5}, {"clear", "paper", 4.5},
			{"caution", "paper", 4.5}, {"danger", "paper", 4.5}, {"ink", "wash", 4.5}, {"soft", "wash", 4.5}, {"danger", "wash", 4.5},
			{"clear", "wash", 4.5}, {"caution", "wash", 4.5}, {"ink", "dwash", 4.5}, {"danger", "dwash", 4.5}, {"ink", "okwash", 4.5},
			{"line", "paper", 3}, {"danger", "paper", 3}} {
			a, b := colour[c.ink], colour[c.paper]
			if ratio := (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05); ratio < c.least {
				t.Errorf("%s on %s: %.2f, at least %.1f, in %.40s", c.ink, c.paper, ratio, c.least, set)
			}
		}
	}
}

// luminance is that of a colour (WCAG 2.1, relative luminance).
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

// Whatever a stranger's notebook holds, it stays text: no element, no attribute, nothing that acts.
func FuzzPage(f *testing.F) {
	for _, s := range []string{`<script>alert(1)</script>`, `"><img src=x onerror=a()>`, `</style><b>`, "a\u202eb\u2066c", `javascript:x`,
		`{{.}} ${x}`, `&lt;b&gt;`, "\x1b[31m", `</title><svg onload=a>`, "]]>-->", "*/}body{display:none"} {
		f.Add(s)
	}
	frame := func(t *testing.T, s string) string {
		s = strings.Map(func(r rune) rune {
			if r == '\n' || r == '\r' || r == '|' {
				return ' '
			}
			return r
		}, s)
		quoted := strings.ReplaceAll(s, `"`, `""`)
		text := fmt.Sprintf(`railsum 1
# T %[1]s
# N %[1]s
# --- H %[1]s ---
x = 3 m  # M %[1]s
t = "%[2]s"
t
guess x  # Q %[1]s
picture strip | from | to  # C %[1]s
  "%[2]s" | 0 m | x
end
must x < 2 m  # F %[1]s
use drop for quay  # U %[1]s
exercise drop asking lost
working quay.lost leaving 1
vary x from 1 m to 3 m by 1 m show 2 * x
suppose x = 2 m show x
nothing %[1]s
`, s, quoted)
		return made(t, outlined(t, s, text, "."), Options{Date: s, Plain: true})
	}
	count := func(t *testing.T, page string) []string {
		var all []string
		walk(t, page, func(n *html.Node) {
			if n.Type == html.ElementNode && !slices.Contains(all, n.Data) {
				all = append(all, n.Data)
			}
			for _, a := range n.Attr {
				if strings.HasPrefix(strings.ToLower(a.Key), "on") || a.Key == "src" || a.Key == "href" && !strings.HasPrefix(a.Val, "#") {
					t.Errorf("an attribute %s=%q", a.Key, a.Val)
				}
			}
			if n.Type == html.TextNode && n.Parent.Data != "style" && strings.ContainsAny(n.Data, "\u202e\u2066\x1b\x00") {
				t.Errorf("text that acts: %q", n.Data)
			}
		})
		return all
	}
	allowed := strings.Fields(`html head meta title style body header p label input h1 span svg defs pattern rect path main section h2
		ul li strong div figure figcaption desc line circle g text table caption thead tbody tr th td details summary b i ol h3 dl dt
		dd bdi nav a wbr`)
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 200 {
			return
		}
		for _, name := range count(t, frame(t, s)) {
			if !slices.Contains(allowed, name) {
				t.Errorf("an element %s from %q", name, s)
			}
		}
	})
}

// A page is made in a moment: beside reading the notebook it costs little.
func BenchmarkPage(b *testing.B) {
	text, err := os.ReadFile(layouts + "/marrowby.sums")
	if err != nil {
		b.Fatal(err)
	}
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			outlined(b, "marrowby", string(text), layouts)
		}
	})
	o := outlined(b, "marrowby", string(text), layouts)
	b.Run("page", func(b *testing.B) {
		for b.Loop() {
			made(b, o, Options{})
		}
	})
}
