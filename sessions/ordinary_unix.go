//go:build unix

package sessions

import (
	"io/fs"
	"syscall"
)

// asItStands has an opening follow no link and wait for no other end of a pipe.
const asItStands = syscall.O_NOFOLLOW | syscall.O_NONBLOCK

// namesOf is under how many names a file lies on its disk.
func namesOf(info fs.FileInfo) int {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int(s.Nlink)
	}
	return 1
}
