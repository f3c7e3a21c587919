package sessions

import (
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
}

// replacement is a file in the making that takes a name when it is whole.
type replacement interface {
	io.Writer
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
func (realDisk) Replace(name string) (replacement, error) { return newReplacement(name) }

func (realDisk) Append(name string) (appended, error) {
	return os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL|os.O_APPEND, 0o600)
}

func (realDisk) Read(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}

// freshMode is what a new notebook's permissions are, less the user's mask.
const freshMode = 0o644
