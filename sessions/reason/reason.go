// Package reason gives the reasons that the system has for refusing something
// with a file, in words that need no knowledge of the system.
//
// Non-goals: saying what was refused, and what to do about it; the caller knows.
package reason

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"syscall"
)

// Of gives the reason for an error, without a capital or a full stop: "the disk
// is full". Of what it does not know it gives the system's own words, less the
// names of calls and files.
func Of(err error) string {
	for _, r := range reasons {
		if errors.Is(err, r.of) {
			return r.words
		}
	}
	var p *fs.PathError
	var l *os.LinkError
	var s *os.SyscallError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	case errors.As(err, &s):
		err = s.Err
	}
	if strings.HasSuffix(err.Error(), ": too many links") { // filepath.EvalSymlinks has no error to ask for
		return round
	}
	return err.Error()
}

// Full reports whether there is no more room, so that making some is a cure.
func Full(err error) bool { return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) }

// Forbidden reports whether it is not permitted, or not here: another place, or
// another permission, is the cure.
func Forbidden(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

const round = "its links lead to nothing but one another"

var reasons = []struct {
	of    error
	words string
}{
	{fs.ErrPermission, "it is not permitted"},
	{syscall.ENOSPC, "the disk is full"},
	{syscall.EDQUOT, "there is no more room for you on the disk"},
	{syscall.EROFS, "the disk can only be read"},
	{syscall.EFBIG, "it is larger than a file may become here"},
	{syscall.EIO, "the disk does not work as it should"},
	{syscall.ENOTDIR, "what should be a folder is a file"},
	{syscall.EISDIR, "it is a folder"},
	{syscall.ENAMETOOLONG, "the name is too long"},
	{syscall.ELOOP, round},
	{syscall.EMFILE, "too many files are open"},
	{syscall.ENFILE, "too many files are open"},
}
