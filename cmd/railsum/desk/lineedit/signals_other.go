//go:build !unix

package lineedit

import "github.com/chzyer/readline"

// onResize calls f when the terminal's size changes.
func onResize(f func()) (stop func()) {
	readline.DefaultOnWidthChanged(f)
	return func() {}
}

// Where a job cannot be stopped, nothing asks for it.
func onStop(func()) (end func()) { return func() {} }

func stopJob() {}

func stopUntilResumed() {}

func inputWaits(int) bool { return false }
