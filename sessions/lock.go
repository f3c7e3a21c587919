package sessions

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode"

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

var (
	// errHeld says that somebody else holds a lock.
	errHeld = errors.New("held by another")

	// errForeign says that what lies in a lock's place is none of ours.
	errForeign = errors.New("it is no lock of railsum's")
)

// takeLock takes a lock without waiting. The file it lies on is for all who may
// see the folder, so that the next user can find it taken. The folder may be a
// stranger's: what lies there already is looked at before anything is done to
// it, and is left alone unless it is a lock of ours.
func takeLock(path string) (*lock, error) {
	for range 10 {
		known, err := look(path)
		if err != nil {
			return nil, err
		}
		l := flock.New(path, flock.SetFlag(os.O_CREATE|asItStands), flock.SetPermissions(0o644))
		ok, err := l.TryLock()
		if err != nil {
			return nil, err
		}
		if !ok {
			return nil, errHeld
		}
		// Its last holder may have taken the file away between our opening and
		// our locking it: then we hold something that nobody else will find. And
		// what has come since we looked, and is not empty, we do not know.
		mine, err := l.Stat()
		there, err2 := os.Lstat(path)
		if err == nil && err2 == nil && os.SameFile(mine, there) && mine.Mode().IsRegular() &&
			(mine.Size() == 0 || known != nil && os.SameFile(mine, known)) {
			writeOwner(path, mine)
			return &lock{l}, nil
		}
		l.Unlock()
	}
	return nil, errHeld
}

// look looks at what lies in a lock's place: nil if there is nothing, or nothing
// that can be seen, and errForeign if it is no lock of ours.
func look(path string) (fs.FileInfo, error) {
	f, info, err := openOrdinary(path, os.O_RDONLY)
	switch {
	case errors.Is(err, errNotOrdinary):
		return nil, errForeign
	case err != nil:
		return nil, nil
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostOwner+1))
	switch {
	case err != nil:
		return nil, nil // as where a locked file cannot be read
	case namesOf(info) > 1:
		return nil, errForeign
	case len(text) > 0:
		if _, ok := ownerIn(text); !ok {
			return nil, errForeign
		}
	}
	return info, nil
}

// release takes a lock's file away and gives it back, in this order: whoever
// takes the lock later makes a new file, whoever holds the old one open notices.
// Where no file can be taken away that is open the order is the other one, and there
// it stays if somebody else has opened it.
func (l *lock) release() {
	if l == nil || l.held == nil {
		return
	}
	mine, err := l.held.Stat()
	there, err2 := os.Lstat(l.held.Path())
	same := err == nil && err2 == nil && os.SameFile(mine, there)
	if same && !openStays {
		os.Remove(l.held.Path())
	}
	l.held.Unlock()
	if same && openStays {
		os.Remove(l.held.Path())
	}
	l.held = nil
}

// mostOwner is how many bytes the word of an owner has at most.
const mostOwner = 300

// writeOwner leaves word of who holds a lock, in the very file that is locked.
// It is for messages only, so a failure is none.
func writeOwner(path string, mine fs.FileInfo) {
	f, info, err := openOrdinary(path, os.O_WRONLY)
	if err != nil {
		return
	}
	defer f.Close()
	host, _ := os.Hostname()
	word := fmt.Sprintf("%d %s\n", os.Getpid(), host)
	if _, ok := ownerIn([]byte(word)); ok && os.SameFile(info, mine) && f.Truncate(0) == nil {
		f.WriteString(word)
	}
}

func readOwner(path string) Owner {
	text, err := realDisk{}.Read(path, mostOwner+1)
	if err != nil {
		return Owner{}
	}
	who, _ := ownerIn(text)
	return who
}

// ownerIn reads the word of an owner; ok is false if it is anything else.
func ownerIn(text []byte) (who Owner, ok bool) {
	word, whole := strings.CutSuffix(string(text), "\n")
	pid, host, two := strings.Cut(word, " ")
	n, err := strconv.Atoi(pid)
	strange := func(r rune) bool { return !unicode.IsGraphic(r) || unicode.IsSpace(r) }
	if !whole || !two || len(text) > mostOwner || err != nil || n < 1 || strings.ContainsFunc(host, strange) {
		return Owner{}, false
	}
	return Owner{PID: n, Host: host}, true
}

// lockPath is the file that the lock of a notebook lies on. It cannot be the
// notebook itself: replaced by another file, it would take its lock away.
func lockPath(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock")
}
