package lineedit

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
)

func TestHistoryIsItsOwnersOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "state", "railsum", "history")
	h, err := OpenHistory(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := h.Add("track = 15 V"); err != nil {
		t.Fatal(err)
	}
	for p, want := range map[string]os.FileMode{path: 0o600, filepath.Dir(path): 0o700} {
		if info, err := os.Stat(p); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s has mode %v (%v), want %v", p, info.Mode().Perm(), err, want)
		}
	}
	os.Chmod(path, 0o644) // as another version may have left it
	h.Add("1 V")
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("a history open to others stays so: %v", info.Mode().Perm())
	}
}

// Two programs that write at once lose nothing of each other's.
func TestHistoryOfTwo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	var wg sync.WaitGroup
	for _, who := range []string{"a", "b"} {
		h, err := OpenHistory(path)
		if err != nil {
			t.Fatal(err)
		}
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range 100 {
				if err := h.Add(fmt.Sprintf("%s%d", who, i)); err != nil {
					t.Error(err)
				}
			}
		}()
	}
	wg.Wait()
	h, err := OpenHistory(path)
	if err != nil || len(h.Lines()) != 200 {
		t.Errorf("%d lines, %v; want 200", len(h.Lines()), err)
	}
}

func TestHistoryIsHarmless(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	os.WriteFile(path, []byte("\x1b]0;evil\x07 15 V\n\u202e1 V\n\xff2 V\n\n\u009b31m3 V\n"+strings.Repeat("x", 9000)+"\n"), 0o600)
	h, err := OpenHistory(path)
	want := []string{"]0;evil 15 V", "1 V", "2 V", "31m3 V", strings.Repeat("x", MaxLine)}
	if err != nil || !reflect.DeepEqual(h.Lines(), want) {
		t.Errorf("%.200q, %v", h.Lines(), err)
	}
}

func TestHistoryIsBounded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	line := strings.Repeat("y", 999) + "\n"
	os.WriteFile(path, []byte(strings.Repeat(line, 3000)), 0o600)
	h, err := OpenHistory(path)
	if err != nil || len(h.Lines()) != maxRecalled {
		t.Fatalf("%d lines, %v", len(h.Lines()), err)
	}
	if err := h.Add("last"); err != nil {
		t.Fatal(err)
	}
	info, _ := os.Stat(path)
	if info.Size() > maxHistoryFile {
		t.Errorf("the file has %d bytes after being cut back", info.Size())
	}
	h, _ = OpenHistory(path)
	if n := len(h.Lines()); n != maxRecalled || h.Lines()[n-1] != "last" {
		t.Errorf("%d lines, the last is %.20q", n, h.Lines()[n-1])
	}
}

func TestHistoryThatCannotBe(t *testing.T) {
	dir := t.TempDir()
	os.WriteFile(filepath.Join(dir, "file"), nil, 0o600)
	for _, path := range []string{"", dir, filepath.Join(dir, "file", "history")} {
		h, err := OpenHistory(path)
		if h == nil || len(h.Lines()) != 0 {
			t.Errorf("%q: no history to go on with (%v)", path, err)
		}
		if path != "" && err == nil {
			t.Errorf("%q: no word about it", path)
		}
		h.Add("15 V") // must not panic
	}
}
