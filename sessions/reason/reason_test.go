package reason

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

func TestOf(t *testing.T) {
	dir := t.TempDir()
	ring := filepath.Join(dir, "ring")
	os.Symlink("ring", ring)
	_, linked := filepath.EvalSymlinks(ring)
	_, missing := os.Open(filepath.Join(dir, "none"))
	for _, c := range []struct {
		err  error
		want string
	}{
		{&fs.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}, "the disk is full"},
		{fmt.Errorf("saving: %w", &os.LinkError{Op: "rename", Old: "a", New: "b", Err: syscall.EROFS}), "the disk can only be read"},
		{&fs.PathError{Op: "open", Path: "a", Err: fs.ErrPermission}, "it is not permitted"},
		{linked, round},
		{os.NewSyscallError("fsync", errors.New("no such luck")), "no such luck"},
		{errors.New("something else"), "something else"},
	} {
		if c.err == nil {
			t.Fatalf("no error for %q", c.want)
		}
		if got := Of(c.err); got != c.want {
			t.Errorf("%v: %q, want %q", c.err, got, c.want)
		}
	}
	if got := Of(missing); strings.Contains(got, "open") || strings.Contains(got, dir) {
		t.Errorf("of a missing file: %q", got)
	}
}

// Which cure fits goes by the kind of reason.
func TestKinds(t *testing.T) {
	for _, c := range []struct {
		err             error
		full, forbidden bool
	}{
		{&fs.PathError{Op: "write", Path: "a", Err: syscall.ENOSPC}, true, false},
		{syscall.EDQUOT, true, false},
		{&fs.PathError{Op: "open", Path: "a", Err: syscall.EACCES}, false, true},
		{syscall.EROFS, false, true},
		{syscall.EIO, false, false},
	} {
		if Full(c.err) != c.full || Forbidden(c.err) != c.forbidden {
			t.Errorf("%v: full %v, forbidden %v", c.err, Full(c.err), Forbidden(c.err))
		}
	}
}
