package sessions

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// unprivileged runs f as one whom permissions bind, which they do not root.
func unprivileged(t *testing.T, f func()) {
	done := make(chan struct{})
	go func() {
		defer close(done)
		// The identity is the thread's; never unlocked, the thread ends with it.
		runtime.LockOSThread()
		if os.Geteuid() == 0 {
			if err := syscall.Setfsuid(65534); err != nil {
				t.Error(err)
				return
			}
		}
		f()
	}()
	<-done
}

func TestReadOnlyFolder(t *testing.T) {
	p := newPlace(t)
	if err := os.MkdirAll(p.Journals, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{filepath.Dir(p.dir), p.dir, p.Journals, filepath.Dir(p.Journals)} {
		if err := os.Chmod(dir, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	path := p.write(t, "a.sums", "a = 1\n")
	os.Chmod(path, 0o666)
	os.Chmod(p.dir, 0o555)
	defer os.Chmod(p.dir, 0o755)
	unprivileged(t, func() {
		if os.WriteFile(p.path("probe"), nil, 0o644) == nil {
			t.Error("the folder can be written to after all")
			return
		}
		s, err := Open(path, p.Options)
		if err != nil {
			t.Errorf("opening: %v", err)
			return
		}
		if _, err := s.Enter("b = 2"); err != nil {
			t.Errorf("entering: %v", err)
		}
		err = s.Save("", false)
		if !errors.Is(err, ErrWrite) || !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "its folder may not be written to") {
			t.Errorf("saving: %v", err)
		}
		if !s.Dirty() {
			t.Error("not dirty after a saving that failed")
		}
		s.Abandon()
	})
	if contents(t, path) != "a = 1\n" {
		t.Error("the file was written")
	}
	os.Chmod(p.dir, 0o755)
	os.Chmod(path, 0o000)
	unprivileged(t, func() {
		if _, err := Open(path, p.Options); !errors.Is(err, ErrRead) || !strings.Contains(err.Error(), "may not be read") {
			t.Errorf("opening what may not be read: %v", err)
		}
	})
}

// A folder for journals that is there and cannot be written to is as good as
// none: it is said, and every line is taken all the same.
func TestJournalsMayNotBeWritten(t *testing.T) {
	p := newPlace(t)
	if err := os.MkdirAll(p.Journals, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{filepath.Dir(p.dir), filepath.Dir(filepath.Dir(filepath.Dir(p.Journals))), p.dir} {
		os.Chmod(dir, 0o777)
	}
	for dir := p.Journals; dir != filepath.Dir(filepath.Dir(filepath.Dir(p.Journals))); dir = filepath.Dir(dir) {
		os.Chmod(dir, 0o755)
	}
	os.Chmod(p.Journals, 0o555)
	unprivileged(t, func() {
		s, err := Open(p.path("a.sums"), p.Options)
		if err != nil {
			t.Error(err)
			return
		}
		var e *Error
		if w := s.Warning(); !errors.As(w, &e) || !strings.Contains(e.Message, "cannot be written to: it is not permitted") || !strings.Contains(e.Cure, "XDG_STATE_HOME") {
			t.Errorf("warned: %v", w)
		}
		if _, err := s.Enter("a = 1"); err != nil {
			t.Errorf("entering: %v", err)
		}
		if err := s.Save("", false); err != nil {
			t.Error(err)
		}
		s.Close()
	})
}

// A folder that stops being written to while the notebook is open: the line is
// refused with a cure that works.
func TestJournalsCease(t *testing.T) {
	p := newPlace(t)
	for _, dir := range []string{filepath.Dir(p.dir), filepath.Dir(filepath.Dir(filepath.Dir(p.Journals))), p.dir} {
		os.Chmod(dir, 0o777)
	}
	os.MkdirAll(p.Journals, 0o777)
	for dir := p.Journals; dir != filepath.Dir(filepath.Dir(filepath.Dir(p.Journals))); dir = filepath.Dir(dir) {
		os.Chmod(dir, 0o777)
	}
	var s *Session
	unprivileged(t, func() {
		var err error
		if s, err = Open(p.path("a.sums"), p.Options); err != nil || s.Warning() != nil {
			t.Error(err, s.Warning())
		}
	})
	if t.Failed() {
		return
	}
	os.Chmod(p.Journals, 0o555)
	unprivileged(t, func() {
		_, err := s.Enter("a = 1")
		var e *Error
		if !errors.As(err, &e) || strings.Contains(e.Cure, "make room") || !strings.Contains(e.Cure, "let that be written to") || !strings.Contains(e.Cure, p.Journals) {
			t.Errorf("refused with %v", err)
		}
	})
	os.Chmod(p.Journals, 0o777)
	unprivileged(t, func() {
		if _, err := s.Enter("a = 1"); err != nil {
			t.Errorf("cured, and all the same %v", err)
		}
		s.Abandon()
	})
}
