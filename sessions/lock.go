package sessions

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/gofrs/flock"
)

// Owner is who holds a lock, as far as is known.
type Owner struct {
	PID  int // 0 if not known
	Host string
}

func (o Owner) String() string {
	switch {
	case o.PID == 0:
		return ""
	case o.Host == "":
		return fmt.Sprintf("process %d", o.PID)
	}
	return fmt.Sprintf("process %d on %s", o.PID, o.Host)
}

// lock is a held lock. It ends with its process, however that ends.
type lock struct{ held *flock.Flock }

// errHeld says that somebody else holds a lock.
var errHeld = errors.New("held by another")

// takeLock takes a lock without waiting. The file it lies on is for all who may
// see the folder, so that the next user can find it taken.
func takeLock(path string) (*lock, error) {
	for range 10 {
		l := flock.New(path, flock.SetPermissions(0o644))
		ok, err := l.TryLock()
		if err != nil {
			return nil, err
		}
		if !ok {
			return nil, errHeld
		}
		// Its last holder may have taken the file away between our opening and
		// our locking it: then we hold something that nobody else will find.
		mine, err := l.Stat()
		there, err2 := os.Stat(path)
		if err == nil && err2 == nil && os.SameFile(mine, there) {
			writeOwner(path)
			return &lock{l}, nil
		}
		l.Unlock()
	}
	return nil, errHeld
}

// release gives a lock back and takes its file away, in this order: whoever
// takes the lock later makes a new file, whoever holds the old one open notices.
func (l *lock) release() {
	if l == nil || l.held == nil {
		return
	}
	os.Remove(l.held.Path())
	l.held.Unlock()
	l.held = nil
}

// writeOwner leaves word of who holds a lock. It is for messages only, so a
// failure is none.
func writeOwner(path string) {
	host, _ := os.Hostname()
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return
	}
	fmt.Fprintf(f, "%d %s\n", os.Getpid(), host)
	f.Close()
}

func readOwner(path string) Owner {
	text, err := realDisk{}.Read(path, 300)
	if err != nil {
		return Owner{}
	}
	pid, host, _ := strings.Cut(strings.TrimSpace(string(text)), " ")
	n, err := strconv.Atoi(pid)
	if err != nil || n < 1 {
		return Owner{}
	}
	return Owner{PID: n, Host: host}
}

// lockPath is the file that the lock of a notebook lies on. It cannot be the
// notebook itself: replaced by another file, it would take its lock away.
func lockPath(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock")
}
