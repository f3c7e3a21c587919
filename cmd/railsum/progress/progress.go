// Package progress shows that a long piece of work goes on, and how far it is.
//
// Model: one row on standard error, drawn over itself now and then and taken
// away at the end. It has the share of the work that is done or, while nobody
// tells that, the seconds that have gone by. Nothing shows of what is quick, and
// nothing at all where standard error is no terminal or one that cannot go back
// in a row.
//
// Non-goals: more than one piece of work at a time, an estimate of the time
// left, moving the cursor off its row.
package progress

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"

	"railsum/cmd/railsum/show"
)

const (
	patience = 500 * time.Millisecond // when a row begins to show
	redraw   = 100 * time.Millisecond // how often it is drawn anew
	stale    = time.Second            // how long a share that was told counts
)

// Row is the row of one writer. The zero Row shows nothing.
type Row struct {
	w   io.Writer // nil: nobody is looking
	now func() time.Time

	mu          sync.Mutex
	what        string
	share       float64
	began, told time.Time
	width       int // of what stands on the row

	stop, done chan struct{} // of the goroutine that draws
}

// On makes the row for a writer.
func On(w io.Writer, getenv func(string) string) *Row {
	r := &Row{now: time.Now}
	if show.IsTerminal(w) && getenv("TERM") != "dumb" {
		r.w = w
	}
	return r
}

// Begin says what is being worked on from now; End ends it.
func (r *Row) Begin(format string, args ...any) {
	r.End()
	if r.w == nil {
		return
	}
	r.begin(show.Safe(fmt.Sprintf(format, args...)))
	r.stop, r.done = make(chan struct{}), make(chan struct{})
	go r.keepDrawing()
}

func (r *Row) begin(what string) {
	r.what, r.began, r.told = what, r.now(), time.Time{}
}

func (r *Row) keepDrawing() {
	defer close(r.done)
	tick := time.NewTicker(redraw)
	defer tick.Stop()
	for {
		select {
		case <-tick.C:
			r.draw()
		case <-r.stop:
			return
		}
	}
}

// Tell says which share of the work is done.
func (r *Row) Tell(share float64) {
	if r.w == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.share, r.told = min(max(share, 0), 1), r.now()
}

func (r *Row) draw() {
	r.mu.Lock()
	defer r.mu.Unlock()
	now := r.now()
	if now.Sub(r.began) < patience {
		return
	}
	text := fmt.Sprintf("%s: %d s", r.what, int(now.Sub(r.began).Seconds()))
	if now.Sub(r.told) < stale {
		text = fmt.Sprintf("%s: %d %%", r.what, int(100*r.share))
	}
	fmt.Fprintf(r.w, "\r%s%s", text, strings.Repeat(" ", max(0, r.width-len(text))))
	r.width = len(text)
}

// End takes the row away.
func (r *Row) End() {
	if r.stop != nil {
		close(r.stop)
		<-r.done
		r.stop = nil
	}
	if r.w != nil && r.width > 0 {
		fmt.Fprintf(r.w, "\r%s\r", strings.Repeat(" ", r.width))
	}
	r.width = 0
}
