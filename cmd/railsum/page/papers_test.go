package page

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"railsum/calc/answer"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/marking"
	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/quiz"
	"railsum/library"
)

// questions are a set of each sheet that gives one.
func questions(t testing.TB, seed int) []*outline.Set {
	t.Helper()
	var all []*outline.Set
	for _, e := range library.Catalogue() {
		m, err := quiz.New(t.Context(), library.Shipped(), &answer.Exercise{Sheet: e.Sheet, Count: 2})
		if err != nil {
			t.Fatal(err)
		}
		if set, err := m.Set(seed); err == nil {
			all = append(all, set)
		}
	}
	if len(all) < 60 {
		t.Fatalf("questions of %d sheets", len(all))
	}
	return all
}

func papersOf(t testing.TB, sets []*outline.Set, answers Answers) string {
	t.Helper()
	var b strings.Builder
	p := Papers{Title: "Questions", By: "railsum", Each: []Paper{{Title: "Set 1", Call: "railsum quiz drop --seed 1", Sets: sets}}}
	for _, s := range sets {
		p.Hazards = append(p.Hazards, s.Hazards...)
	}
	if err := p.Write(&b, Options{Answers: answers, Date: "26 November 2026"}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// What an answer page says, typed in as it stands there, is right, and so is what its
// question page asks for in each of the papers.
func TestAnswersReadBack(t *testing.T) {
	sets := questions(t, 1)
	var asked []*outline.Question
	for _, s := range sets {
		asked = append(asked, s.Questions...)
	}
	var said []string
	walk(t, papersOf(t, sets, Apart), func(n *html.Node) {
		if n.Data == "td" && attribute(n, "class") == "n" {
			said = append(said, words(n))
		}
	})
	if len(said) != len(asked) {
		t.Fatalf("%d answers to %d questions", len(said), len(asked))
	}
	reader := marking.Reader{Library: library.Shipped()}
	for i, q := range asked {
		if m := reader.Mark(said[i], marking.Asked{Name: q.Name, Right: q.Right, Slips: q.Slips}); m.Kind != marking.Right {
			t.Errorf("%s, %s: %q is %+v", q.Source, q.Name, said[i], m)
		}
	}
	tasks := 0
	walk(t, papersOf(t, sets, None), func(n *html.Node) {
		if n.Data == "div" && attribute(n, "class") == "task" {
			tasks++
		}
	})
	if tasks != len(asked) {
		t.Errorf("%d of %d questions are on paper", tasks, len(asked))
	}
}

// words is all text within an element.
func words(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// A page of questions is the same byte for byte whatever their answers are, so that
// none stands in it anywhere; where the answers are on the last page of the same file,
// no attribute and no comment has one, and nothing before that page.
func TestPapersKeepAnswers(t *testing.T) {
	const secret = "sesame"
	sets := questions(t, 2)
	var others []*outline.Set
	for _, s := range sets {
		o := &outline.Set{Title: s.Title, Hazards: s.Hazards}
		for _, q := range s.Questions {
			r := *q
			r.Right = &answer.Value{Type: types.Type{Kind: types.Text}, Texts: []string{secret}}
			r.Slips = []*answer.Slip{{Name: q.Name, Why: secret, Wrong: r.Right}}
			r.Working = func() []answer.Step { return nil }
			o.Questions = append(o.Questions, &r)
		}
		others = append(others, o)
	}
	if one := papersOf(t, sets, None); one != papersOf(t, others, None) || strings.Contains(one, "<details") {
		t.Error("a page of questions depends on their answers")
	}
	hidden := func(page string) (all []string) {
		root, err := html.Parse(strings.NewReader(page))
		if err != nil {
			t.Fatal(err)
		}
		for n := range root.Descendants() {
			for _, a := range n.Attr {
				all = append(all, a.Key+"="+a.Val)
			}
			if n.Type == html.CommentNode {
				all = append(all, n.Data)
			}
		}
		return all
	}
	page := papersOf(t, others, Last)
	if found := slices.IndexFunc(hidden(page), func(s string) bool { return strings.Contains(s, secret) }); found >= 0 {
		t.Error("an attribute or a comment has an answer: ", hidden(page)[found])
	}
	before, _, both := strings.Cut(page, `<section class="answers"`)
	if !both || strings.Contains(before, secret) || !strings.Contains(page, secret) {
		t.Error("the answers do not stand on the last page alone")
	}
	// The same of a handout: its exercises, guesses and what it leaves blank.
	opt := Options{Answers: Last, Set: func(*answer.Exercise) (*outline.Set, error) { return others[0], nil }}
	page = made(t, outlined(t, "lesson", lesson, "."), opt)
	before, _, both = strings.Cut(page, `<section class="answers"`)
	if !both || strings.Contains(before, secret) || strings.Count(page, secret) < 2 ||
		slices.ContainsFunc(hidden(page), func(s string) bool { return strings.Contains(s, secret) }) {
		t.Error("a handout tells an answer of its exercise")
	}
}

// The questions of a notebook's exercise lines are on its page, numbered through, with
// their answers; without somebody who makes them there are none, and one that cannot be
// made says so.
func TestExercisesOnPage(t *testing.T) {
	o := outlined(t, "x", "exercise drop asking lost count 2 seed 2\nexercise loop asking resistance count 1 seed 2\n", ".")
	set := func(ex *answer.Exercise) (*outline.Set, error) {
		m, err := quiz.New(t.Context(), library.Shipped(), ex)
		if err != nil {
			return nil, err
		}
		return m.Set(*ex.Seed)
	}
	page := made(t, o, Options{Set: set})
	for _, want := range []string{"<b>1.</b> What is lost", "<b>2.</b> What is lost", "<b>3.</b> What is resistance", `<th scope="row">3. What is resistance`, "Your turn"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %s on\n%s", want, page)
		}
	}
	if strings.Contains(made(t, o, Options{}), "What is lost") {
		t.Error("questions that nobody made")
	}
	no := func(*answer.Exercise) (*outline.Set, error) { return nil, syntax.Diag{} }
	if page := made(t, o, Options{Set: no}); !strings.Contains(page, `class="fault"`) {
		t.Error("nothing says that there is no question")
	}
}

func BenchmarkClassSet(b *testing.B) {
	for b.Loop() {
		m, err := quiz.New(b.Context(), library.Shipped(), &answer.Exercise{Sheet: "drop", Count: 6})
		if err != nil {
			b.Fatal(err)
		}
		p := Papers{Title: "Questions: drop"}
		for seed := range 15 {
			set, err := m.Set(seed)
			if err != nil {
				b.Fatal(err)
			}
			p.Each = append(p.Each, Paper{Title: "Set", Sets: []*outline.Set{set}})
		}
		for _, answers := range []Answers{None, Apart} {
			var page strings.Builder
			if err := p.Write(&page, Options{Answers: answers}); err != nil {
				b.Fatal(err)
			}
		}
	}
}
