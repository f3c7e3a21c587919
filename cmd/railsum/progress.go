package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"railsum/cmd/railsum/show"
)

// When progress begins to show, and how often it is drawn anew.
const (
	patience = 500 * time.Millisecond
	redraw   = 100 * time.Millisecond
)

// progress shows how far a long study is, in one row that is drawn over itself
// and taken away at the end. It shows nothing of what is quick.
type progress struct {
	w           io.Writer // nil: nobody is looking
	now         func() time.Time
	what        string
	began, last time.Time
	width       int // of what stands on the row
}

// progress is for standard error if that is a terminal; what goes to a file or
// a pipe stays clean.
func (a *app) progress() *progress {
	p := &progress{now: time.Now}
	if show.IsTerminal(a.world.stderr) && a.getenv("TERM") != "dumb" {
		p.w = a.world.stderr
	}
	return p
}

// begin says what is being worked on from now.
func (p *progress) begin(format string, args ...any) {
	p.end()
	p.what, p.began = show.Safe(fmt.Sprintf(format, args...)), p.now()
	p.last = time.Time{}
}

// tell says which share of the work is done.
func (p *progress) tell(share float64) {
	if p.w == nil {
		return
	}
	now := p.now()
	if now.Sub(p.began) < patience || now.Sub(p.last) < redraw {
		return
	}
	p.last = now
	text := fmt.Sprintf("%s: %d %%", p.what, int(100*min(max(share, 0), 1)))
	fmt.Fprintf(p.w, "\r%s%s", text, strings.Repeat(" ", max(0, p.width-len(text))))
	p.width = len(text)
}

// end takes the row away.
func (p *progress) end() {
	if p.w != nil && p.width > 0 {
		fmt.Fprintf(p.w, "\r%s\r", strings.Repeat(" ", p.width))
	}
	p.width = 0
}
