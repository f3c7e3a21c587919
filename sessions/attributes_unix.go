//go:build unix

package sessions

import (
	"os"
	"syscall"

	"github.com/google/renameio/v2"
)

// unixReplacement is a file that takes over what the one it replaces has beside
// its text.
type unixReplacement struct {
	*renameio.PendingFile
	old string
}

// Adopt gives the new file the group, the owner, the permissions and the
// extended attributes of the old one, as far as the system lets us. What it does
// not is named. A group that cannot be kept gets no more than everybody.
func (r *unixReplacement) Adopt() (lost []string) {
	was, err := os.Lstat(r.old)
	if err != nil || !was.Mode().IsRegular() {
		return nil // a file that is new
	}
	is, err := r.Stat()
	if err != nil {
		return nil
	}
	old, ok1 := was.Sys().(*syscall.Stat_t)
	now, ok2 := is.Sys().(*syscall.Stat_t)
	mode := was.Mode().Perm()
	if ok1 && ok2 {
		if old.Gid != now.Gid && r.Chown(-1, int(old.Gid)) != nil {
			lost = append(lost, "group")
			mode &^= (mode &^ (mode << 3)) & 0o070
		}
		if old.Uid != now.Uid && r.Chown(int(old.Uid), -1) != nil {
			lost = append(lost, "owner")
		}
	}
	// After the owner, whose change may take permissions away.
	if err := r.Chmod(mode); err != nil && is.Mode().Perm() != mode {
		lost = append(lost, "permissions")
	}
	if !copyAttributes(r.old, r.File) {
		lost = append(lost, "extended attributes")
	}
	return lost
}
