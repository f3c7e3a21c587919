//go:build !unix

package lineedit

import "github.com/chzyer/readline"

// onResize calls f when the terminal's size changes.
func onResize(f func()) (stop func()) {
	readline.DefaultOnWidthChanged(f)
	return func() {}
}

// stopUntilResumed does nothing where a job cannot be stopped.
func stopUntilResumed() {}

func inputWaits(int) bool { return false }
