// Package picture draws what a sheet's picture lines say: a strip along an axis, a circuit of two conductors, a plan,
// and the limits that rules set. It knows nothing of the trade and nothing of notebooks: it is given rows of words and
// numbers and how a number is written, and gives back a drawing as SVG for a page, as lines of text for a terminal, and
// as a sentence for those who listen.
//
// A drawing is always whole: a text that finds no place beside what it names goes into a key below, no text stands on
// another, and none runs out of the drawing. Widths of letters come from package typeface.
package picture

import (
	"fmt"
	"math"
	"strings"
)

// A Drawing is one picture, whatever its kind.
type Drawing interface {
	// Caption is the line above or below the drawing.
	Caption() string
	// Sentence says in words all that the drawing shows.
	Sentence() string
	// SVG is the drawing at a width in CSS pixels. id is part of every id in it, and must differ between the drawings
	// of a page.
	SVG(width int, id string) string
	// Text is the drawing as lines of at most width columns and, but for the units of its values, of ASCII.
	Text(width int) []string
}

// An Axis says how numbers along it are written: all in one unit.
type Axis struct {
	Unit   string               // as shown; empty for plain numbers
	Figure func(float64) string // the figure alone, of a value in SI
}

// value is a number with its unit.
func (a Axis) value(v float64) string {
	return strings.TrimSpace(a.Figure(v) + " " + a.Unit)
}

// between is a stretch of the axis, its unit written once.
func (a Axis) between(from, to float64) string {
	return a.Figure(from) + " to " + a.value(to)
}

// caption is a title with the unit that an axis is in.
func (a Axis) caption(title string) string {
	switch {
	case a.Unit == "":
		return title
	case title == "":
		return a.Unit
	}
	return title + ", " + a.Unit
}

// Look says how a row of a strip or plan is drawn.
type Look string

// Looks of a strip: Run to Mark; of a plan: Rail to Body, Bad and Measure.
const (
	Run     Look = "run"
	Good    Look = "good"
	Bad     Look = "bad"
	Gap     Look = "gap"
	Measure Look = "span" // a dimension line
	Vehicle Look = "vehicle"
	Mark    Look = "mark"
	Rail    Look = "rail"
	Thin    Look = "thin"
	Body    Look = "body"
)

// most is how many rows a drawing has; those beyond are counted in its key.
const most = 12

// more says how many rows a drawing leaves out.
func more(n int) string {
	return fmt.Sprintf("and %d more", n)
}

// finite tells whether all of values can be drawn.
func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// sentence puts a caption before what it is about, and a full stop behind.
func sentence(caption string, parts []string) string {
	s := strings.Join(parts, "; ")
	if caption != "" {
		s = strings.TrimRight(caption, ".:") + ": " + s
	}
	return upper(s) + "."
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// words joins what is not empty.
func words(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, ", ")
}
