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
