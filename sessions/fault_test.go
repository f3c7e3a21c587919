package sessions

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// Every call to the disk fails once, the first, the second and so on until the
// job runs through (the way SQLite tests, sqlite.org/testing.html): whatever
// fails, the file is the old or the new one, nothing that was accepted is lost,
// and what was refused is not there.
func TestAnyCallMayFail(t *testing.T) {
	for _, c := range []faulty{
		{}, {after: true},
		{why: syscall.ENOSPC}, {why: syscall.EIO}, {why: syscall.EROFS},
		{why: syscall.ENOSPC, ever: true}, {why: syscall.EIO, ever: true}, {why: syscall.EACCES, ever: true},
	} {
		for n := 1; ; n++ {
			d := &c
			d.fail, d.calls, d.failed = n, 0, ""
			p := newPlace(t)
			p.disk = d
			old := p.write(t, "a.sums", "railsum 1\na = 1\n")
			worked := workOn(t, p, d)
			if got := contents(t, old); got != "railsum 1\na = 1\n" && !strings.HasPrefix(got, "railsum 1\na = 5\nb = 2\n") {
				t.Fatalf("call %d (%s) failed: the file is %q", n, d.failed, got)
			}
			if t.Failed() {
				t.Fatalf("call %d (%s) failed", n, d.failed)
			}
			if d.failed == "" {
				if !worked || n < 20 {
					t.Fatalf("%d calls, and the job did not run through", n)
				}
				t.Logf("%v, for ever %v, all the same %v: each of %d calls failed", c.err(), c.ever, c.after, n-1)
				break
			}
		}
	}
}

// workOn edits and saves, tries again what is refused, and checks after each
// step that what was accepted can be recovered.
func workOn(t *testing.T, p place, d *faulty) (smooth bool) {
	smooth = true
	again := func(what string, do func() error) {
		if err := do(); err != nil {
			smooth = false
			if plain := err.Error(); strings.Contains(plain, "0x") || plain != strings.TrimSpace(plain) || strings.HasSuffix(plain, ".") {
				t.Errorf("%s: no plain words: %q", what, plain)
			}
			var e *Error
			if !errors.As(err, &e) && !d.ever {
				t.Errorf("%s: no kind of error: %v", what, err)
			}
			// Room is asked for where the disk is full, and nowhere else.
			if e != nil && (e.Kind == ErrWrite || e.Kind == ErrJournal) &&
				strings.Contains(e.Cure, "make room") != errors.Is(err, syscall.ENOSPC) {
				t.Errorf("%s, %v: the cure is %q", what, d.why, e.Cure)
			}
			if err := do(); err != nil && !d.ever {
				t.Errorf("%s, the second time: %v", what, err)
			}
		}
	}
	var s *Session
	again("open", func() (err error) {
		s, err = Open(p.path("a.sums"), p.Options)
		return
	})
	if s == nil {
		return false
	}
	kept := s.Warning() == nil
	var past []string // that an undo may lead to
	safe := func() {
		if past = append(past, string(s.Text())); !d.ever {
			past = nil
		}
		if kept {
			recoverable(t, p, string(s.Text()), past)
		}
	}
	for _, l := range []string{"a = 5", "b = 2", "c = 3"} {
		again(l, func() error {
			before := string(s.Text())
			_, err := s.Enter(l)
			if err != nil && string(s.Text()) != before {
				t.Errorf("%s: refused, and the text is %q", l, s.Text())
			}
			safe()
			return err
		})
		if l == "b = 2" {
			again("save", func() error { return saved(s, "") })
			safe()
		}
	}
	again("undo", func() error { _, err := s.Undo(); return err })
	safe()
	again("save as", func() error { return saved(s, p.path("b.sums")) })
	if d.ever {
		s.Close()
		return smooth && d.failed == ""
	}
	if s.Dirty() || contents(t, p.path("b.sums")) != string(s.Text()) {
		t.Errorf("saved elsewhere %q, dirty %v, the text is %q", contents(t, p.path("b.sums")), s.Dirty(), s.Text())
	}
	s.Close()
	if d.failed == "remove" || d.failed == "list" {
		return smooth // what could not be removed may be left
	}
	for _, name := range append(namesIn(t, p.dir), namesIn(t, p.Journals)...) {
		if name != "a.sums" && name != "b.sums" {
			t.Errorf("left behind: %s", name)
		}
	}
	return smooth
}

// saved saves; a name that it has taken already is as good.
func saved(s *Session, name string) error {
	err := s.Save(name, false)
	if errors.Is(err, ErrJournal) && !s.Dirty() {
		return nil
	}
	if errors.Is(err, ErrExists) {
		// The name changed hands before the failure was reported.
		if text, _ := os.ReadFile(name); string(text) == string(s.Text()) {
			return s.Save(name, true)
		}
	}
	return err
}

// recoverable checks that the file, or a journal, holds a text. Where nothing can
// be written any more, a record that was refused cannot be taken back either: then
// it may also hold what the refused edit would have made of it.
func recoverable(t *testing.T, p place, want string, past []string) {
	t.Helper()
	var found []string
	for _, name := range []string{"a.sums", "b.sums"} {
		if b, err := os.ReadFile(p.path(name)); err == nil {
			found = append(found, string(b))
		}
	}
	for _, name := range namesIn(t, p.Journals) {
		if b, err := os.ReadFile(fmt.Sprintf("%s/%s", p.Journals, name)); err == nil && strings.HasSuffix(name, journalEnding) {
			found = append(found, string(replay(b).text))
		}
	}
	for _, f := range found {
		if f == want || past != nil && (strings.HasPrefix(f, want) || slices.Contains(past, f)) {
			return
		}
	}
	t.Errorf("%q is nowhere; there are %q", want, found)
}

// The same for a recovery: as long as it has not been taken over it is offered
// again.
func TestAnyCallMayFailInRecovery(t *testing.T) {
	for n := 1; ; n++ {
		p := newPlace(t)
		p.write(t, "a.sums", "a = 1\n")
		s := p.open(t, "a.sums")
		enter(t, s, "b = 2")
		s.died()
		d := &faulty{fail: n}
		q := p
		q.disk = d
		again, err := Open(q.path("a.sums"), q.Options)
		if err == nil {
			for _, r := range again.Recoveries() {
				if _, err := again.Recover(r); err != nil && d.failed == "" {
					t.Fatal(err)
				}
			}
			again.died()
		}
		last, err := Open(p.path("a.sums"), p.Options)
		if err != nil {
			t.Fatal(err)
		}
		rs := last.Recoveries()
		if len(rs) == 0 || string(rs[0].Text()) != "a = 1\nb = 2\n" {
			t.Fatalf("call %d (%s) failed: offered %v", n, d.failed, rs)
		}
		last.Close()
		if d.failed == "" {
			if n < 8 {
				t.Fatalf("only %d calls", n)
			}
			return
		}
	}
}

// The journal fails, and cannot even be cut back: the next edit sees to it, and
// the refused one does not come back.
func TestRefusedEditsStayAway(t *testing.T) {
	p := newPlace(t)
	d := &faulty{}
	p.disk = d
	s := p.open(t, "a.sums")
	enter(t, s, "a = 1")
	d.fail = d.calls + 2 // writing goes well, flushing does not
	s.journal.file = &stuck{s.journal.file}
	if _, err := s.Enter("b = 2"); !errors.Is(err, ErrJournal) {
		t.Fatalf("got %v", err)
	}
	s.journal.file = s.journal.file.(*stuck).appended
	enter(t, s, "c = 3")
	s.died()
	rs := p.open(t, "a.sums").Recoveries()
	if len(rs) != 1 || string(rs[0].Text()) != "railsum 1\na = 1\nc = 3\n" || rs[0].Torn {
		t.Errorf("offered %+v", rs)
	}
}

// stuck cannot be cut.
type stuck struct{ appended }

func (*stuck) Truncate(int64) error { return errFault }
