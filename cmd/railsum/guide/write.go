package guide

import (
	"io"
	"strings"

	"github.com/clipperhouse/displaywidth"

	"railsum/cmd/railsum/show"
)

// writer writes lines, each made safe for a terminal, and keeps the first
// error, so that pages need not look for it.
type writer struct {
	w   io.Writer
	err error
}

func (w *writer) line(text string) {
	if w.err == nil {
		_, w.err = io.WriteString(w.w, safe(text)+"\n")
	}
}

// block writes a heading and its lines, or nothing if there are none.
func (w *writer) block(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.line("")
	w.line(heading)
	for _, l := range lines {
		w.line("  " + l)
	}
}

func safe(text string) string { return show.Safe(text) }

// cells is how many columns of a terminal a text takes.
func cells(text string) int { return displaywidth.String(text) }

func padded(text string, width int) string {
	text = safe(text)
	return text + strings.Repeat(" ", max(0, width-cells(text)))
}
