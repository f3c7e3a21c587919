//go:build unix

package library

import (
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A named pipe must not make the program wait for somebody to write into it.
func TestPipe(t *testing.T) {
	_, beside := house(t)
	if err := syscall.Mkfifo(filepath.Join(beside, "pipe.sums"), 0o600); err != nil {
		t.Skip(err)
	}
	done := make(chan error, 1)
	go func() { _, err := At(beside).Sheet("pipe.sums", true); done <- err }()
	select {
	case err := <-done:
		wantDiag(t, err, "is not a file", "")
	case <-time.After(5 * time.Second):
		t.Fatal("hangs on a named pipe")
	}
}
