package sessions

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"unicode/utf8"

	"railsum/calc/syntax"
	"railsum/sessions/reason"
	"railsum/units/words"
)

// MaxBytes is the largest a notebook may be.
const MaxBytes = syntax.MaxBytes

// A File is a notebook on the disk as it was last read or written. It is not
// for concurrent use.
type File struct {
	Name   string // as it was asked for
	Path   string // in full, links resolved
	Text   []byte // what it held, nil if there was none; not to be changed
	Exists bool

	// Lost names what the last saving could not keep of the file it replaced:
	// its group, owner, permissions or extended attributes.
	Lost []string

	disk disk
	lock *lock
}

// Load reads a notebook. A file that is not there yet is no error: it has no
// Text, and saving makes it. What is damaged or from a newer railsum is refused
// and left as it is.
func Load(name string) (*File, error) { return load(realDisk{}, name) }

func load(d disk, name string) (*File, error) {
	path, exists, err := resolve(d, name)
	if err != nil {
		return nil, err
	}
	f := &File{Name: name, Path: path, Exists: exists, disk: d}
	if !exists {
		return f, nil
	}
	if f.Text, err = read(d, name, path); err != nil {
		return nil, err
	}
	if err := Sound(name, f.Text); err != nil {
		err.(*Error).Cure = "it was left as it is; " + err.(*Error).Cure
		return f, err
	}
	return f, nil
}

// resolve finds the file that a name leads to.
func resolve(d disk, name string) (path string, exists bool, err error) {
	abs, err := filepath.Abs(name)
	if err != nil {
		return "", false, cannotRead(name, err)
	}
	path, err = d.Resolve(abs)
	switch {
	case err == nil:
		return path, true, nil
	case !errors.Is(err, fs.ErrNotExist):
		return "", false, cannotRead(name, err)
	}
	if _, err := d.Lstat(abs); err == nil {
		return "", false, &Error{Kind: ErrRead, Path: name, Err: fs.ErrNotExist,
			Wrong: words.Say("%s is a link to a file that is not there", name).
				With("name the file itself")}
	}
	dir, err := d.Resolve(filepath.Dir(abs))
	if errors.Is(err, fs.ErrNotExist) {
		return "", false, &Error{Kind: ErrRead, Path: name, Err: err,
			Wrong: words.Say("there is no folder %s", filepath.Dir(name)).
				With("make it first")}
	} else if err != nil {
		return "", false, cannotRead(name, err)
	}
	if info, err := d.Stat(dir); err == nil && !info.IsDir() {
		return "", false, cannotRead(name, syscall.ENOTDIR) // which Windows does not say
	}
	return filepath.Join(dir, filepath.Base(abs)), false, nil
}

// read reads a file that must be an ordinary one: opening a named pipe would
// wait for its other end.
func read(d disk, name, path string) ([]byte, error) {
	info, err := d.Stat(path)
	switch {
	case err != nil:
		return nil, cannotRead(name, err)
	case info.IsDir():
		return nil, &Error{Kind: ErrRead, Path: name, Wrong: words.Say("%s is a folder", name)}
	case !info.Mode().IsRegular():
		return nil, &Error{Kind: ErrRead, Path: name, Wrong: words.Say("%s is not an ordinary file", name)}
	}
	text, err := d.Read(path, MaxBytes+1)
	switch {
	case err != nil:
		return nil, cannotRead(name, err)
	case len(text) > MaxBytes:
		return nil, &Error{Kind: ErrRead, Path: name, Wrong: words.Say("%s is larger than a notebook may be (1 MB)", name).
			With("split it in two")}
	}
	return text, nil
}

// Sound refuses a text that is none, and what a newer railsum has written. Name
// is what the text is called in messages.
func Sound(name string, text []byte) error {
	refused := func(kind error, wrong words.Wrong) error { return &Error{Kind: kind, Path: name, Wrong: wrong} }
	row := func(at int) int { return bytes.Count(text[:at], []byte("\n")) + 1 }
	if at := bytes.IndexByte(text, 0); at >= 0 {
		return refused(ErrDamaged, words.Say("%s is damaged: line %d holds a zero byte", name, row(at)).
			With("a copy of it may be whole"))
	}
	for at := 0; at < len(text); {
		r, size := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && size == 1 {
			return refused(ErrDamaged, words.Say("%s is not UTF-8 text from line %d on; it is damaged or in another encoding",
				name, row(at)).
				With("an editor can save it as UTF-8"))
		}
		at += size
	}
	if written := newer(text); written != "" {
		return refused(ErrNewer, words.Say("%s is written for railsum %s, and this is railsum %d", name, written,
			syntax.Edition).
			With("a newer railsum can read it"))
	}
	return nil
}

// newer gives the edition that a text is written for, as it is written, if that
// is a later one than ours, and nothing if it is not. What a later edition may put
// behind the number is not ours to know: the number alone decides.
func newer(text []byte) string {
	words := bytes.Fields(firstRow(text))
	if len(words) < 2 || string(words[0]) != "railsum" {
		return ""
	}
	written := words[1]
	end := 0
	for end < len(written) && '0' <= written[end] && written[end] <= '9' {
		end++
	}
	// Too long for a number is later than any of ours.
	if n, err := strconv.Atoi(string(written[:end])); end == 0 || err == nil && n <= syntax.Edition {
		return ""
	}
	for end < len(written) && (written[end] == '.' || '0' <= written[end] && written[end] <= '9') {
		end++
	}
	return string(written[:min(end, mostEdition)])
}

// mostEdition is how many characters of an edition are told.
const mostEdition = 40

// firstRow is the first row that is not blank, where a header would stand.
func firstRow(text []byte) []byte {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	for row := range bytes.Lines(text) {
		if row = bytes.TrimSpace(row); len(row) > 0 {
			return row
		}
	}
	return nil
}

// headed reports whether a text begins with a header.
func headed(text []byte) bool {
	l, _ := syntax.ParseLine(string(firstRow(text)))
	_, is := l.Node.(*syntax.Header)
	return is
}

// Lock keeps other desks away from the file until Unlock, or until the process
// ends. It fails with ErrLocked if somebody else has it, and with ErrUnsafe if
// something else lies in the lock's place. Where the folder does not let a lock
// be made there is none, and no error: nothing can be saved there either.
func (f *File) Lock() error {
	if f.lock != nil {
		return nil
	}
	path := lockPath(f.Path)
	l, err := takeLock(path)
	switch {
	case errors.Is(err, errHeld):
		who := readOwner(path)
		message := f.Name + " is open at another desk"
		if who.PID != 0 {
			message += " (" + who.String() + ")"
		}
		return &Error{Kind: ErrLocked, Path: f.Name, Owner: who,
			Wrong: words.Wrong{Message: message, Cure: "close it there, or work on a copy"}}
	case errors.Is(err, errForeign):
		return &Error{Kind: ErrUnsafe, Path: f.Name, Err: err,
			Wrong: words.Say("%s is not safe to open or to save: %s beside it is no lock of railsum's", f.Name,
				filepath.Base(path)).
				With("see what it is; once it is taken away, the notebook can be opened")}
	case err != nil:
		return nil
	}
	f.lock = l
	f.sweep()
	return nil
}

// Unlock lets other desks have the file.
func (f *File) Unlock() {
	f.lock.release()
	f.lock = nil
}

// sweep takes away what a saving that was killed has left behind. It is called
// with the lock held, when nobody is saving.
func (f *File) sweep() {
	dir, base := filepath.Split(f.Path)
	entries, err := f.disk.List(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if left, ok := strings.CutPrefix(e.Name(), "."+base); ok && e.Type().IsRegular() && isTempNumber(left) {
			f.disk.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

// isTempNumber tells the number that ends the name of a file in the making
// from one that a person would write: it is drawn from 2⁶³.
func isTempNumber(s string) bool {
	return len(s) >= 12 && len(s) <= 20 && strings.Trim(s, "0123456789") == ""
}

// Save replaces the file with a text as a whole. It fails with ErrChanged if
// the file no longer holds what was read, unless forced. After an error the
// file is the old one, or, where the message says so, the new one.
func (f *File) Save(text []byte, force bool) error {
	if len(text) > MaxBytes {
		return &Error{Kind: ErrWrite, Path: f.Name,
			Wrong: words.Say("%s would be larger than a notebook may be (1 MB)", f.Name).
				With("split it in two")}
	}
	// Locked for the moment at least; who opened the file has it locked already.
	if f.lock == nil {
		if err := f.Lock(); err != nil {
			return err
		}
		defer f.Unlock()
	}
	r, err := f.disk.Replace(f.Path)
	if err != nil {
		return cannotWrite(f.Name, err)
	}
	defer r.Cleanup()
	lost := r.Adopt() // before there is anything in it for others to read
	if _, err := r.Write(text); err != nil {
		return cannotWrite(f.Name, err)
	}
	if !force {
		if err := f.unchanged(text); err != nil {
			return err
		}
	}
	if err := r.CloseAtomicallyReplace(); err != nil {
		return cannotWrite(f.Name, err)
	}
	f.Text, f.Exists, f.Lost = bytes.Clone(text), true, lost
	if err := f.disk.SyncDir(filepath.Dir(f.Path)); err != nil {
		cure := "save again"
		if reason.Full(err) {
			cure = "make room and save again"
		}
		return &Error{Kind: ErrWrite, Path: f.Name, Err: err,
			Wrong: words.Say("%s is written, but the disk does not say that it is safe: %s", f.Name, reason.Of(err)).With(cure)}
	}
	return nil
}

// unchanged compares the file with what was read. One that holds the new text
// already is as good: a failure may have been reported after all was done.
func (f *File) unchanged(text []byte) error {
	info, err := f.disk.Lstat(f.Path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if f.Exists {
			return changed("%s has gone since it was read", f.Name)
		}
		return nil
	case err != nil:
		return cannotRead(f.Name, err)
	case !info.Mode().IsRegular():
		return changed("%s has become something else since it was read", f.Name)
	case info.Mode().Perm()&0o222 == 0:
		return &Error{Kind: ErrWrite, Path: f.Name, Err: fs.ErrPermission,
			Wrong: words.Say("%s is marked as not to be written", f.Name).
				With("save under another name, or let it be written to and save again")}
	}
	now, err := f.disk.Read(f.Path, MaxBytes+1)
	switch {
	case err != nil:
		return cannotRead(f.Name, err)
	case f.Exists && bytes.Equal(now, f.Text) || bytes.Equal(now, text):
		return nil
	case !f.Exists:
		return changed("%s did not exist before and does now", f.Name)
	}
	return changed("%s has been changed since it was read", f.Name)
}

// hash names a text.
func hash(text []byte) string {
	sum := sha256.Sum256(text)
	return fmt.Sprintf("%x", sum)
}

// isSame reports whether two paths are the same file.
func isSame(a, b string) bool {
	if a == b {
		return true
	}
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}
