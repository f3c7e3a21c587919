//go:build unix

package sessions

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"
)

// soon fails a test that waits for ever.
func soon(t *testing.T, what string, do func() error) error {
	t.Helper()
	done := make(chan error, 1)
	go func() { done <- do() }()
	select {
	case err := <-done:
		return err
	case <-time.After(10 * time.Second):
		t.Fatalf("%s waits for ever", what)
		return nil
	}
}

// A folder of a stranger's may hold anything under the name of the lock:
// whatever is no lock of railsum's is neither written nor taken away, and
// nothing behind it is.
func TestStrangersLock(t *testing.T) {
	const precious = "all that I have\n"
	for _, c := range []struct {
		name string
		make func(lock, victim string) error
	}{
		{"a link to a file", func(lock, victim string) error { return os.Symlink(victim, lock) }},
		{"a link to nothing", func(lock, victim string) error { return os.Symlink(victim+".new", lock) }},
		{"a file under two names", func(lock, victim string) error { return os.Link(victim, lock) }},
		{"a text", func(lock, _ string) error { return os.WriteFile(lock, []byte(precious), 0o644) }},
		{"a long text that begins as a lock does", func(lock, _ string) error {
			return os.WriteFile(lock, []byte("12 host\n"+strings.Repeat("x", 1000)), 0o644)
		}},
		{"a pipe", func(lock, _ string) error { return syscall.Mkfifo(lock, 0o644) }},
		{"a folder", func(lock, _ string) error { return os.Mkdir(lock, 0o755) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPlace(t)
			path := p.write(t, "n.sums", "a = 1\n")
			victim := newPlace(t).write(t, "victim.txt", precious)
			lock := p.path(".n.sums.lock")
			if err := c.make(lock, victim); err != nil {
				t.Fatal(err)
			}
			before, _ := os.Lstat(lock)
			refused := func(what string, err error) {
				var e *Error
				if !errors.Is(err, ErrUnsafe) || !errors.As(err, &e) || !strings.Contains(e.Message, ".n.sums.lock") || e.Cure == "" {
					t.Errorf("%s: %v", what, err)
				}
			}
			refused("opening", soon(t, "opening", func() error {
				_, err := Open(path, p.Options)
				return err
			}))
			refused("saving", soon(t, "saving", func() error {
				f, err := Load(path)
				if err != nil {
					t.Error(err)
					return nil
				}
				return f.Save([]byte("a = 2\n"), true)
			}))
			if contents(t, path) != "a = 1\n" || contents(t, victim) != precious {
				t.Errorf("the notebook is %q, the victim %q", contents(t, path), contents(t, victim))
			}
			if after, err := os.Lstat(lock); err != nil || !os.SameFile(before, after) || after.Size() != before.Size() {
				t.Errorf("what lay there is another now: %v, %v", after, err)
			}
			if names := namesIn(t, p.dir); len(names) != 2 {
				t.Errorf("left behind: %q", names)
			}
		})
	}
}

// What a desk that was killed has left is taken over, and so is an empty file.
func TestLockLeftBehind(t *testing.T) {
	host, _ := os.Hostname()
	for _, left := range []string{"", "12345 signalbox\n", "12345 \n", fmt.Sprintf("%d %s\n", os.Getpid(), host)} {
		p := newPlace(t)
		p.write(t, "n.sums", "a = 1\n")
		lock := p.write(t, ".n.sums.lock", left)
		s, err := Open(p.path("n.sums"), p.Options)
		if err != nil {
			t.Fatalf("%q: %v", left, err)
		}
		if who := readOwner(lock); who.PID != os.Getpid() {
			t.Errorf("%q: the owner is %v", left, who)
		}
		if _, err := Open(p.path("n.sums"), p.Options); !errors.Is(err, ErrLocked) {
			t.Errorf("%q: opened twice: %v", left, err)
		}
		s.Close()
		if names := namesIn(t, p.dir); len(names) != 1 {
			t.Errorf("%q: left behind: %q", left, names)
		}
	}
}

// What has taken the place of a held lock is not removed with it.
func TestLockReplaced(t *testing.T) {
	p := newPlace(t)
	path := p.path("x.lock")
	l, err := takeLock(path)
	if err != nil {
		t.Fatal(err)
	}
	os.Remove(path)
	p.write(t, "x.lock", "precious\n")
	l.release()
	if names := namesIn(t, p.dir); len(names) != 1 || contents(t, path) != "precious\n" {
		t.Errorf("another's file is gone or written: %q", names)
	}
}

// The folder of journals is the user's own, but what lies there is no more
// trusted.
func TestStrangersJournals(t *testing.T) {
	p := newPlace(t)
	s := p.open(t, "a.sums")
	enter(t, s, "a = 1")
	journal := s.journal.path
	s.died()
	victim := p.write(t, "victim.txt", "precious")
	os.Remove(journal + lockEnding)
	for _, bad := range []func() error{
		func() error { return os.Symlink(victim, journal+lockEnding) },
		func() error { return syscall.Mkfifo(journal+lockEnding, 0o600) },
	} {
		if err := bad(); err != nil {
			t.Fatal(err)
		}
		soon(t, "looking for what is left", func() error {
			for _, r := range p.filled().leftovers("", func(string, *preamble) bool { return true }) {
				t.Errorf("%+v was offered without a lock", r)
			}
			return nil
		})
		os.Remove(journal + lockEnding)
	}
	for name, bad := range map[string]func(string) error{
		"link": func(path string) error { return os.Symlink(victim, path) },
		"pipe": func(path string) error { return syscall.Mkfifo(path, 0o600) },
	} {
		path := p.path(name)
		if err := bad(path); err != nil {
			t.Fatal(err)
		}
		if err := soon(t, "reading a "+name, func() error { _, err := realDisk{}.Read(path, 10); return err }); err == nil {
			t.Errorf("a %s was read", name)
		}
		if _, err := (realDisk{}).Append(path); err == nil {
			t.Errorf("a %s would be written to", name)
		}
	}
	if contents(t, victim) != "precious" {
		t.Error("the victim was written")
	}
}

// What the system says comes in words that need no knowledge of it.
func TestPlainWords(t *testing.T) {
	p := newPlace(t)
	os.Symlink("b", p.path("a"))
	os.Symlink("a", p.path("b"))
	p.write(t, "file", "")
	for name, want := range map[string]string{
		"a":                      "its links lead to nothing but one another",
		"a/n.sums":               "its links lead to nothing but one another",
		"file/n.sums":            "what should be a folder is a file",
		strings.Repeat("x", 300): "the name is too long",
	} {
		_, err := Open(p.path(name), p.Options)
		var e *Error
		if !errors.As(err, &e) || !strings.HasSuffix(e.Message, want) {
			t.Errorf("%.20s: %v, want %q", name, err, want)
		}
	}
}
