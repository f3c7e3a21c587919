package guide

import (
	"io"
	"strings"

	"github.com/clipperhouse/displaywidth"

	"railsum/cmd/railsum/show"
)

// writer writes lines, each made safe for a terminal and wrapped at its width,
// and keeps the first error, so that pages need not look for it.
type writer struct {
	p     *show.Printer
	tight bool // no empty row between blocks
	whole bool // a sheet's page has all there is, and not what fits a screen
}

// write makes a writer; one that is a Printer already knows its width.
func write(w io.Writer) *writer {
	p, ok := w.(*show.Printer)
	if !ok {
		p = show.New(w, show.Options{})
	}
	return &writer{p: p}
}

func (w *writer) err() error { return w.p.Err() }

func (w *writer) line(text string) { w.p.Hanging(text) }

// entry writes a name and what it means beside it, the names padded to a width.
func (w *writer) entry(name, meaning string, width int) { w.p.Entry(name, meaning, width+2) }

// block writes a heading and its lines, or nothing if there are none.
func (w *writer) block(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.gap()
	w.line(heading)
	for _, l := range lines {
		w.line("  " + l)
	}
}

func (w *writer) gap() {
	if !w.tight {
		w.line("")
	}
}

// rows is about how many rows lines take when they are wrapped.
func (w *writer) rows(lines []string) int {
	n := 0
	for _, l := range lines {
		n += 1 + (cells(l)+2)/max(1, w.p.Width-4)
	}
	return n
}

func safe(text string) string { return show.Safe(text) }

// cells is how many columns of a terminal a text takes.
func cells(text string) int { return displaywidth.String(text) }

func padded(text string, width int) string {
	text = safe(text)
	return text + strings.Repeat(" ", max(0, width-cells(text)))
}
