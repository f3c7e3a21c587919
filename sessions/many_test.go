package sessions

import (
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Moving any lines anywhere keeps every row, those moved in their order before the
// line that was named, and is undone at once.
func TestMoveLines(t *testing.T) {
	const text = "railsum 1\na = 1\nb = 2\ntable t | x\n  one | 1\nend\nc = 3\nd = 4"
	for _, end := range []string{"", "\n"} {
		p := newPlace(t)
		p.write(t, "a.sums", text+end)
		s := p.open(t, "a.sums")
		n := len(s.Lines())
		for i := 1; i < n; i++ {
			for j := i; j < n; j++ {
				for _, k := range []int{1, i - 1, i, j + 1, j + 2, n} {
					if k < 1 || k > n {
						continue
					}
					var rest, moved []string
					at := -1
					for x, l := range s.Lines() {
						if at < 0 && x >= k {
							at = len(rest)
						}
						if x >= i && x <= j {
							moved = append(moved, l.Raw)
						} else {
							rest = append(rest, l.Raw)
						}
					}
					if at < 0 {
						at = len(rest)
					}
					want := strings.Join(slices.Insert(rest, at, moved...), "\n")
					if _, err := s.Move(i, j, k); err != nil {
						t.Fatal(err)
					}
					if got := strings.TrimSuffix(string(s.Text()), "\n"); got != want {
						t.Fatalf("%d to %d before %d:\n got %q\nwant %q", i, j, k, got, want)
					}
					if s.Dirty() {
						s.Undo()
					}
					if string(s.Text()) != text+end {
						t.Fatalf("%d to %d before %d: undone it is %q", i, j, k, s.Text())
					}
				}
			}
		}
	}
}

func TestInsert(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "railsum 1\r\na = 1\r\nb = 2")
	s := p.open(t, "a.sums")
	for _, c := range []struct {
		at    int
		texts []string
		want  string
		fails string
	}{
		{1, []string{"x = 1", "table t | y\n  one | 1\nend"}, "railsum 1\r\nx = 1\r\ntable t | y\r\n  one | 1\r\nend\r\na = 1\r\nb = 2", ""},
		{3, []string{"x = 1"}, "railsum 1\r\na = 1\r\nb = 2\nx = 1\r\n", ""},
		{3, []string{"x = 1", "y = 2"}, "railsum 1\r\na = 1\r\nb = 2\nx = 1\r\ny = 2\r\n", ""},
		{1, nil, "railsum 1\r\na = 1\r\nb = 2", ""},
		{0, []string{"x = 1"}, "", "the header stays the first line"},
		{1, []string{"b = 3"}, "", "b is defined on line 3 already"},
		{1, []string{"x = 1", "x = 2"}, "", "x is given a meaning twice"},
		{1, []string{"x = = 2"}, "", "a value is missing"},
		{9, []string{"x = 1"}, "", "there is no such line"},
	} {
		before := string(s.Text())
		_, err := s.Insert(c.at, c.texts...)
		if c.fails != "" {
			if err == nil || !strings.Contains(err.Error(), c.fails) || string(s.Text()) != before {
				t.Errorf("%d %q: %v; %q", c.at, c.texts, err, s.Text())
			}
			continue
		}
		if got := strings.TrimSuffix(string(s.Text()), "\r\n"); err != nil || got != strings.TrimSuffix(c.want, "\r\n") {
			t.Errorf("%d %q:\n got %q, %v\nwant %q", c.at, c.texts, s.Text(), err, c.want)
		}
		if len(c.texts) > 0 {
			s.Undo()
		}
		if string(s.Text()) != before {
			t.Errorf("%d %q: undone it is %q", c.at, c.texts, s.Text())
		}
	}
}

func TestBring(t *testing.T) {
	p := newPlace(t)
	p.write(t, "b.sums", "a = 1 V\nuse drop for north, quay with length = 8 m  # both\nnorth.load = 1 A\nquay.load = 2 A\ntable t | x\n  one | 1\nend\nt.y = 2 * t.x\nuse stub\nstub.length = 30 mm\nsum(t.x)\n")
	from, err := Load(p.path("b.sums"))
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"a": "a = 1 V\n", "north": "use drop for north with length = 8 m  # both\nnorth.load = 1 A\n",
		"t": "table t | x\n  one | 1\nend\nt.y = 2 * t.x\n", "stub": "use stub\nstub.length = 30 mm\n", "drop": "", "north.load": "", "nothing": "", "1": "",
	} {
		s := New(p.Options)
		_, err := s.Bring(from, name)
		if got := strings.TrimPrefix(string(s.Text()), header+"\n"); got != want || (err == nil) != (want != "") {
			t.Errorf("%s: got %q, %v; want %q", name, got, err, want)
		}
		if err == nil {
			if _, err := s.Bring(from, name); err == nil {
				t.Errorf("%s was brought twice", name)
			}
			s.Undo()
		}
		if got := strings.TrimPrefix(string(s.Text()), header+"\n"); got != "" {
			t.Errorf("%s: undone it is %q", name, got)
		}
		s.Abandon()
	}
}

func TestBecome(t *testing.T) {
	p := newPlace(t)
	rapid.Check(t, func(r *rapid.T) {
		was, now := strings.Join(rowsWanted(r, "was"), "\n"), strings.Join(rowsWanted(r, "now"), "\n")
		p.write(t, "a.sums", was)
		s := p.open(t, "a.sums")
		defer s.Abandon()
		was = string(s.Text())
		if _, err := s.Become([]byte(now)); err != nil || string(s.Text()) != now {
			r.Fatalf("got %q, want %q, %v", s.Text(), now, err)
		}
		if now != was {
			s.Undo()
		}
		if string(s.Text()) != was {
			r.Fatalf("undone it is %q, was %q", s.Text(), was)
		}
	})
	s := New(p.Options)
	defer s.Abandon()
	for _, bad := range []string{"x = \xff\n", "x\x00\n", "railsum 9\n"} {
		if _, err := s.Become([]byte(bad)); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

// One that looks needs no lock, keeps no journal and saves nothing.
func TestLook(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	working := p.open(t, "a.sums")
	o := p.Options
	o.Look = true
	s, err := Open(p.path("a.sums"), o)
	if err != nil {
		t.Fatal(err)
	}
	enter(t, s, "b = 2")
	if err := s.Save("", true); err == nil || s.Dirty() {
		t.Errorf("saved: %v, dirty %v", err, s.Dirty())
	}
	if err := s.Save(p.path("b.sums"), false); err == nil {
		t.Error("saved under another name")
	}
	if left, _ := os.ReadDir(o.Journals); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	enter(t, working, "c = 3")
	if err := working.Save("", false); err != nil {
		t.Fatal(err)
	}
	m, err := s.Meanwhile()
	if err != nil || m == nil {
		t.Fatal(m, err)
	}
	for _, p := range m.Conflicts() {
		p.Choice = TakeTheirs
	}
	if _, err := s.MergeIn(m); err != nil || !strings.Contains(string(s.Text()), "c = 3") {
		t.Errorf("%q, %v", s.Text(), err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}
