package lineedit

// OnResize calls f when the terminal's size changes, until stop is called; it is
// for a program that draws its whole screen itself.
func OnResize(f func()) (stop func()) { return onResize(f) }

// OnStop calls f when the program is asked to stop, as Ctrl-Z does it, until end is
// called; f puts the terminal in order and calls Stopped.
func OnStop(f func()) (end func()) { return onStop(f) }

// StopJob asks the whole job to stop, as Ctrl-Z does where the terminal is not raw.
func StopJob() { stopJob() }

// Stopped stops the program and returns when it is let go on.
func Stopped() { stopUntilResumed() }
