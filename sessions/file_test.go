package sessions

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestLoadRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		text, says string
		kind       error
	}{
		"later edition":             {"railsum 2\na = 1\n", "is written for railsum 2, and this is railsum 1", ErrNewer},
		"later edition, below rows": {"\n\n  railsum 7  # x\n", "railsum 7", ErrNewer},
		"later edition with a mark": {"\ufeffrailsum 2\r\n", "railsum 2", ErrNewer},
		"later, and more behind it": {"railsum 2 x\n", "is written for railsum 2, and", ErrNewer},
		"later, with a point":       {"railsum 2.0\r\n", "is written for railsum 2.0, and", ErrNewer},
		"later by very much":        {"railsum 99999999999999999999999999 # x\n", "railsum 99999999999999999999999999", ErrNewer},
		"later, and hostile":        {"railsum 3\x1b[2J\n", "is written for railsum 3, and", ErrNewer},
		"a zero byte":               {"a = 1\nb = \x00\n", "line 2 holds a zero byte", ErrDamaged},
		"not UTF-8":                 {"a = 1\n\nc = 5 \xb5F\n", "not UTF-8 text from line 3", ErrDamaged},
		"cut in a character":        {"a = 5 µ"[:len("a = 5 µ")-1], "not UTF-8 text from line 1", ErrDamaged},
		"too large":                 {strings.Repeat("# x\n", MaxBytes/4+1), "larger than a notebook may be", ErrRead},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlace(t)
			path := p.write(t, "a.sums", c.text)
			_, err := Load(path)
			if !errors.Is(err, c.kind) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("loading: %v", err)
			}
			if _, err := Open(path, p.Options); !errors.Is(err, c.kind) {
				t.Errorf("opening: %v", err)
			}
			if contents(t, path) != c.text || !cmp.Equal(namesIn(t, p.dir), []string{"a.sums"}) {
				t.Errorf("the file was not left as it was; there are %q", namesIn(t, p.dir))
			}
		})
	}
	for _, sound := range []string{"", "\n", "railsum 1\n", "a = 1\nrailsum 2\n", "railsum two\n", "railsum 1.0\n", "railsum 01 x\n", "railsum = 2\n", "railsums 2\n", strings.Repeat("# x\n", MaxBytes/4)} {
		p := newPlace(t)
		f, err := Load(p.write(t, "a.sums", sound))
		if err != nil || string(f.Text) != sound {
			t.Errorf("%.20q: %v", sound, err)
		}
	}
}

func TestLoadWhatIsNoFile(t *testing.T) {
	p := newPlace(t)
	kinds := map[string]string{
		".":         "is a folder",
		"no/a.sums": "there is no folder",
		"x/a.sums":  "cannot be read",
	}
	if linked(p.path("dead.sums"), "nowhere.sums") && linked(p.path("round.sums"), "round.sums") {
		kinds["dead.sums"], kinds["round.sums"] = "link to a file that is not there", "cannot be read"
	}
	p.write(t, "x", "")
	for name, says := range kinds {
		if _, err := Load(p.path(name)); !errors.Is(err, ErrRead) || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", name, err, says)
		}
	}
	if f, err := Load(p.path("new.sums")); err != nil || f.Exists || f.Text != nil {
		t.Errorf("a file not there yet: %v %v", f, err)
	}
}

// linked makes a link, where there are any that keep what they lead to.
func linked(path, to string) bool {
	os.Symlink(to, path)
	is, err := os.Readlink(path)
	return err == nil && is == to
}

// modes skips a test of who may do what where the mode of a file does not say.
func modes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("the folder says who may do what")
	}
}

func TestSaveKeepsPermissions(t *testing.T) {
	modes(t)
	p := newPlace(t)
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o664, 0o444 | 0o200} {
		path := p.write(t, "a.sums", "a = 1\n")
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		f, err := Load(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := f.Save([]byte("a = 2\n"), false); err != nil {
			t.Fatal(err)
		}
		if info, _ := os.Stat(path); info.Mode().Perm() != mode {
			t.Errorf("mode %o became %o", mode, info.Mode().Perm())
		}
	}
}

func TestSaveFollowsLinks(t *testing.T) {
	p := newPlace(t)
	if err := os.Mkdir(p.path("real"), 0o755); err != nil {
		t.Fatal(err)
	}
	p.write(t, "real/b.sums", "a = 1\n")
	if !linked(p.path("a.sums"), "real/b.sums") {
		t.Skip("no links here")
	}
	s := p.open(t, "a.sums")
	enter(t, s, "b = 2")
	if err := s.Save("", false); err != nil {
		t.Fatal(err)
	}
	if to, err := os.Readlink(p.path("a.sums")); err != nil || to != "real/b.sums" {
		t.Errorf("the link is now %q, %v", to, err)
	}
	if got := contents(t, p.path("real/b.sums")); got != "a = 1\nb = 2\n" {
		t.Errorf("the file is %q", got)
	}
	// By the other name it is the same notebook.
	if _, err := Open(p.path("real/b.sums"), p.Options); !errors.Is(err, ErrLocked) {
		t.Errorf("opened by its other name: %v", err)
	}
}

func TestSaveSeesChanges(t *testing.T) {
	other := func(text string) func(string) {
		return func(path string) { os.WriteFile(path, []byte(text), 0o644) }
	}
	for name, c := range map[string]struct {
		start  string // "-" for none
		meddle func(path string)
		says   string // empty if it may be saved
	}{
		"changed": {"a = 1\n", other("a = 9\nb = 1\n"), "has been changed since it was read"},
		"changed, of the same size": {"a = 1\n", func(path string) {
			info, _ := os.Stat(path)
			os.WriteFile(path, []byte("a = 9\n"), 0o644)
			os.Chtimes(path, info.ModTime(), info.ModTime())
		}, "has been changed"},
		"gone":           {"a = 1\n", func(path string) { os.Remove(path) }, "has gone since"},
		"come":           {"-", other("a = 9\n"), "did not exist before and does now"},
		"come, a folder": {"-", func(path string) { os.Mkdir(path, 0o755) }, "has become something else"},
		"only touched":   {"a = 1\n", other("a = 1\n"), ""},
		"already so":     {"a = 1\n", other("a = 2\n"), ""},
		"not writable":   {"a = 1\n", func(path string) { os.Chmod(path, 0o444) }, "not to be written"},
	} {
		t.Run(name, func(t *testing.T) {
			p := newPlace(t)
			path := p.path("a.sums")
			if c.start != "-" {
				p.write(t, "a.sums", c.start)
			}
			f, err := Load(path)
			if err != nil {
				t.Fatal(err)
			}
			c.meddle(path)
			before, _ := os.ReadFile(path)
			err = f.Save([]byte("a = 2\n"), false)
			if c.says == "" {
				if err != nil || contents(t, path) != "a = 2\n" {
					t.Errorf("%v; the file is %q", err, contents(t, path))
				}
				return
			}
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Fatalf("got %v, want %q", err, c.says)
			}
			if now, _ := os.ReadFile(path); !bytes.Equal(now, before) {
				t.Errorf("the file is now %q", now)
			}
			if left := namesIn(t, p.dir); len(left) > 1 {
				t.Errorf("left behind: %q", left)
			}
			if name != "come, a folder" {
				if err := f.Save([]byte("a = 2\n"), true); err != nil || contents(t, path) != "a = 2\n" {
					t.Errorf("forced: %v", err)
				}
			}
		})
	}
}

func TestSaveUnderAnotherName(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "railsum 1\na = 1\n")
	p.write(t, "b.sums", "b = 1\n")
	s := p.open(t, "a.sums")
	enter(t, s, "c = 3")
	if err := s.Save(p.path("b.sums"), false); !errors.Is(err, ErrExists) {
		t.Errorf("over another file: %v", err)
	}
	if err := s.Save(p.path("new.sums"), false); err != nil {
		t.Fatal(err)
	}
	if contents(t, p.path("a.sums")) != "railsum 1\na = 1\n" || contents(t, p.path("new.sums")) != "railsum 1\na = 1\nc = 3\n" {
		t.Error("the wrong file was written")
	}
	if s.Path() != p.path("new.sums") || s.Dirty() {
		t.Errorf("path %q, dirty %v", s.Path(), s.Dirty())
	}
	// The first file is free now, the second is not.
	if a, err := Open(p.path("a.sums"), p.Options); err != nil {
		t.Error(err)
	} else {
		a.Close()
	}
	if _, err := Open(p.path("new.sums"), p.Options); !errors.Is(err, ErrLocked) {
		t.Errorf("the new file is not locked: %v", err)
	}
	if err := s.Save(p.path("b.sums"), true); err != nil || contents(t, p.path("b.sums")) != "railsum 1\na = 1\nc = 3\n" {
		t.Errorf("forced: %v", err)
	}
	if err := s.Save(p.path("no/b.sums"), true); !errors.Is(err, ErrRead) || s.Path() != p.path("b.sums") {
		t.Errorf("into a folder that is not there: %v; path %q", err, s.Path())
	}
}

func TestTwoDesks(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	first := p.open(t, "a.sums")
	_, err := Open(p.path("a.sums"), p.Options)
	var e *Error
	if !errors.Is(err, ErrLocked) || !errors.As(err, &e) || e.Owner.PID != os.Getpid() {
		t.Fatalf("a second desk: %v", err)
	}
	if !strings.Contains(err.Error(), "open at another desk (process ") {
		t.Errorf("it says %q", err)
	}
	// A program that writes files in batch meets the same lock.
	f, err := Load(p.path("a.sums"))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Save([]byte("a = 2\n"), false); !errors.Is(err, ErrLocked) {
		t.Errorf("written in batch: %v", err)
	}
	// The journal of a desk that lives is not offered.
	enter(t, first, "b = 1")
	if got := p.filled().leftoversOf(first.Path()); len(got) != 0 {
		t.Errorf("offered what is in use: %v", got)
	}
	first.Close()
	second := p.open(t, "a.sums")
	if len(second.Recoveries()) != 1 {
		t.Errorf("not offered what was left: %v", second.Recoveries())
	}
}

// A lock whose file is taken away by its holder between another's opening and
// locking it must not be held by two. Only chance brings that about, so it is
// given many.
func TestLockTakenAway(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.lock")
	var holders, most, takings atomic.Int32
	var wg sync.WaitGroup
	end := time.Now().Add(5 * time.Second)
	for range 8 {
		wg.Go(func() {
			for takings.Load() < 2000 && time.Now().Before(end) {
				l, err := takeLock(path)
				if err != nil {
					continue
				}
				if n := holders.Add(1); n > 1 {
					most.Store(n)
				}
				takings.Add(1)
				time.Sleep(10 * time.Microsecond)
				holders.Add(-1)
				l.release()
			}
		})
	}
	wg.Wait()
	if most.Load() > 1 || takings.Load() < 10 {
		t.Errorf("held by %d at once, taken %d times", most.Load(), takings.Load())
	}
}

func TestSweepTakesOnlyItsOwn(t *testing.T) {
	p := newPlace(t)
	p.write(t, "a.sums", "a = 1\n")
	p.write(t, ".a.sums1234567890123456789", "half")
	keep := []string{".a.sums2024", ".a.sums.bak", ".b.sums1234567890123456789", "a.sums1234567890123456789", ".a.sums123456789012x"}
	for _, k := range keep {
		p.write(t, k, "mine")
	}
	p.open(t, "a.sums").Close()
	left := namesIn(t, p.dir)
	if len(left) != len(keep)+1 {
		t.Errorf("left: %q", left)
	}
	for _, k := range keep {
		if contents(t, p.path(k)) != "mine" {
			t.Errorf("%s is gone", k)
		}
	}
}

func TestSaveTooLarge(t *testing.T) {
	p := newPlace(t)
	f, err := Load(p.path("a.sums"))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Save(make([]byte, MaxBytes+1), false); !errors.Is(err, ErrWrite) {
		t.Errorf("got %v", err)
	}
}
