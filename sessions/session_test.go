package sessions

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/syntax"
)

func TestNewIsSavedWithAHeader(t *testing.T) {
	p := newPlace(t)
	s := New(p.Options)
	if s.NextRow() != 2 || s.Dirty() {
		t.Fatalf("a new notebook: next row %d, dirty %v", s.NextRow(), s.Dirty())
	}
	enter(t, s, "track = 15 V")
	if err := s.Save("", false); !errors.Is(err, ErrWrite) {
		t.Fatalf("saved without a name: %v", err)
	}
	if err := s.Save(p.path("a.sums"), false); err != nil {
		t.Fatal(err)
	}
	if got := contents(t, p.path("a.sums")); got != "railsum 1\ntrack = 15 V\n" {
		t.Errorf("saved %q", got)
	}
	if s.Dirty() || s.Path() != p.path("a.sums") {
		t.Errorf("after saving: dirty %v, path %q", s.Dirty(), s.Path())
	}
	if got := namesIn(t, p.Journals); len(got) != 0 {
		t.Errorf("left after saving: %q", got)
	}
	s.Close()
	if got := namesIn(t, p.dir); !cmp.Equal(got, []string{"a.sums"}) {
		t.Errorf("left after closing: %q", got)
	}
}

func TestHeaderIsOnlyForNewFiles(t *testing.T) {
	p := newPlace(t)
	p.write(t, "old.sums", "a = 1\n")
	s := p.open(t, "old.sums")
	enter(t, s, "b = 2")
	if err := s.Save("", false); err != nil {
		t.Fatal(err)
	}
	if got := contents(t, p.path("old.sums")); got != "a = 1\nb = 2\n" {
		t.Errorf("saved %q", got)
	}
	n := p.open(t, "new.sums")
	if _, err := n.Strike(false, 0); err != nil {
		t.Fatal(err)
	}
	enter(t, n, "b = 2")
	if err := n.Save("", false); err != nil {
		t.Fatal(err)
	}
	if got := contents(t, p.path("new.sums")); got != "railsum 1\nb = 2\n" {
		t.Errorf("saved %q", got)
	}
}

// What nobody touches is written back byte for byte (DESIGN 8, LANGUAGE B0.8).
func TestUntouchedLinesAreKept(t *testing.T) {
	for name, c := range map[string]struct{ before, after string }{
		"blanks and odd spelling": {"  a=1   #x\n\n\n b  =  2\n", "  a=1   #x\n\n\n b  =  2\nnew = 3\n"},
		"carriage returns":        {"a = 1\r\nb = 2\r\n", "a = 1\r\nb = 2\r\nnew = 3\r\n"},
		"byte order mark":         {"\ufeffa = 1\n", "\ufeffa = 1\nnew = 3\n"},
		"no newline at the end":   {"a = 1\nb = 2", "a = 1\nb = 2\nnew = 3\n"},
		"broken lines":            {"a = = 1\n2 V + \nlist\n", "a = = 1\n2 V + \nlist\nnew = 3\n"},
		"mixed endings":           {"a = 1\r\nb = 2\nc = 3\r\n", "a = 1\r\nb = 2\nc = 3\r\nnew = 3\r\n"},
		"a table":                 {"table f | n\n  x|1\n\n  # y\n  z |  2\nend\n", "table f | n\n  x|1\n\n  # y\n  z |  2\nend\nnew = 3\n"},
		"a table without end":     {"table f | n\n  x | 1\n", "table f | n\n  x | 1\nnew = 3\n"},
		"trailing blank rows":     {"a = 1\n\n\n", "a = 1\n\n\nnew = 3\n"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlace(t)
			path := p.write(t, "a.sums", c.before)
			s := p.open(t, "a.sums")
			if string(s.Text()) != c.before {
				t.Fatalf("opened as %q", s.Text())
			}
			enter(t, s, "new = 3")
			if err := s.Save("", false); err != nil {
				t.Fatal(err)
			}
			if got := contents(t, path); got != c.after {
				t.Errorf("saved\n%q, want\n%q", got, c.after)
			}
			if _, err := s.Undo(); err != nil {
				t.Fatal(err)
			}
			if err := s.Save("", false); err != nil {
				t.Fatal(err)
			}
			if got := contents(t, path); got != c.before {
				t.Errorf("undone and saved\n%q, want\n%q", got, c.before)
			}
		})
	}
}

// A row of the tests of edits: lines, what is done, the lines then or the
// refusal.
type editCase struct {
	name   string
	before string
	do     func(*Session) (Edit, error)
	after  string // or
	refuse string // part of the message
}

func runEdits(t *testing.T, cases []editCase) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := newPlace(t)
			p.write(t, "a.sums", c.before)
			s := p.open(t, "a.sums")
			_, err := c.do(s)
			if c.refuse != "" {
				if err == nil || !strings.Contains(err.Error(), c.refuse) {
					t.Fatalf("got %v, want a refusal with %q; text %q", err, c.refuse, s.Text())
				}
				if string(s.Text()) != c.before || s.Dirty() {
					t.Errorf("refused, and the text is %q", s.Text())
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if string(s.Text()) != c.after {
				t.Errorf("got\n%s\nwant\n%s", s.Text(), c.after)
			}
			consistent(t, s)
			for _, want := range []string{c.before, c.after} {
				again := s.Undo
				if want == c.after {
					again = s.Redo
				}
				if _, err := again(); err != nil {
					t.Fatal(err)
				}
				if string(s.Text()) != want {
					t.Errorf("undone or done again:\n%s\nwant\n%s", s.Text(), want)
				}
				consistent(t, s)
			}
		})
	}
}

// consistent checks that lines and answers are those that the saved text would
// have.
func consistent(t *testing.T, s *Session) {
	t.Helper()
	fresh := syntax.ParseFile(s.Text())
	if len(fresh.Lines) != len(s.Lines()) {
		t.Fatalf("%d lines, read again %d", len(s.Lines()), len(fresh.Lines))
	}
	book := calc.Open(fresh.Lines, s.options.filled().Library(""))
	for i, l := range s.Lines() {
		if f := fresh.Lines[i]; f.Row != l.Row || f.Raw != l.Raw || syntax.Print(f) != syntax.Print(l) || broken(f) != broken(l) {
			t.Errorf("line %d is row %d %q, read again row %d %q", i, l.Row, l.Raw, f.Row, f.Raw)
		}
		got, want := s.Book().Answer(i), book.Answer(i)
		if !cmp.Equal(got.Errors, want.Errors) || !cmp.Equal(got.Waiting, want.Waiting) {
			t.Errorf("line %d says %v %v, opened afresh %v %v", i, got.Errors, got.Waiting, want.Errors, want.Waiting)
		}
		if (got.Value == nil) != (want.Value == nil) || got.Value != nil && !cmp.Equal(got.Value.Numbers, want.Value.Numbers) {
			t.Errorf("line %d is %v, opened afresh %v", i, got.Value, want.Value)
		}
	}
}

func entering(lines ...string) func(*Session) (Edit, error) {
	return func(s *Session) (done Edit, err error) {
		for _, l := range lines {
			done, err = s.Enter(l)
		}
		return
	}
}

func TestEnter(t *testing.T) {
	runEdits(t, []editCase{
		{name: "at the end", before: "a = 1\n", do: entering("b = a"), after: "a = 1\nb = a\n"},
		{name: "into nothing but a header", before: "railsum 1\n", do: entering("b = 1"), after: "railsum 1\nb = 1\n"},
		{name: "a table", before: "a = 1\n", do: entering("table f | n\n  x | 1\nend"), after: "a = 1\ntable f | n\n  x | 1\nend\n"},
		{name: "a blank row", before: "a = 1\n", do: entering(""), after: "a = 1\n\n"},
		{name: "a note", before: "a = 1\n", do: entering("# said"), after: "a = 1\n# said\n"},
		{name: "waiting for a name", before: "a = 1\n", do: entering("b = unheard"), after: "a = 1\nb = unheard\n"},
		{name: "as typed", before: "a = 1\n", do: entering("  b=2V#x"), after: "a = 1\n  b=2V#x\n"},
		{name: "what a table without end would swallow", before: "table f | n\n  x | 1\n", do: entering("1 + 2  # a | b"), refuse: "end"},
		// LANGUAGE B0.9: a second definition takes the place of the first.
		{name: "second value keeps the note", before: "a = 1  # why\nb = a\n", do: entering("a = 2"), after: "a = 2  # why\nb = a\n"},
		{name: "second value with a note", before: "a = 1  # why\nb = a\n", do: entering("a = 2  # so"), after: "a = 2  # so\nb = a\n"},
		{name: "second setting", before: "use drop for n\nn.length = 9 m  # run\nx = 1\n", do: entering("n.length = 12 m"), after: "use drop for n\nn.length = 12 m  # run\nx = 1\n"},
		{name: "second use", before: "use drop for n\nx = 1\n", do: entering("use loop for n"), after: "use loop for n\nx = 1\n"},
		{name: "second table of other height", before: "table f | n  # all\n  x | 1\nend\na = sum(f.n)\n", do: entering("table f | n\n  x | 1\n  y | 2\nend"),
			after: "table f | n  # all\n  x | 1\n  y | 2\nend\na = sum(f.n)\n"},
		{name: "computed column", before: "table f | n\n  x | 1\nend\nf.m = 2\n", do: entering("f.m = 3"), after: "table f | n\n  x | 1\nend\nf.m = 3\n"},
		{name: "setting given with the use", before: "use drop for n with length = 9 m, load = 1 A  # n\n", do: entering("n.length = 12 m"), after: "use drop for n with length = 12 m, load = 1 A  # n\n"},
		{name: "setting given under another word", before: "use drop for n with length = 9 m, supply = 14 V\n", do: entering("n.track = 12 V"), after: "use drop for n with length = 9 m, supply = 12 V\n"},
		{name: "setting with a tolerance", before: "use drop for n with length = 9 m, load = 1 A\n", do: entering("n.length = 12 m +- 1 m"),
			after: "use drop for n with load = 1 A\nn.length = 12 m +- 1 m\n"},
		{name: "setting of two at once", before: "use drop for n, m with length = 9 m\n", do: entering("n.length = 12 m"), refuse: "line 1 sets this for n and m"},
		{name: "guess settled", before: "assume a = 1\n", do: entering("a = 2"), after: "a = 2\n"},
		{name: "value for a table", before: "table f | n\n  x | 1\nend\n", do: entering("f = 3"), refuse: "f is a table on line 1"},
		{name: "use of fewer", before: "use drop for n, m\n", do: entering("use drop for n"), refuse: "line 1 also sets m"},
		{name: "use of two lines", before: "use drop for n\nuse drop for m\n", do: entering("use drop for n, m"), refuse: "different lines"},
		{name: "carriage returns", before: "a = 1  # why\r\nb = 1\r\n", do: entering("a = 2"), after: "a = 2  # why\r\nb = 1\r\n"},
		{name: "in place without a newline", before: "b = 1\na = 1", do: entering("a = 2"), after: "b = 1\na = 2"},
		// What is wrong in form is not accepted.
		{name: "wrong form", before: "a = 1\n", do: entering("b = = 2"), refuse: "="},
		// What is said of a line may depend on one further down.
		{name: "below a table without end", before: "table 00\n\n# so\n", do: entering("b = 2"), after: "table 00\n\n# so\nb = 2\n"},
		{name: "a remark where a table without end stops", before: "table 00\n\na = 1\nb = 2\n",
			do: func(s *Session) (Edit, error) { return s.Change(2, "# a") }, after: "table 00\n\n# a\nb = 2\n"},
		{name: "a blank row above a header", before: "a = 1\nrailsum 1\n",
			do: func(s *Session) (Edit, error) { return s.Change(0, "") }, after: "\nrailsum 1\n"},
		{name: "two lines at once", before: "a = 1\n", do: entering("b = 2\nc = 3"), refuse: "one line"},
		{name: "an order", before: "a = 1\n", do: entering("list"), refuse: "list"},
		{name: "no text", before: "a = 1\n", do: entering("b = \"\xff\""), refuse: "no text"},
		{name: "a zero byte", before: "a = 1\n", do: entering("b = 1\x00"), refuse: "no text"},
		{name: "later header", before: "railsum 1\n", do: entering("railsum 2"), refuse: "edition 2"},
		{name: "too long", before: "a = 1\n", do: entering("b = " + strings.Repeat("1 + ", 2000) + "1"), refuse: "4096"},
	})
}

func TestEnterReports(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	enter(t, s, "track = 15 V", "lost = 5 % of track", "must lost < 1 V")
	done, err := s.Enter("track = 30 V")
	if err != nil {
		t.Fatal(err)
	}
	if !done.Replaced || !cmp.Equal(done.Lines, []int{1}) {
		t.Errorf("replaced %v, lines %v", done.Replaced, done.Lines)
	}
	var names []string
	for _, d := range done.Deltas {
		names = append(names, d.Name)
	}
	if !cmp.Equal(names, []string{"track", "lost"}) {
		t.Errorf("changed %v", names)
	}
	if len(done.Turns) != 1 || done.Turns[0].Was != answer.Clear || done.Turns[0].Now != answer.Danger {
		t.Errorf("turned %+v", done.Turns)
	}
	if _, err := s.Enter("table f | n\n  x | 1"); !errors.Is(err, ErrIncomplete) {
		t.Errorf("a table without end: %v", err)
	}
	var r *Refusal
	if _, err := s.Enter("b = = 2"); !errors.As(err, &r) || r.Line == nil || r.Line.Raw != "b = = 2" || r.Diags[0].At.Col == 0 {
		t.Errorf("wrong form: %v", err)
	}
	var d syntax.Diag
	if _, err := s.Enter("b = = 2"); !errors.As(err, &d) {
		t.Errorf("no Diag in %v", err)
	}
	before := string(s.Text())
	if done, err := s.Enter("railsum 1"); err != nil || done.Lines != nil || string(s.Text()) != before {
		t.Errorf("the notebook's own header: %v %v %q", done, err, s.Text())
	}
}

// What an edit neither touches nor shifts stays the same line, so that the book
// can tell.
func TestLinesKeepTheirIdentity(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\nb = 2\nc = 3\nd = 4\n")
	s := p.open(t, "a.sums")
	was := s.Lines()
	enter(t, s, "b = 5")
	for i, l := range s.Lines() {
		if (l == was[i]) != (i != 1) {
			t.Errorf("after a replacement line %d: same %v", i, l == was[i])
		}
	}
	was = s.Lines()
	if _, err := s.Strike(false, 1); err != nil {
		t.Fatal(err)
	}
	if s.Lines()[0] != was[0] || s.Lines()[1].Row != 2 || s.Lines()[1].Raw != "c = 3" {
		t.Errorf("after striking: %v", s.Lines())
	}
}

func TestRows(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\ntable f | n\n  x | 1\nend\nb = 2\n")
	s := p.open(t, "a.sums")
	for _, c := range [][3]int{{1, 0, 0}, {2, 1, 0}, {3, 1, 1}, {4, 1, 2}, {5, 2, 0}, {6, -1, 0}, {0, -1, 0}} {
		if i, within := s.At(c[0]); i != c[1] || within != c[2] {
			t.Errorf("row %d is line %d row %d, want %d %d", c[0], i, within, c[1], c[2])
		}
	}
	if s.RowOf(2) != 5 || s.NextRow() != 6 {
		t.Errorf("line 2 is row %d, the next %d", s.RowOf(2), s.NextRow())
	}
}

func TestChange(t *testing.T) {
	change := func(i int, text string) func(*Session) (Edit, error) {
		return func(s *Session) (Edit, error) { return s.Change(i, text) }
	}
	runEdits(t, []editCase{
		{name: "a value", before: "a = 1  # x\nb = a\n", do: change(0, "a = 2"), after: "a = 2\nb = a\n"},
		{name: "another name", before: "a = 1\nb = a\n", do: change(0, "c = 2"), after: "c = 2\nb = a\n"},
		{name: "to a table", before: "a = 1\nb = 2\n", do: change(0, "table f | n\n x | 1\nend"), after: "table f | n\n x | 1\nend\nb = 2\n"},
		{name: "from broken", before: "a = = 1\nb = 2\n", do: change(0, "a = 1"), after: "a = 1\nb = 2\n"},
		{name: "end of a table found", before: "table f | n\n x | 1\nb = 2\n", do: change(0, "table f | n\n x | 1\nend"), after: "table f | n\n x | 1\nend\nb = 2\n"},
		{name: "carriage returns", before: "a = 1\r\nb = 2", do: change(1, "b = 3"), after: "a = 1\r\nb = 3"},
		{name: "clash", before: "a = 1\nb = 2\n", do: change(1, "a = 3"), refuse: "a is defined on line 1 already"},
		{name: "wrong form", before: "a = 1\n", do: change(0, "a ="), refuse: "a"},
		{name: "no such line", before: "a = 1\n", do: change(1, "a = 2"), refuse: "no such line"},
		{name: "no such line", before: "a = 1\n", do: change(-1, "a = 2"), refuse: "no such line"},
	})
}

func TestStrike(t *testing.T) {
	strike := func(force bool, lines ...int) func(*Session) (Edit, error) {
		return func(s *Session) (Edit, error) { return s.Strike(force, lines...) }
	}
	runEdits(t, []editCase{
		{name: "one", before: "a = 1\nb = 2\n", do: strike(false, 0), after: "b = 2\n"},
		{name: "several, in any order", before: "a = 1\nb = 2\nc = 3\nd = 4\n", do: strike(false, 3, 0, 3), after: "b = 2\nc = 3\n"},
		{name: "all", before: "a = 1\nb = 2\n", do: strike(false, 0, 1), after: ""},
		{name: "all without a newline", before: "a = 1\nb = 2", do: strike(false, 0, 1), after: ""},
		{name: "the last without a newline", before: "a = 1\nb = 2", do: strike(false, 1), after: "a = 1\n"},
		{name: "a table", before: "table f | n\n x | 1\nend\nb = 2\n", do: strike(false, 0), after: "b = 2\n"},
		{name: "what others need", before: "a = 1\nb = a\n", do: strike(false, 0), after: "b = a\n"},
		{name: "the question of a that", before: "1 + 1\nb = that\n", do: strike(false, 0), refuse: "line 1 is the question that `that` on line 2 means"},
		{name: "the question of a that, forced", before: "1 + 1\nb = that\n", do: strike(true, 0), after: "b = that\n"},
		{name: "with its that", before: "1 + 1\nb = that\n", do: strike(false, 0, 1), after: ""},
		{name: "a question that no that means", before: "1 + 1\n2 + 2\nb = that\n", do: strike(false, 0), after: "2 + 2\nb = that\n"},
		{name: "none", before: "a = 1\n", do: strike(false), refuse: "no line"},
		{name: "no such", before: "a = 1\n", do: strike(false, 7), refuse: "no such line"},
	})
}

func TestMove(t *testing.T) {
	move := func(i, j int) func(*Session) (Edit, error) {
		return func(s *Session) (Edit, error) { return s.Move(i, i, j) }
	}
	runEdits(t, []editCase{
		{name: "up", before: "a = 1\nb = 2\nc = 3\n", do: move(2, 0), after: "c = 3\na = 1\nb = 2\n"},
		{name: "down", before: "a = 1\nb = 2\nc = 3\n", do: move(0, 2), after: "b = 2\na = 1\nc = 3\n"},
		{name: "to the end", before: "a = 1\nb = 2\nc = 3\n", do: move(0, 3), after: "b = 2\nc = 3\na = 1\n"},
		{name: "to the end without a newline", before: "a = 1\nb = 2", do: move(0, 2), after: "b = 2\na = 1\n"},
		{name: "the last, without a newline", before: "a = 1\nb = 2", do: move(1, 0), after: "b = 2\na = 1\n"},
		{name: "a table", before: "a = 1\ntable f | n\n x | 1\nend\n", do: move(1, 0), after: "table f | n\n x | 1\nend\na = 1\n"},
		{name: "the header", before: "railsum 1\na = 1\n", do: move(0, 2), refuse: "header"},
		{name: "before the header", before: "railsum 1\na = 1\n", do: move(1, 0), refuse: "header"},
		{name: "no such", before: "a = 1\n", do: move(0, 5), refuse: "no such line"},
	})
}

func TestNotebookHasABound(t *testing.T) {
	p := newPlace(t)
	row := "# " + strings.Repeat("x", 1000) + "\n"
	p.write(t, "a.sums", strings.Repeat(row, MaxBytes/len(row)))
	s := p.open(t, "a.sums")
	if _, err := s.Enter(strings.TrimSuffix(row, "\n")); err == nil || !strings.Contains(err.Error(), "larger") {
		t.Errorf("got %v", err)
	}
	if s.Dirty() {
		t.Error("refused, and the notebook is dirty")
	}
}
