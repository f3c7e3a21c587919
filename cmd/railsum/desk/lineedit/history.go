package lineedit

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"railsum/cmd/railsum/show"
	"railsum/sessions/reason"
)

// Bounds on the history: how many lines are kept for recall, and how large the
// file may grow before it is cut back to them.
const (
	maxRecalled    = 1000
	maxHistoryFile = 1 << 20
)

// History is the lines typed before, kept in a file that only its owner can
// read. Several programs may write it at once: every line is one append under
// a lock, and the file is cut back only under it. A history that cannot be
// read or written is an inconvenience, never an error that stops work.
type History struct {
	path  string
	lines []string
}

// OpenHistory reads the history of a file and makes its folder, open to its
// owner only. The History can be used whatever the error.
func OpenHistory(path string) (*History, error) {
	h := &History{path: path}
	if path == "" {
		return h, nil
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return h, unkept(err)
	}
	err := h.locked(func(f *os.File) error {
		lines, err := readTail(f)
		h.lines = lines
		return err
	})
	return h, err
}

// Lines gives the lines read from the file, oldest first.
func (h *History) Lines() []string { return h.lines }

// Add appends a line to the file.
func (h *History) Add(line string) error {
	line = clean(line)
	if h.path == "" || line == "" {
		return nil
	}
	return h.locked(func(f *os.File) error {
		if _, err := f.WriteString(line + "\n"); err != nil {
			return err
		}
		if info, err := f.Stat(); err == nil && info.Size() > maxHistoryFile {
			return cutBack(f)
		}
		return nil
	})
}

// locked opens the file and runs f while no other program does the same. The
// lock is a file of its own, since the history's may be shortened.
func (h *History) locked(do func(*os.File) error) error {
	if err := ordinary(h.path, h.path+".lock"); err != nil {
		return unkept(err)
	}
	lock := flock.New(h.path+".lock", flock.SetFlag(os.O_CREATE|asItStands), flock.SetPermissions(0o600))
	defer lock.Close()
	for wait := 0; ; wait++ {
		ok, err := lock.TryLock()
		if err != nil {
			return unkept(err)
		}
		if ok {
			break
		}
		if wait > 100 {
			return unkept(errors.New("another program holds it"))
		}
		time.Sleep(5 * time.Millisecond)
	}
	f, err := os.OpenFile(h.path, os.O_RDWR|os.O_CREATE|os.O_APPEND|asItStands, 0o600)
	if err != nil {
		return unkept(err)
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return unkept(notOrdinary(h.path))
	} else if info.Mode().Perm()&0o077 != 0 {
		f.Chmod(0o600)
	}
	return do(f)
}

// ordinary looks at what lies under some names: nothing, or an ordinary file.
func ordinary(paths ...string) error {
	for _, path := range paths {
		if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
			return notOrdinary(path)
		}
	}
	return nil
}

func notOrdinary(path string) error { return fmt.Errorf("%s is not an ordinary file", path) }

// unkept says why there is no history.
func unkept(err error) error { return &unkeptError{err} }

type unkeptError struct{ err error }

func (e *unkeptError) Error() string { return "the history cannot be kept: " + reason.Of(e.err) }
func (e *unkeptError) Unwrap() error { return e.err }

// readTail reads the last lines of the file, made harmless. It looks at no
// more than the end of a file that grew beyond its bound.
func readTail(f *os.File) ([]string, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	start := max(0, info.Size()-2*maxHistoryFile)
	text, err := io.ReadAll(io.NewSectionReader(f, start, info.Size()-start))
	if err != nil {
		return nil, err
	}
	if start > 0 { // the first line is cut
		_, text, _ = bytes.Cut(text, []byte("\n"))
	}
	var lines []string
	in := bufio.NewScanner(bytes.NewReader(text))
	in.Buffer(nil, len(text)+1)
	for in.Scan() {
		if line := clean(in.Text()); line != "" {
			lines = append(lines, line)
		}
	}
	return lines[max(0, len(lines)-maxRecalled):], in.Err()
}

// cutBack shortens the file to the lines kept for recall. It is a plain
// rewrite: the lock keeps others out, and what a crash could cost here is the
// convenience of recalling old lines.
func cutBack(f *os.File) error {
	lines, err := readTail(f)
	if err != nil {
		return err
	}
	if err := f.Truncate(0); err != nil {
		return err
	}
	_, err = f.WriteString(strings.Join(lines, "\n") + "\n")
	return err
}

// clean takes out of a line what could act on a terminal, and bounds it.
func clean(line string) string { return strings.TrimRight(cut(harmless(line), MaxLine), " ") }

// harmless takes out of a text what could act on a terminal; a tab becomes a blank.
func harmless(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case show.Acts(r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(text, ""))
}
