//go:build unix

package lineedit

import (
	"os"
	"os/signal"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// onResize calls f when the terminal's size changes, until stop is called.
func onResize(f func()) (stop func()) {
	ch := make(chan os.Signal, 1)
	signal.Notify(ch, syscall.SIGWINCH)
	go func() {
		for range ch {
			f()
		}
	}()
	return func() { signal.Stop(ch); close(ch) }
}

// stopUntilResumed stops the whole job, as the terminal would have done for
// Ctrl-Z, and returns when it is let go on. A job that nothing could resume is
// not stopped by the system, hence the limit to the wait.
func stopUntilResumed() {
	resumed := make(chan os.Signal, 1)
	signal.Notify(resumed, syscall.SIGCONT)
	defer signal.Stop(resumed)
	if syscall.Kill(0, syscall.SIGTSTP) != nil {
		return
	}
	select {
	case <-resumed:
	case <-time.After(300 * time.Millisecond):
	}
}

// inputWaits reports whether a read would not have to wait; it gives the last
// keys of a paste a moment to arrive.
func inputWaits(fd int) bool {
	n, err := unix.Poll([]unix.PollFd{{Fd: int32(fd), Events: unix.POLLIN}}, 20)
	return err == nil && n > 0
}
