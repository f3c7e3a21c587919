package sessions

import (
	"bytes"
	"os"
	"strings"

	"golang.org/x/sys/unix"
)

// copyAttributes gives a file the extended attributes of another, access control
// lists included; it reports whether it has all of them.
func copyAttributes(from string, to *os.File) bool {
	all := true
	for _, name := range attributes(from) {
		value, err := attribute(from, name)
		if err != nil {
			all = false
			continue
		}
		// A label of the system's own policy is set by the system; it is no loss
		// if the new file has it already.
		if err := unix.Fsetxattr(int(to.Fd()), name, value, 0); err != nil && !strings.HasPrefix(name, "security.") {
			all = false
		}
	}
	return all
}

// attributes lists the names; a file system without any has none.
func attributes(path string) []string {
	n, err := unix.Llistxattr(path, nil)
	if err != nil || n == 0 {
		return nil
	}
	b := make([]byte, n)
	if n, err = unix.Llistxattr(path, b); err != nil {
		return nil
	}
	var names []string
	for name := range bytes.SplitSeq(bytes.TrimRight(b[:n], "\x00"), []byte{0}) {
		names = append(names, string(name))
	}
	return names
}

func attribute(path, name string) ([]byte, error) {
	n, err := unix.Lgetxattr(path, name, nil)
	if err != nil || n == 0 {
		return nil, err
	}
	b := make([]byte, n)
	n, err = unix.Lgetxattr(path, name, b)
	return b[:max(n, 0)], err
}
