package desk

import (
	"context"
	"os"
	"os/signal"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"railsum/cmd/railsum/desk/lineedit"
)

// signals takes care of what comes from outside while the desk is open, and while
// it is being opened. At the prompt the terminal gives Ctrl-C as a key; during work it is a signal, which
// stops the work. A signal to end, or a lost terminal, closes the editor, so
// that the desk leaves by its usual way; the journal has every line by then.
type signals struct {
	ed      lineedit.Editor
	ch      chan os.Signal
	done    chan struct{}
	once    sync.Once
	working atomic.Bool
	halted  atomic.Bool  // the work at hand shall stop
	asked   atomic.Int64 // when somebody asked for that, in milliseconds
	ending  atomic.Int32
	cancel  atomic.Pointer[context.CancelFunc] // of the study at hand
}

func watch(ed lineedit.Editor) *signals {
	s := &signals{ed: ed, ch: make(chan os.Signal, 4), done: make(chan struct{})}
	signal.Notify(s.ch, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP, syscall.SIGQUIT)
	go s.run()
	return s
}

func (s *signals) run() {
	for {
		select {
		case sig := <-s.ch:
			s.take(sig)
		case <-s.done:
			return
		}
	}
}

func (s *signals) take(sig os.Signal) {
	number := int32(1)
	if n, ok := sig.(syscall.Signal); ok {
		number = int32(n)
	}
	switch {
	case sig != os.Interrupt || !s.ed.Interactive():
		// a signal to end; so is an interrupt where nobody sits to go on
	case !s.working.Load():
		return // from another program: the key does not come this way
	case !s.deaf():
		s.halt()
		return
	}
	s.halt()
	s.ending.CompareAndSwap(0, 128+number)
	s.ed.Close()
	if sig == os.Interrupt && s.ed.Interactive() || !s.ed.Edits() && !s.working.Load() {
		// Either the work does not heed the first interrupt, or the program waits
		// in a read that nothing can wake. The terminal is in order, and the
		// journal is whole.
		os.Exit(int(128 + number))
	}
	go s.insist()
}

// insist ends the program if it has not left by its usual way after a while:
// not all work can be stopped.
func (s *signals) insist() {
	select {
	case <-s.done:
	case <-time.After(s.patience()):
		os.Exit(s.code())
	}
}

// halt stops the work at hand.
func (s *signals) halt() {
	s.halted.Store(true)
	if cancel := s.cancel.Load(); cancel != nil {
		(*cancel)()
	}
}

// during carries a study out in a context that an interrupt ends. Such an
// interrupt is used up by it: what comes after goes on.
func (s *signals) during(within context.Context, f func(context.Context) error) error {
	ctx, cancel := context.WithCancel(within)
	defer cancel()
	s.cancel.Store(&cancel)
	defer s.cancel.Store(nil)
	if s.stopped() {
		cancel()
	}
	err := f(ctx)
	if err != nil {
		s.halted.Store(s.ending.Load() != 0)
	}
	return err
}

// deaf reports whether the work was told to stop a while ago and still goes on.
func (s *signals) deaf() bool {
	now := time.Now().UnixMilli()
	if s.halted.Load() {
		return now-s.asked.Load() > patience.Milliseconds()
	}
	s.asked.Store(now)
	return false
}

// patience is how long a signal to end waits: longer where a terminal is to be
// left in order.
func (s *signals) patience() time.Duration {
	if s.ed.Interactive() {
		return patience
	}
	return patience / 5
}

// patience is how long after one interrupt another one ends the program, and how
// long after a signal to end it may take to do so by itself.
const patience = time.Second

// work begins a stretch that an interrupt stops.
func (s *signals) work() {
	s.working.Store(true)
}

// rest ends it.
func (s *signals) rest() {
	s.working.Store(false)
	s.halted.Store(s.ending.Load() != 0)
}

// stopped reports whether the work at hand shall stop.
func (s *signals) stopped() bool { return s.halted.Load() }

// left is the exit code of a desk that was told to stop before it was open: there
// is nothing yet to stay for.
func (s *signals) left() int {
	if code := s.code(); code != 0 {
		return code
	}
	return 128 + int(syscall.SIGINT)
}

// code is the exit code that a signal asks for, 0 if none does.
func (s *signals) code() int { return int(s.ending.Load()) }

// stop gives the signals back.
func (s *signals) stop() {
	s.once.Do(func() {
		signal.Stop(s.ch)
		close(s.done)
	})
}
