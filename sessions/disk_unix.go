//go:build !windows

package sessions

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"
)

// openStays says that a file cannot be taken away while it is open.
const openStays = false

// newReplacement begins a file that will replace the named one. It lies in the
// same folder, since only within one can a name change hands at once.
func newReplacement(name string) (replacement, error) {
	f, err := renameio.NewPendingFile(name,
		renameio.WithTempDir(filepath.Dir(name)),
		renameio.WithPermissions(freshMode),
		renameio.WithExistingPermissions())
	if err != nil {
		return nil, err
	}
	return &unixReplacement{f, name}, nil
}

// SyncDir has the folder's names survive a power cut. Some file systems do not
// know how to and have no need of it.
func (realDisk) SyncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	if err := d.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, syscall.ENOTSUP) {
		return err
	}
	return nil
}
