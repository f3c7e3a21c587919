package sessions

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"

	"github.com/natefinch/atomic"
)

// openStays says that a file cannot be taken away while it is open.
const openStays = true

// windowsReplacement is a file beside the one that it will replace.
type windowsReplacement struct {
	*os.File
	name string
	done bool
}

func newReplacement(name string) (replacement, error) {
	temp := filepath.Join(filepath.Dir(name), fmt.Sprintf(".%s%019d", filepath.Base(name), rand.Int64()))
	f, err := os.OpenFile(temp, os.O_RDWR|os.O_CREATE|os.O_EXCL, freshMode)
	if err != nil {
		return nil, err
	}
	return &windowsReplacement{File: f, name: name}, nil
}

// Adopt has nothing to do: whose it is, and who may do what with it, comes from
// the folder.
func (r *windowsReplacement) Adopt() []string { return nil }

func (r *windowsReplacement) CloseAtomicallyReplace() error {
	if err := r.Sync(); err != nil {
		return err
	}
	if err := r.Close(); err != nil {
		return err
	}
	// Nothing takes the place of what may only be read; who asked for that was told.
	if info, err := os.Stat(r.name); err == nil && info.Mode()&0o200 == 0 && os.Chmod(r.name, 0o666) == nil {
		defer os.Chmod(r.name, info.Mode())
	}
	if err := atomic.ReplaceFile(r.Name(), r.name); err != nil {
		return err
	}
	r.done = true
	return nil
}

func (r *windowsReplacement) Cleanup() error {
	if r.done {
		return nil
	}
	r.Close() // may be closed already
	return os.Remove(r.Name())
}

// SyncDir has nothing to do: the replacing is written through.
func (realDisk) SyncDir(string) error { return nil }
