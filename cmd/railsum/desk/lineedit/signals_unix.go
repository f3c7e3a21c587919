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

// onStop calls f when the program is asked to stop, as Ctrl-Z does it, until end
// is called. Where that was ignored before the program began it still is.
func onStop(f func()) (end func()) {
	if signal.Ignored(syscall.SIGTSTP) {
		return func() {}
	}
	ch := make(chan os.Signal, 1)
	signal.Notify(ch, syscall.SIGTSTP)
	go func() {
		for range ch {
			f()
		}
	}()
	return func() { signal.Stop(ch); close(ch) }
}

// stopJob asks the whole job to stop, as the terminal would have done for Ctrl-Z,
// this program with it.
func stopJob() { syscall.Kill(0, syscall.SIGTSTP) }

// stopUntilResumed stops the program and returns when it is let go on. One that
// nothing could resume is not stopped by the system, hence the limit to the wait.
func stopUntilResumed() {
	resumed := make(chan os.Signal, 1)
	signal.Notify(resumed, syscall.SIGCONT)
	defer signal.Stop(resumed)
	// SIGTSTP is taken, and Go does not give back what it once did by itself;
	// this one does the same.
	if syscall.Kill(os.Getpid(), syscall.SIGTTOU) != nil {
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
