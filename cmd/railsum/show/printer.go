package show

import (
	"fmt"
	"io"
	"strings"

	"github.com/clipperhouse/displaywidth"
	"github.com/fatih/color"

	"railsum/calc/answer"
)

// standIn is how far an answer stands in from its line.
const standIn = "    "

// A Printer writes answers to one writer. The first error of the writer is
// kept and everything after it is dropped.
type Printer struct {
	Options

	// SourcesLater leaves the sources of a working to SheetNotes.
	SourcesLater bool

	w      io.Writer
	err    error
	indent string
	rows   int // written so far

	good, warn, bad, none, head, faint *color.Color
}

// New makes a Printer for a writer.
func New(w io.Writer, o Options) *Printer {
	if o.Width <= 0 {
		o.Width = usualWidth
	}
	p := &Printer{Options: o, w: w, indent: standIn}
	v := verdictColours(o.Rich)
	p.good, p.warn, p.bad, p.none = p.colour(v.good...), p.colour(v.warn...), p.colour(v.bad...), p.colour(v.none...)
	p.head = p.colour(color.Bold)
	p.faint = p.colour(color.Faint)
	return p
}

// AtMargin is a Printer for the same writer whose answers are not indented,
// for where no line stands above them.
func (p *Printer) AtMargin() *Printer {
	q := *p
	q.w, q.indent = p, ""
	return &q
}

// palette is how the words of verdicts are painted.
type palette struct{ good, warn, bad, none []color.Attribute }

// verdictColours are bold and stand out from black and from white alike: of 16
// colours few do in every palette, of 256 there are enough. TestContrast computes
// it.
func verdictColours(rich bool) palette {
	if !rich {
		return palette{
			good: []color.Attribute{color.FgHiBlue, color.Bold}, warn: []color.Attribute{color.FgMagenta, color.Bold},
			bad: []color.Attribute{color.FgHiRed, color.Bold}, none: []color.Attribute{color.Bold},
		}
	}
	of := func(n color.Attribute) []color.Attribute { return []color.Attribute{38, 5, n, color.Bold} }
	return palette{good: of(29), warn: of(131), bad: of(163), none: of(98)}
}

// colour is decided for this writer alone, whatever the library found out
// about standard output.
func (p *Printer) colour(attributes ...color.Attribute) *color.Color {
	c := color.New(attributes...)
	if p.Colour {
		c.EnableColor()
	} else {
		c.DisableColor()
	}
	return c
}

// Err is the first error of the writer.
func (p *Printer) Err() error { return p.err }

// Write passes text on as it is, but for signs that the writer does not take; it is
// for text of the program's own.
func (p *Printer) Write(b []byte) (int, error) {
	if p.err != nil {
		return 0, p.err
	}
	text := b
	if p.ASCII {
		text = []byte(inASCII.Replace(string(b)))
	}
	if _, p.err = p.w.Write(text); p.err != nil {
		return 0, p.err
	}
	return len(b), nil
}

// inASCII spells the signs of messages and sheets where a locale has no others. The
// letters of whoever wrote a notebook stay as they are.
var inASCII = strings.NewReplacer("…", "...", "²", "2", "³", "3", "µ", "u", "μ", "u", "Ω", "ohm", "Ω", "ohm", "°",
	"deg", "±", "+-",
	"→", "->", "×", "x", "·", "*", "√", "sqrt", "–", "-", "—", "-", "−", "-", "“", `"`, "”", `"`, "‘", "'", "’", "'", "≤", "<=", "≥", ">=",
	"½", "1/2", "¼", "1/4", "¾", "3/4", "‰", "per mille", "∞", "without end")

// Say writes a sentence of the program's own, made safe. What does not fit into
// a row goes on below, standing in as the first row does.
func (p *Printer) Say(format string, args ...any) {
	text := Safe(fmt.Sprintf(format, args...))
	words := strings.TrimLeft(text, " ")
	if words == "" {
		p.row("")
		return
	}
	in := text[:len(text)-len(words)]
	p.hanging(in, in, words)
}

// Hanging writes a text of which what does not fit into a row stands in by two
// more than its beginning.
func (p *Printer) Hanging(text string) {
	text = Safe(text)
	words := strings.TrimLeft(text, " ")
	if words == "" {
		p.row("")
		return
	}
	p.wrapped(text[:len(text)-len(words)], words)
}

// Text writes paragraphs, an empty row between them, each laid out anew.
func (p *Printer) Text(text string) {
	for i, paragraph := range strings.Split(strings.TrimSpace(text), "\n\n") {
		if i > 0 {
			p.Blank()
		}
		p.Say("%s", strings.Join(strings.Fields(paragraph), " "))
	}
}

// Entry writes a form of the language or an order and, from column wide on, what
// it does; a form that leaves no room has that below it.
func (p *Printer) Entry(form, does string, wide int) {
	form, does = Safe(form), Safe(does)
	if does != "" && width(form) < wide-1 && p.Width >= 2*wide {
		p.hanging("  "+pad(form, wide), strings.Repeat(" ", wide+2), does)
		return
	}
	p.hanging("  ", "    ", form)
	p.hanging("    ", "    ", does)
}

// Blank writes an empty row.
func (p *Printer) Blank() { p.row("") }

// Heading writes a row that stands above others.
func (p *Printer) Heading(format string, args ...any) {
	p.row(p.paint(p.head, Safe(fmt.Sprintf(format, args...))))
}

// row writes text that is already safe, perhaps coloured.
func (p *Printer) row(s string) {
	p.rows++
	io.WriteString(p, s+"\n")
}

// paint colours a word; an empty word stays empty, so that no bare escape
// pair is written.
func (p *Printer) paint(c *color.Color, s string) string {
	if s == "" || !p.Colour {
		return s
	}
	return c.Sprint(s)
}

// Verdict is a verdict spelled out, coloured where the writer takes colour.
func (p *Printer) Verdict(v answer.Verdict) string {
	return p.paint(p.verdictColour(v), v.String())
}

func (p *Printer) verdictColour(v answer.Verdict) *color.Color {
	switch v {
	case answer.Clear:
		return p.good
	case answer.Caution:
		return p.warn
	case answer.Danger:
		return p.bad
	case answer.NoVerdict:
		return p.none
	}
	return p.faint
}

// width counts the columns a text takes on a terminal, colours taking none.
var counting = displaywidth.Options{ControlSequences: true}

func width(s string) int { return counting.String(s) }

// pad fills a text with blanks to n columns.
func pad(s string, n int) string {
	return s + strings.Repeat(" ", max(0, n-width(s)))
}

// padLeft fills a text with blanks on its left.
func padLeft(s string, n int) string {
	return strings.Repeat(" ", max(0, n-width(s))) + s
}

// answer paints what has been worked out.
func (p *Printer) answer(s string) string { return p.paint(p.head, s) }
