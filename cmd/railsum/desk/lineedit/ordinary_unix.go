//go:build unix

package lineedit

import "syscall"

// asItStands has an opening follow no link and wait for no other end of a pipe.
const asItStands = syscall.O_NOFOLLOW | syscall.O_NONBLOCK
