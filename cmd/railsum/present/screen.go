package present

import (
	"fmt"
	"io"
	"strings"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/term"

	"railsum/cmd/railsum/show"
)

// What a terminal is told: its other screen, the cursor, and that it marks what is
// pasted.
const (
	enterScreen = "\x1b[?1049h\x1b[?25l\x1b[?2004h"
	leaveScreen = "\x1b[?2004l\x1b[?25h\x1b[?1049l"
	showCursor  = "\x1b[?25h"
	hideCursor  = "\x1b[?25l"
)

// screen is the terminal, all of it.
type screen struct {
	w     io.Writer
	fd    int
	state *term.State // the mode to return to, nil while it is not ours
}

func (s *screen) enter() error {
	state, err := term.MakeRaw(s.fd)
	if err != nil {
		return err
	}
	s.state = state
	_, err = io.WriteString(s.w, enterScreen)
	return err
}

// leave puts the terminal in order, however often it is called.
func (s *screen) leave() {
	if s.state == nil {
		return
	}
	io.WriteString(s.w, leaveScreen)
	term.Restore(s.fd, s.state)
	s.state = nil
}

// size is the terminal's, that of the usual one if it does not say.
func (s *screen) size() (wide, high int) {
	wide, high, err := term.GetSize(s.fd)
	if err != nil || wide <= 0 || high <= 0 {
		return 80, 24
	}
	return wide, high
}

// put writes a whole screen; rows beyond it are not written. A cursor below 0 is
// not shown.
func (s *screen) put(rows []string, wide, high, cursor int) {
	var b strings.Builder
	b.WriteString(hideCursor + "\x1b[H")
	for i := range high {
		if i > 0 {
			b.WriteString("\r\n")
		}
		b.WriteString("\x1b[K") // first: behind a full row it takes its last letter
		if i < len(rows) {
			b.WriteString(ansi.Truncate(rows[i], wide, ""))
		}
	}
	if cursor >= 0 {
		fmt.Fprintf(&b, "\x1b[%d;%dH%s", high, min(cursor, wide-1)+1, showCursor)
	}
	io.WriteString(s.w, b.String())
}

// page is a part of a step as a whole screen.
func page(title, at, heading string, body []string, keys string, wide, high int) []string {
	rows := []string{spread(title, at, wide)}
	if heading != "" {
		heading = "  " + ansi.Truncate(heading, wide-4, "...")
	}
	if len(body) <= high-frame-2 {
		rows = append(rows, "", heading, "")
	} else {
		rows = append(rows, heading)
	}
	for _, row := range body {
		rows = append(rows, strings.TrimRight("  "+row, " "))
	}
	for len(rows) < high-1 {
		rows = append(rows, "")
	}
	return append(rows, keys)
}

// spread puts one text at the left and one at the right of a row.
func spread(left, right string, wide int) string {
	room := wide - ansi.StringWidth(right) - 2
	left = ansi.Truncate(left, room, "...")
	return left + strings.Repeat(" ", max(1, wide-ansi.StringWidth(left)-ansi.StringWidth(right))) + right
}

// options are those for what stands on a step of a screen so wide.
func options(o show.Options, wide int) show.Options {
	o.Width = min(wide-4, mostWide)
	return o
}
