package sessions

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// place is a folder for a notebook and one for journals.
type place struct {
	dir string
	Options
}

func newPlace(t testing.TB) place {
	t.Helper()
	p := place{dir: t.TempDir()}
	p.Journals = filepath.Join(t.TempDir(), "state", "journals")
	return p
}

func (p place) path(name string) string { return filepath.Join(p.dir, name) }

func (p place) write(t testing.TB, name, text string) string {
	t.Helper()
	if err := os.WriteFile(p.path(name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return p.path(name)
}

func (p place) open(t testing.TB, name string) *Session {
	t.Helper()
	s, err := Open(p.path(name), p.Options)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func contents(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// namesIn gives the names in a folder; a folder that is not there is empty.
func namesIn(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// died ends a session as a kill would: its locks are free, all else stays.
func (s *Session) died() {
	if s.journal != nil {
		s.journal.file.Close()
		s.journal.lock.held.Unlock()
	}
	if s.file != nil && s.file.lock != nil {
		s.file.lock.held.Unlock()
	}
	for _, r := range append(s.offers, s.taken...) {
		if r.lock != nil {
			r.lock.held.Unlock()
		}
	}
	s.closed = true
}

func enter(t testing.TB, s *Session, lines ...string) {
	t.Helper()
	for _, l := range lines {
		if _, err := s.Enter(l); err != nil {
			t.Fatalf("%q: %v", l, err)
		}
	}
}

// text is the notebook without its header.
func text(s *Session) string { return strings.TrimPrefix(string(s.Text()), "railsum 1\n") }

// faulty is a disk of which the call number fail, counted from 1, fails; what is
// written by it is written by half.
type faulty struct {
	realDisk
	fail   int
	calls  int
	ever   bool   // and so does every call after it
	after  bool   // a name changes hands, and the failure is reported all the same
	halt   func() // instead of failing
	why    error  // the reason, if not that of errFault
	failed string // which call it was
}

var errFault = &fs.PathError{Op: "test", Path: "disk", Err: errors.New("the disk has failed")}

func (d *faulty) hit(what string) bool {
	if d.calls++; d.calls != d.fail && !(d.ever && d.fail > 0 && d.calls > d.fail) {
		return false
	}
	if d.halt != nil {
		d.halt()
	}
	if d.failed == "" {
		d.failed = what
	}
	return true
}

func (d *faulty) err() error {
	if d.why == nil {
		return errFault
	}
	return &fs.PathError{Op: "test", Path: "disk", Err: d.why}
}

// long is whether what takes its time is done as often as DEVELOPERS.md says.
var long = os.Getenv("RAILSUM_LONG") != ""

func (d *faulty) Lstat(name string) (fs.FileInfo, error) {
	if d.hit("lstat") {
		return nil, d.err()
	}
	return d.realDisk.Lstat(name)
}

func (d *faulty) Stat(name string) (fs.FileInfo, error) {
	if d.hit("stat") {
		return nil, d.err()
	}
	return d.realDisk.Stat(name)
}

func (d *faulty) Resolve(name string) (string, error) {
	if d.hit("resolve") {
		return "", d.err()
	}
	return d.realDisk.Resolve(name)
}

func (d *faulty) Read(name string, most int64) ([]byte, error) {
	if d.hit("read") {
		return nil, d.err()
	}
	return d.realDisk.Read(name, most)
}

func (d *faulty) SyncDir(dir string) error {
	if d.hit("syncdir") {
		return d.err()
	}
	return d.realDisk.SyncDir(dir)
}

func (d *faulty) MakeDir(dir string) error {
	if d.hit("mkdir") {
		return d.err()
	}
	return d.realDisk.MakeDir(dir)
}

func (d *faulty) List(dir string) ([]fs.DirEntry, error) {
	if d.hit("list") {
		return nil, d.err()
	}
	return d.realDisk.List(dir)
}

func (d *faulty) Remove(name string) error {
	if d.hit("remove") {
		return d.err()
	}
	return d.realDisk.Remove(name)
}

func (d *faulty) Rename(old, new string) error {
	if d.hit("rename") {
		return d.err()
	}
	return d.realDisk.Rename(old, new)
}

func (d *faulty) Replace(name string) (replacement, error) {
	if d.hit("replace") {
		return nil, d.err()
	}
	r, err := d.realDisk.Replace(name)
	return &faultyReplacement{r, d}, err
}

func (d *faulty) Append(name string) (appended, error) {
	if d.hit("append") {
		return nil, d.err()
	}
	f, err := d.realDisk.Append(name)
	return &faultyAppended{f, d}, err
}

type faultyReplacement struct {
	replacement
	d *faulty
}

func (r *faultyReplacement) Write(p []byte) (int, error) {
	if r.d.hit("write") {
		n, _ := r.replacement.Write(p[:len(p)/2])
		return n, r.d.err()
	}
	return r.replacement.Write(p)
}

func (r *faultyReplacement) CloseAtomicallyReplace() error {
	if r.d.hit("rename") {
		if r.d.after {
			r.replacement.CloseAtomicallyReplace()
		}
		return r.d.err()
	}
	return r.replacement.CloseAtomicallyReplace()
}

type faultyAppended struct {
	appended
	d *faulty
}

func (f *faultyAppended) Write(p []byte) (int, error) {
	if f.d.hit("journal write") {
		n, _ := f.appended.Write(p[:len(p)/2])
		return n, f.d.err()
	}
	return f.appended.Write(p)
}

func (f *faultyAppended) Sync() error {
	if f.d.hit("journal sync") {
		return f.d.err()
	}
	return f.appended.Sync()
}

func (f *faultyAppended) Truncate(size int64) error {
	if f.d.hit("truncate") {
		return f.d.err()
	}
	return f.appended.Truncate(size)
}

func (f *faultyAppended) Close() error {
	err := f.appended.Close()
	if f.d.hit("journal close") {
		return f.d.err()
	}
	return err
}
