package sessions

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// rowsWanted draws a text of a few rows that are often alike.
func rowsWanted(t *rapid.T, name string) []string {
	return append(rapid.SliceOfN(rapid.SampledFrom([]string{"a = 1", "b = 2", "c = 3", "", "# d", "e = 5"}), 0, 12).Draw(t, name), "")
}

// becomes is what parts make of the text they start from, with one choice for all
// that both have changed.
func becomes(was []string, parts []Part, choice Choice) []string {
	var rows []string
	at := 0
	for i := range parts {
		p := &parts[i]
		p.Choice = choice
		rows = append(append(rows, was[at:p.from]...), p.rows()...)
		at = p.to
	}
	return append(rows, was[at:]...)
}

func TestMergedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		was, ours, theirs := rowsWanted(t, "was"), rowsWanted(t, "ours"), rowsWanted(t, "theirs")
		same := func(what string, got, want []string) {
			if !slices.Equal(got, want) {
				t.Errorf("%s: %q, want %q", what, got, want)
			}
		}
		same("nobody else", becomes(was, merged(was, ours, was), Undecided), ours)
		same("only they", becomes(was, merged(was, was, theirs), Undecided), theirs)
		same("both alike", becomes(was, merged(was, ours, ours), Undecided), ours)
		same("the other way round", becomes(was, merged(was, ours, theirs), TakeOurs), becomes(was, merged(was, theirs, ours), TakeTheirs))
		for _, p := range merged(was, ours, theirs) {
			same("where it stands in ours", ours[p.Row-1:p.Row-1+len(p.Ours)], p.Ours)
		}
	})
}

// TestMergedAsOthersDo sets merging beside a general-purpose tool, on rows that are
// all different, so that they line up in one way: the text is the same, and where we
// ask whose is taken it finds a conflict too. It finds more, in rows next to one
// another.
func TestMergedAsOthersDo(t *testing.T) {
	git, err := exec.LookPath("git")
	if err != nil {
		t.Skip("there is no git here")
	}
	dir := t.TempDir()
	write := func(name string, rows []string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(strings.Join(rows, "\n")), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	random := rand.New(rand.NewPCG(1, 2))
	edited := func(rows []string, who string) []string {
		var out []string
		for i, row := range rows[:len(rows)-1] {
			switch random.IntN(8) {
			case 0:
			case 1:
				out = append(out, fmt.Sprintf("%s%d = 1", who, i))
			case 2:
				out = append(out, row, fmt.Sprintf("%s_more%d = 1", who, i))
			default:
				out = append(out, row)
			}
		}
		return append(out, "")
	}
	clean, asked := 0, 0
	for range 80 {
		var was []string
		for i := range random.IntN(14) {
			was = append(was, fmt.Sprintf("x%d = %d", i, i))
		}
		was = append(was, "")
		ours, theirs := edited(was, "ours"), edited(was, "theirs")
		out, err := exec.Command(git, "merge-file", "-p", write("ours", ours), write("was", was), write("theirs", theirs)).Output()
		parts := merged(was, ours, theirs)
		conflict := slices.ContainsFunc(parts, func(p Part) bool { return p.Conflict() })
		if conflict && err == nil {
			t.Errorf("was %q, ours %q, theirs %q: no conflict to the other", was, ours, theirs)
		}
		if conflict {
			asked++
		}
		if err != nil {
			continue
		}
		clean++
		if got := strings.Join(becomes(was, parts, Undecided), "\n"); got != string(out) {
			t.Errorf("was %q, ours %q, theirs %q:\n got %q\nwant %q", was, ours, theirs, got, out)
		}
	}
	if clean < 10 || asked < 10 {
		t.Errorf("%d merged, %d asked", clean, asked)
	}
}

func TestMergeIn(t *testing.T) {
	const start = "railsum 1\ntrack = 15 V\ntable fleet | draw as mA\n  shunter | 280\n  railcar | 450\nend\nsum(fleet.draw)\nlast = 1\n"
	for _, c := range []struct {
		name, theirs string
		edits        func(t *testing.T, s *Session)
		want         string
		conflicts    int
		choice       Choice
	}{
		{"theirs alone", strings.Replace(start, "280", "300", 1), func(*testing.T, *Session) {}, strings.Replace(start, "280", "300", 1), 0, 0},
		{"another row of one table", strings.Replace(start, "280", "300", 1), func(t *testing.T, s *Session) {
			changeTo(t, s, 2, "table fleet | draw as mA\n  shunter | 280\n  railcar | 450\n  express | 700\nend")
		}, strings.Replace(strings.Replace(start, "280", "300", 1), "450\n", "450\n  express | 700\n", 1), 0, 0},
		{"both at the end, ours", start + "theirs = 2\n", func(t *testing.T, s *Session) { enter(t, s, "ours = 3") }, start + "ours = 3\n", 1, TakeOurs},
		{"both at the end, theirs", start + "theirs = 2\n", func(t *testing.T, s *Session) { enter(t, s, "ours = 3") }, start + "theirs = 2\n", 1, TakeTheirs},
		{"both at the end, both", start + "theirs = 2\n", func(t *testing.T, s *Session) { enter(t, s, "ours = 3") }, start + "ours = 3\ntheirs = 2\n", 1, TakeBoth},
		{"both alike", start + "x = 2\n", func(t *testing.T, s *Session) { enter(t, s, "x = 2") }, start + "x = 2\n", 0, 0},
		{"they have broken a line", strings.Replace(start, "track = 15 V", "track = = 15 V", 1), func(t *testing.T, s *Session) { enter(t, s, "x = 2") },
			strings.Replace(start, "track = 15 V", "track = = 15 V", 1) + "x = 2\n", 0, 0},
	} {
		p := newPlace(t)
		p.write(t, "a.sums", start)
		s := p.open(t, "a.sums")
		c.edits(t, s)
		ours := string(s.Text())
		if m, err := s.Meanwhile(); m != nil || err != nil {
			t.Errorf("%s: the file is as it was: %v %v", c.name, m, err)
		}
		p.write(t, "a.sums", c.theirs)
		m, err := s.Meanwhile()
		if err != nil || m == nil {
			t.Fatalf("%s: %v %v", c.name, m, err)
		}
		if n := len(m.Conflicts()); n != c.conflicts {
			t.Errorf("%s: %d conflicts, want %d: %+v", c.name, n, c.conflicts, m.Parts)
		}
		if c.conflicts > 0 {
			if _, err := s.MergeIn(m); err == nil || string(s.Text()) != ours {
				t.Errorf("%s: taken without a choice: %q", c.name, s.Text())
			}
		}
		for _, p := range m.Conflicts() {
			p.Choice = c.choice
		}
		if _, err := s.MergeIn(m); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if string(s.Text()) != c.want {
			t.Errorf("%s:\n got %q\nwant %q", c.name, s.Text(), c.want)
		}
		if s.Dirty() != (c.want != c.theirs) {
			t.Errorf("%s: dirty is %v", c.name, s.Dirty())
		}
		if ours != c.want {
			if _, err := s.Undo(); err != nil || string(s.Text()) != ours {
				t.Errorf("%s: undone it is %q, %v", c.name, s.Text(), err)
			}
			s.Redo()
		}
		// What was merged is safe, and saved without a word.
		s.died()
		again := p.open(t, "a.sums")
		if rs := again.Recoveries(); c.want != c.theirs && (len(rs) != 1 || rs[0].Changed || string(rs[0].Text()) != c.want) {
			t.Errorf("%s: after a death %+v", c.name, rs)
		} else if len(rs) == 1 {
			if _, err := again.Recover(rs[0]); err != nil {
				t.Error(err)
			}
		}
		if err := again.Save("", false); err != nil || contents(t, p.path("a.sums")) != c.want {
			t.Errorf("%s: saved %q, %v", c.name, contents(t, p.path("a.sums")), err)
		}
		again.Close()
	}
}

func changeTo(t *testing.T, s *Session, i int, text string) {
	t.Helper()
	if _, err := s.Change(i, text); err != nil {
		t.Fatal(err)
	}
}

// What a desk that died has left is taken into a file that has changed since: what
// only one has changed is, of what both have somebody chooses.
func TestRecoverInto(t *testing.T) {
	for _, unsaved := range []bool{false, true} {
		for _, c := range []struct {
			theirs, want string
			conflicts    int
		}{
			{"a = 9\nb = 2\nc = 3\n", "a = 9\nb = 2\nc = 3\nd = 4\n", 0},
			{"# new\na = 1\nb = 2\nc = 3\n", "# new\na = 1\nb = 2\nc = 3\nd = 4\n", 0},
			{"a = 1\nb = 2\nc = 3\nd = 5\n", "a = 1\nb = 2\nc = 3\nd = 4\nd = 5\n", 1},
			{"a = 1\nb = 2\nc = 3\nd = 4\n", "a = 1\nb = 2\nc = 3\nd = 4\n", 0},
		} {
			p := newPlace(t)
			p.write(t, "a.sums", "a = 1\nb = 2\nc = 3\n")
			s := p.open(t, "a.sums")
			enter(t, s, "d = 4")
			if unsaved { // the journal is begun anew, with what is not saved in it
				s.journal.stale = true
				enter(t, s, "e = 5")
			}
			s.died()
			p.write(t, "a.sums", c.theirs)
			again := p.open(t, "a.sums")
			rs := again.Recoveries()
			if len(rs) != 1 || !rs[0].Changed {
				if len(rs) == 0 && c.theirs == c.want && !unsaved {
					continue // the file has it all
				}
				t.Fatalf("offered %+v", rs)
			}
			m := again.Against(rs[0])
			if n := len(m.Conflicts()); n != c.conflicts && !unsaved {
				t.Errorf("%q: %d conflicts, want %d", c.theirs, n, c.conflicts)
			}
			for _, p := range m.Conflicts() {
				p.Choice = TakeBoth
			}
			if _, err := again.RecoverInto(rs[0], m); err != nil {
				t.Fatal(err)
			}
			want := c.want
			if unsaved {
				want = strings.Replace(want, "d = 4\n", "d = 4\ne = 5\n", 1)
			}
			if string(again.Text()) != want && !(unsaved && c.theirs == c.want) {
				t.Errorf("unsaved %v, %q: got %q, want %q", unsaved, c.theirs, again.Text(), want)
			}
			if again.Name() != p.path("a.sums") {
				t.Errorf("it is called %q", again.Name())
			}
			if _, err := again.Undo(); string(again.Text()) != c.theirs && err == nil {
				t.Errorf("undone it is %q", again.Text())
			}
			again.Abandon()
		}
	}
}

// What is left of a notebook whose file is not there keeps its name.
func TestRecoveredKeepsItsName(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "new.sums")
	enter(t, s, "x = 1")
	s.died()
	left := Leftovers(p.Options)
	if len(left) != 1 {
		t.Fatalf("left: %+v", left)
	}
	again, err := Recovered(left[0], p.Options)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Abandon()
	if again.Path() != p.path("new.sums") || !again.Dirty() {
		t.Errorf("it is called %q, dirty %v", again.Path(), again.Dirty())
	}
	if err := again.Save("", false); err != nil || contents(t, p.path("new.sums")) != "railsum 1\nx = 1\n" {
		t.Errorf("%v, saved %q", err, contents(t, p.path("new.sums")))
	}
}

func BenchmarkMerged(b *testing.B) {
	var was, ours []string
	for i := range 20_000 {
		was = append(was, fmt.Sprintf("x%d = %d", i, i))
		ours = append(ours, fmt.Sprintf("x%d = %d", i, i+i%97/96))
	}
	for b.Loop() {
		merged(was, ours, was)
	}
}
