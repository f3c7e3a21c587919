package sessions

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"railsum/calc"
	"railsum/library"
)

// journalOf gives the bytes of the only journal.
func journalOf(t testing.TB, p place) (path string, b []byte) {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(p.Journals, "*"+journalEnding))
	if err != nil || len(found) != 1 {
		t.Fatalf("journals: %q %v", found, err)
	}
	b, err = os.ReadFile(found[0])
	if err != nil {
		t.Fatal(err)
	}
	return found[0], b
}

func TestRecovery(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "\ufeffa = 1\r\nb = 2\r\n")
	s := p.open(t, "a.sums")
	enter(t, s, "c = 3", "a = 5", "table f | n\n  x | 1\nend")
	if _, err := s.Strike(false, 1); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Rename("c", "d"); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Undo(); err != nil {
		t.Fatal(err)
	}
	want := string(s.Text())
	s.died()

	again := p.open(t, "a.sums")
	if string(again.Text()) != "\ufeffa = 1\r\nb = 2\r\n" || again.Dirty() {
		t.Fatalf("opened as %q", again.Text())
	}
	rs := again.Recoveries()
	if len(rs) != 1 {
		t.Fatalf("offered %v", rs)
	}
	r := rs[0]
	if string(r.Text()) != want || r.Edits != 6 || r.Lines != 3 || r.Changed || r.Torn || r.Path != again.Path() || r.When.IsZero() {
		t.Errorf("offered %+v with %q, want %q", r, r.Text(), want)
	}
	done, err := again.Recover(r)
	if err != nil || string(again.Text()) != want || !again.Dirty() || len(done.Lines) == 0 {
		t.Fatalf("%v: got %q", err, again.Text())
	}
	// It is as safe as it was before, and can be undone.
	again.died()
	third := p.open(t, "a.sums")
	if len(third.Recoveries()) != 1 || string(third.Recoveries()[0].Text()) != want {
		t.Fatalf("after a second death: %v", third.Recoveries())
	}
	if _, err := third.Recover(third.Recoveries()[0]); err != nil {
		t.Fatal(err)
	}
	if _, err := third.Undo(); err != nil || third.Dirty() {
		t.Errorf("undone: %v, dirty %v", err, third.Dirty())
	}
	if _, err := third.Redo(); err != nil {
		t.Fatal(err)
	}
	if err := third.Save("", false); err != nil {
		t.Fatal(err)
	}
	if got := contents(t, p.path("a.sums")); got != want {
		t.Errorf("saved %q", got)
	}
	third.Close()
	if got := namesIn(t, p.Journals); len(got) != 0 {
		t.Errorf("left: %q", got)
	}
}

func TestRecoveryDiscarded(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	enter(t, s, "c = 3")
	s.died()
	again := p.open(t, "a.sums")
	r := again.Recoveries()[0]
	if err := r.Discard(); err != nil {
		t.Fatal(err)
	}
	if _, err := again.Recover(r); err == nil {
		t.Error("recovered what was discarded")
	}
	if got := namesIn(t, p.Journals); len(got) != 0 {
		t.Errorf("left: %q", got)
	}
}

func TestRecoveryLeftAlone(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	enter(t, s, "c = 3")
	s.died()
	again := p.open(t, "a.sums")
	enter(t, again, "d = 4")
	if _, err := again.Recover(again.Recoveries()[0]); err == nil {
		t.Error("recovered over new lines")
	}
	again.Abandon()
	third := p.open(t, "a.sums")
	if rs := third.Recoveries(); len(rs) != 1 || !bytes.Contains(rs[0].Text(), []byte("c = 3")) {
		t.Errorf("not offered again: %v", rs)
	}
}

// The file has changed since: the lines are offered beside it, not over it.
func TestRecoveryOfAChangedFile(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	s := p.open(t, "a.sums")
	enter(t, s, "b = 2")
	s.died()
	p.write(t, "a.sums", "a = 9\n")
	again := p.open(t, "a.sums")
	rs := again.Recoveries()
	if len(rs) != 1 || !rs[0].Changed {
		t.Fatalf("offered %+v", rs)
	}
	if _, err := again.Recover(rs[0]); err == nil {
		t.Error("recovered over the changed file")
	}
	beside, err := Recovered(rs[0], p.Options)
	if err != nil {
		t.Fatal(err)
	}
	if string(beside.Text()) != "a = 1\nb = 2\n" || !beside.Dirty() || beside.Path() != "" {
		t.Errorf("beside it: %q, dirty %v, path %q", beside.Text(), beside.Dirty(), beside.Path())
	}
	beside.died()
	left := Leftovers(p.Options)
	if len(left) != 1 || string(left[0].Text()) != "a = 1\nb = 2\n" {
		t.Errorf("left over: %v", left)
	}
	for _, l := range left {
		l.Release()
	}
	if contents(t, p.path("a.sums")) != "a = 9\n" {
		t.Error("the file was written")
	}
}

func TestLeftovers(t *testing.T) {
	p := newPlace(t)
	p.write(t, "there.sums", "a = 1\n")
	for _, name := range []string{"there.sums", "new.sums"} {
		s := p.open(t, name)
		enter(t, s, "x = 1")
		s.died()
	}
	s := New(p.Options)
	enter(t, s, "y = 1")
	s.died()
	living := New(p.Options)
	enter(t, living, "z = 1")
	defer living.Abandon()
	var got []string
	for _, r := range Leftovers(p.Options) {
		got = append(got, filepath.Base(r.Path))
		r.Release()
	}
	if len(got) != 2 || !cmp.Equal(got, []string{".", "new.sums"}) && !cmp.Equal(got, []string{"new.sums", "."}) {
		t.Errorf("left over: %q", got)
	}
}

func TestNothingToRecover(t *testing.T) {
	for name, do := range map[string]func(*Session){
		"nothing entered":  func(s *Session) {},
		"saved":            func(s *Session) { s.Enter("b = 2"); s.Save("", false) },
		"undone":           func(s *Session) { s.Enter("b = 2"); s.Undo() },
		"saved elsewise":   func(s *Session) { s.Enter("b = 2"); os.WriteFile(s.Path(), s.Text(), 0o644) },
		"closed, not used": func(s *Session) { s.Close() },
		"abandoned":        func(s *Session) { s.Enter("b = 2"); s.Abandon() },
	} {
		p := newPlace(t)
		p.write(t, "a.sums", "a = 1\n")
		s := p.open(t, "a.sums")
		do(s)
		if !s.closed {
			s.died()
		}
		again := p.open(t, "a.sums")
		if len(again.Recoveries()) != 0 {
			t.Errorf("%s: offered %+v", name, again.Recoveries()[0])
		}
		again.Close()
		if got := namesIn(t, p.Journals); len(got) != 0 {
			t.Errorf("%s: left %q", name, got)
		}
	}
}

// A journal cut at any byte gives every record before the cut, and no more.
func TestJournalCutAnywhere(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	s := p.open(t, "a.sums")
	type state struct {
		size int
		text string
	}
	var states []state
	for _, l := range []string{"b = 2", "a = 3  # µ", "table f | n\n  x | 1\nend", "c = \"<&> \\u00e9\""} {
		enter(t, s, l)
		_, b := journalOf(t, p)
		states = append(states, state{len(b), string(s.Text())})
	}
	path, whole := journalOf(t, p)
	s.died()
	want := 0
	for n := 0; n <= len(whole); n++ {
		for want < len(states) && states[want].size <= n {
			want++
		}
		r := replay(whole[:n])
		switch {
		case want == 0:
			if r.edits != 0 {
				t.Fatalf("cut at %d: %d edits", n, r.edits)
			}
		case r.edits != want || string(r.text) != states[want-1].text:
			t.Fatalf("cut at %d: %d edits, text %q", n, r.edits, r.text)
		case r.torn != (n != states[want-1].size):
			t.Fatalf("cut at %d: torn %v", n, r.torn)
		}
	}
	// Any byte spoilt: what is before counts, and no other text comes out.
	for n := range whole {
		spoilt := bytes.Clone(whole)
		spoilt[n] ^= 0x11
		r := replay(spoilt)
		if !r.damaged || r.torn {
			t.Fatalf("spoilt at %d: damaged %v, torn %v", n, r.damaged, r.torn)
		}
		sound := 0
		for sound < len(states) && states[sound].size <= n {
			sound++
		}
		if r.edits != sound || sound > 0 && string(r.text) != states[sound-1].text {
			t.Fatalf("spoilt at %d: %d edits, text %q", n, r.edits, r.text)
		}
	}
	// And through the front door.
	if err := os.WriteFile(path, whole[:len(whole)-3], 0o600); err != nil {
		t.Fatal(err)
	}
	again := p.open(t, "a.sums")
	if rs := again.Recoveries(); len(rs) != 1 || !rs[0].Torn || string(rs[0].Text()) != states[2].text {
		t.Errorf("offered %+v", rs)
	}
}

// A flipped bit at any place: no edit is made up, and the journal is there for
// ever, in its place or beside it, whatever the user says.
func TestDamagedJournalIsKept(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	s := p.open(t, "a.sums")
	enter(t, s, "b = 2", "c = 3")
	path, sound := journalOf(t, p)
	s.died()
	answers := map[string]func(*Session, *Recovery) error{
		"later": func(*Session, *Recovery) error { return nil },
		"drop":  func(_ *Session, r *Recovery) error { return r.Discard() },
		"yes":   func(s *Session, r *Recovery) error { _, err := s.Recover(r); return err },
	}
	for n := 0; n < len(sound); n += 3 {
		for answer, give := range answers {
			spoilt := bytes.Clone(sound)
			spoilt[n] ^= 0x04
			for _, name := range namesIn(t, p.Journals) {
				os.Remove(filepath.Join(p.Journals, name))
			}
			if err := os.WriteFile(path, spoilt, 0o600); err != nil {
				t.Fatal(err)
			}
			s := p.open(t, "a.sums")
			rs := s.Recoveries()
			if len(rs) != 1 || !rs[0].Damaged {
				t.Fatalf("spoilt at %d: offered %+v", n, rs)
			}
			r := rs[0]
			switch text := string(r.Text()); {
			case r.Aside != "" && (r.Edits > 0 || len(r.Draft) > 0):
				t.Errorf("spoilt at %d: %d edits are not offered", n, r.Edits)
			case r.Aside == "" && text != "a = 1\nb = 2\n":
				t.Errorf("spoilt at %d: offered %q", n, text)
			case r.Aside == "":
				if err := give(s, r); err != nil {
					t.Errorf("spoilt at %d, %s: %v", n, answer, err)
				}
			}
			s.Abandon()
			there := path + asideEnding
			if answer == "later" && r.Aside == "" {
				there = path
			} else if r.Aside != there {
				t.Errorf("spoilt at %d, %s: said to be at %q", n, answer, r.Aside)
			}
			if contents(t, there) != string(spoilt) {
				t.Errorf("spoilt at %d, %s: the journal is gone", n, answer)
			}
		}
	}
}

// A power cut may leave noughts where it lost a record: that is an end broken off,
// not a damage.
func TestJournalEndsInNoughts(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	s := p.open(t, "a.sums")
	enter(t, s, "b = 2", "c = 3")
	path, sound := journalOf(t, p)
	s.died()
	last := bytes.LastIndexByte(sound[:len(sound)-1], '\n') + 1
	for _, n := range []int{last, last + 5, len(sound) - 4} {
		cut := bytes.Clone(sound)
		clear(cut[n:])
		os.WriteFile(path, cut, 0o600)
		s := p.open(t, "a.sums")
		if rs := s.Recoveries(); len(rs) != 1 || rs[0].Damaged || !rs[0].Torn || string(rs[0].Text()) != "a = 1\nb = 2\n" {
			t.Errorf("noughts from %d: %+v", n, rs)
		}
		s.Close()
	}
}

// Rows of a table that is still being typed are on record, and no part of the
// notebook.
func TestDraft(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	s := p.open(t, "a.sums")
	rows := []string{"table f | n", "  x | 1"}
	draft := func(s *Session, rows ...string) {
		t.Helper()
		if err := s.Draft(rows...); err != nil {
			t.Fatal(err)
		}
	}
	for i, leave := range []func(){s.died, func() { s.Close() }} {
		draft(s, rows[0])
		draft(s, rows[1])
		if s.Dirty() || string(s.Text()) != "a = 1\n" {
			t.Errorf("the notebook is %q", s.Text())
		}
		leave()
		s = p.open(t, "a.sums")
		rs := s.Recoveries()
		if len(rs) != 1 || !cmp.Equal(rs[0].Draft, rows) || rs[0].Changed || rs[0].Edits != 0 {
			t.Fatalf("%d: offered %+v", i, rs)
		}
		if _, err := s.Recover(rs[0]); err != nil || !cmp.Equal(s.Drafted(), rows) {
			t.Fatalf("%v; %q", err, s.Drafted())
		}
		s.died() // and again
		s = p.open(t, "a.sums")
		if rs = s.Recoveries(); len(rs) != 1 || !cmp.Equal(rs[0].Draft, rows) {
			t.Fatalf("%d: offered the second time %+v", i, rs)
		}
		s.Recover(rs[0])
		if err := s.DropDraft(); err != nil {
			t.Fatal(err)
		}
	}
	// An edit makes an end of it, and a journal begun anew takes it along.
	enter(t, s, "b = 2")
	draft(s, rows[0])
	s.journal.stale = true
	draft(s, rows[1])
	s.died()
	s = p.open(t, "a.sums")
	if rs := s.Recoveries(); len(rs) != 1 || !cmp.Equal(rs[0].Draft, rows) {
		t.Fatalf("offered %+v", rs)
	}
	s.Recover(s.Recoveries()[0])
	enter(t, s, "table f | n\n  x | 1\nend")
	s.died()
	s = p.open(t, "a.sums")
	if rs := s.Recoveries(); len(rs) != 1 || rs[0].Draft != nil || !strings.HasSuffix(string(rs[0].Text()), "b = 2\ntable f | n\n  x | 1\nend\n") {
		t.Fatalf("offered %+v", rs)
	}
	s.Recoveries()[0].Discard()
	draft(s, rows...)
	s.DropDraft()
	s.Close()
	if left := namesIn(t, p.Journals); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
}

// unsyncable is a disk that does not say that a folder is safe.
type unsyncable struct {
	realDisk
	dir string
}

func (d unsyncable) SyncDir(dir string) error {
	if dir == d.dir {
		return errFault
	}
	return d.realDisk.SyncDir(dir)
}

// A saving of which the disk does not say that it is safe is no stranger's: not
// to the next saving, nor to a session that goes on after a death, whichever of
// the two files is there then.
func TestUnsafeSavingIsOurs(t *testing.T) {
	for _, there := range []string{"new", "old"} {
		p := newPlace(t)
		path := p.write(t, "a.sums", "a = 1\n")
		p.disk = unsyncable{dir: p.dir}
		s := p.open(t, "a.sums")
		enter(t, s, "b = 2")
		var e *Error
		if err := s.Save("", false); !errors.As(err, &e) || !strings.Contains(e.Message, "is written, but the disk does not say that it is safe") {
			t.Fatal(err)
		}
		if !s.Dirty() || contents(t, path) != "a = 1\nb = 2\n" {
			t.Errorf("dirty %v, the file is %q", s.Dirty(), contents(t, path))
		}
		enter(t, s, "c = 3")
		if err := s.Save("", false); errors.Is(err, ErrChanged) {
			t.Error(err)
		}
		enter(t, s, "d = 4")
		s.died()
		if there == "old" { // the last but one saving
			p.write(t, "a.sums", "a = 1\nb = 2\n")
		}
		p.disk = nil
		s = p.open(t, "a.sums")
		rs := s.Recoveries()
		if len(rs) != 1 || rs[0].Changed || string(rs[0].Text()) != "a = 1\nb = 2\nc = 3\nd = 4\n" {
			t.Fatalf("%s file: offered %+v", there, rs)
		}
		if _, err := s.Recover(rs[0]); err != nil {
			t.Errorf("%s file: %v", there, err)
		}
	}
}

// What is left of a notebook is opened beside it with the sheets it saw, and that
// stays so through another death.
func TestRecoveredKeepsItsFolder(t *testing.T) {
	p := newPlace(t)
	p.Library = func(dir string) calc.Library { return library.At(dir) }
	p.write(t, "coil.sums", "railsum 1\n# Coil\nask n = 2  # coils\ntell twice = 2 * n  # of them\n")
	p.write(t, "a.sums", "railsum 1\n")
	s := p.open(t, "a.sums")
	enter(t, s, `use "coil.sums" for c`, "c.twice")
	s.died()
	p.write(t, "a.sums", "railsum 1\n# another\n")
	s = p.open(t, "a.sums")
	beside, err := Recovered(s.Recoveries()[0], p.Options)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	sees := func(s *Session) {
		t.Helper()
		if s.Dir() != p.dir || s.Name() != "" || s.Book().Answer(2).Value == nil {
			t.Errorf("in %q: %+v", s.Dir(), s.Book().Answer(2).Errors)
		}
	}
	sees(beside)
	beside.died()
	left := Leftovers(p.Options)
	if len(left) != 1 {
		t.Fatalf("left: %+v", left)
	}
	again, err := Recovered(left[0], p.Options)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Abandon()
	sees(again)
	other := t.TempDir()
	if err := again.Save(filepath.Join(other, "b.sums"), false); err != nil || again.Dir() != other {
		t.Errorf("%v, sees %q", err, again.Dir())
	}
}

func TestJournalOfALaterFormatIsLeft(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	path := s.Path()
	s.Close()
	later, err := record(preamble{Format: journalFormat + 1, Path: path, Text: "x"})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(p.Journals, journalPrefix(path)+"1-0"+journalEnding)
	if err := os.WriteFile(name, later, 0o600); err != nil {
		t.Fatal(err)
	}
	if again := p.open(t, "a.sums"); len(again.Recoveries()) != 0 {
		t.Error("offered what it cannot read")
	}
	if _, err := os.Stat(name); err != nil {
		t.Error("taken away what it cannot read")
	}
}

// A long journal is begun anew and loses nothing.
func TestJournalBegunAnew(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	enter(t, s, "a = 1", "b = 2")
	s.journal.edits = manyEdits + 1
	enter(t, s, "c = 3")
	_, b := journalOf(t, p)
	if n := bytes.Count(b, []byte("\n")); n != 2 {
		t.Errorf("the new journal has %d records", n)
	}
	enter(t, s, "d = 4")
	s.died()
	again := p.open(t, "a.sums")
	if rs := again.Recoveries(); len(rs) != 1 || string(rs[0].Text()) != "railsum 1\na = 1\nb = 2\nc = 3\nd = 4\n" {
		t.Errorf("offered %v", rs)
	}
	again.Close()
	// Even if its edits are all undone, it has those of the first.
	s = p.open(t, "a.sums")
	if _, err := s.Recover(s.Recoveries()[0]); err != nil {
		t.Fatal(err)
	}
	s.journal.edits = manyEdits + 1
	enter(t, s, "e = 5")
	s.Undo()
	s.died()
	if rs := p.open(t, "a.sums").Recoveries(); len(rs) != 1 || strings.Contains(string(rs[0].Text()), "e = 5") {
		t.Errorf("offered %v", rs)
	}
}

func TestJournalIsPrivate(t *testing.T) {
	modes(t)
	p := newPlace(t)
	s := p.open(t, "a.sums")
	enter(t, s, "a = 1")
	path, _ := journalOf(t, p)
	for name, mode := range map[string]os.FileMode{path: 0o600, p.Journals: 0o700, filepath.Dir(p.Journals): 0o700} {
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != mode {
			t.Errorf("%s: %v %o", name, err, info.Mode().Perm())
		}
	}
}

func TestNoPlaceForJournals(t *testing.T) {
	p := newPlace(t)
	p.write(t, "x", "")
	p.Journals = p.path("x/journals")
	s := p.open(t, "a.sums")
	if w := s.Warning(); w == nil || !strings.Contains(w.Error(), "not kept safe") {
		t.Errorf("warned: %v", w)
	}
	enter(t, s, "a = 1")
	if err := s.Save("", false); err != nil {
		t.Error(err)
	}
}
