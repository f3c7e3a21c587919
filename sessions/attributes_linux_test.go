package sessions

import (
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"
)

// A saved file has the group, the owner, the permissions and the extended
// attributes of the one before.
func TestSaveKeepsAttributes(t *testing.T) {
	p := newPlace(t)
	path := p.write(t, "a.sums", "a = 1\n")
	if os.Geteuid() == 0 {
		if err := os.Chown(path, 4321, 1234); err != nil {
			t.Fatal(err)
		}
	}
	os.Chmod(path, 0o660)
	noted := unix.Setxattr(path, "user.note", []byte("of the club"), 0) == nil
	// The owner reads and writes, user 1000 reads, the group nothing (acl(5),
	// linux/posix_acl_xattr.h).
	acl := []byte{2, 0, 0, 0,
		1, 0, 6, 0, 255, 255, 255, 255, 2, 0, 4, 0, 0xe8, 3, 0, 0, 4, 0, 0, 0, 255, 255, 255, 255,
		16, 0, 4, 0, 255, 255, 255, 255, 32, 0, 0, 0, 255, 255, 255, 255}
	listed := unix.Setxattr(path, "system.posix_acl_access", acl, 0) == nil
	if !noted && !listed {
		t.Log("no extended attributes on this file system")
	}
	before, _ := os.Stat(path)
	f, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Save([]byte("a = 2\n"), false); err != nil || len(f.Lost) > 0 {
		t.Fatalf("%v, lost %q", err, f.Lost)
	}
	after, _ := os.Stat(path)
	was, is := before.Sys().(*syscall.Stat_t), after.Sys().(*syscall.Stat_t)
	if was.Uid != is.Uid || was.Gid != is.Gid || before.Mode() != after.Mode() {
		t.Errorf("owner %d, group %d, %v became owner %d, group %d, %v", was.Uid, was.Gid, before.Mode(), is.Uid, is.Gid, after.Mode())
	}
	if note, _ := attribute(path, "user.note"); noted && string(note) != "of the club" {
		t.Errorf("the note is %q", note)
	}
	if list, _ := attribute(path, "system.posix_acl_access"); listed && !slices.Equal(list, acl) {
		t.Errorf("the access list is % x", list)
	}
	t.Logf("attributes: %v, access lists: %v", noted, listed)
}

// What cannot be kept is named, and a group that is another has no more than
// everybody.
func TestSaveNamesWhatItLoses(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can make a stranger's file")
	}
	p := newPlace(t)
	os.Chmod(filepath.Dir(p.dir), 0o777)
	os.Chmod(p.dir, 0o777)
	path := p.write(t, "a.sums", "a = 1\n")
	os.Chown(path, 4321, 1234)
	os.Chmod(path, 0o666&^0o002)
	unprivileged(t, func() {
		f, err := Load(path)
		if err != nil {
			t.Error(err)
			return
		}
		if err := f.Save([]byte("a = 2\n"), false); err != nil || !slices.Equal(f.Lost, []string{"group", "owner"}) {
			t.Errorf("%v, lost %q", err, f.Lost)
		}
	})
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o644 {
		t.Errorf("it has mode %v", info.Mode())
	}
}
