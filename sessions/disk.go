package sessions

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// disk is what this package does to files, so that a test can have any one of
// these calls fail.
type disk interface {
	Lstat(name string) (fs.FileInfo, error)
	Stat(name string) (fs.FileInfo, error)
	Resolve(name string) (string, error)
	Read(name string, most int64) ([]byte, error) // at most that many bytes
	Replace(name string) (replacement, error)
	Append(name string) (appended, error) // makes a new file for its owner alone
	SyncDir(dir string) error
	MakeDir(dir string) error // for its owner alone
	List(dir string) ([]fs.DirEntry, error)
	Remove(name string) error
	Rename(old, new string) error
}

// replacement is a file in the making that takes a name when it is whole.
type replacement interface {
	io.Writer
	Adopt() (lost []string)        // what the other has beside its text; names what it cannot
	CloseAtomicallyReplace() error // flushes it first
	Cleanup() error                // does nothing once it has been done
}

// appended is a file that is added to.
type appended interface {
	io.Writer
	Sync() error
	Truncate(size int64) error
	Close() error
}

// realDisk is the disk of the machine.
type realDisk struct{}

func (realDisk) Lstat(name string) (fs.FileInfo, error)   { return os.Lstat(name) }
func (realDisk) Stat(name string) (fs.FileInfo, error)    { return os.Stat(name) }
func (realDisk) Resolve(name string) (string, error)      { return filepath.EvalSymlinks(name) }
func (realDisk) MakeDir(dir string) error                 { return os.MkdirAll(dir, 0o700) }
func (realDisk) List(dir string) ([]fs.DirEntry, error)   { return os.ReadDir(dir) }
func (realDisk) Remove(name string) error                 { return os.Remove(name) }
func (realDisk) Rename(old, new string) error             { return os.Rename(old, new) }
func (realDisk) Replace(name string) (replacement, error) { return newReplacement(name) }

func (realDisk) Append(name string) (appended, error) {
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	return file{f}, nil
}

// file is written to at its end. Opened by the system as one that is added to, it could
// not be cut under Windows.
type file struct{ *os.File }

// Truncate cuts a file, and what comes is written there.
func (f file) Truncate(size int64) error {
	if err := f.File.Truncate(size); err != nil {
		return err
	}
	_, err := f.Seek(size, io.SeekStart)
	return err
}

func (realDisk) Read(name string, most int64) ([]byte, error) {
	f, _, err := openOrdinary(name, os.O_RDONLY)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}

// errNotOrdinary says that a name stands for no ordinary file: for a link, a
// pipe, a folder.
var errNotOrdinary = errors.New("it is not an ordinary file")

// openOrdinary opens what must be an ordinary file there already. It follows no
// link, and does not wait for the other end of a pipe.
func openOrdinary(name string, flag int) (*os.File, fs.FileInfo, error) {
	// Looked at first, since the mere opening of a device may do something, and
	// again afterwards, since it may be another by then.
	info, err := os.Lstat(name)
	if err != nil {
		return nil, nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, nil, &fs.PathError{Op: "open", Path: name, Err: errNotOrdinary}
	}
	f, err := os.OpenFile(name, flag|asItStands, 0)
	if err != nil {
		return nil, nil, err
	}
	if info, err = f.Stat(); err == nil && !info.Mode().IsRegular() {
		err = &fs.PathError{Op: "open", Path: name, Err: errNotOrdinary}
	}
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	return f, info, nil
}

// freshMode is what a new notebook's permissions are, less the user's mask.
const freshMode = 0o644
