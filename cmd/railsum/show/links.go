package show

import (
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
)

// mostLinks is how many lines on one side of a name are shown.
const mostLinks = 30

// Links writes what hangs together with a name of the notebook: the lines that
// give it its meaning, those that depend on it, and those that it depends on.
func (p *Printer) Links(name string, l *calc.Links) {
	p.row(p.paint(p.head, Safe(name)) + " in this notebook")
	for _, line := range l.At {
		p.linked(line)
	}
	p.depends("nothing depends on it", "on it depends", "on it depend", l.Uses)
	p.depends("it depends on nothing else here", "it depends on", "it depends on", l.Needs)
}

func (p *Printer) depends(none, one, many string, links []calc.Link) {
	p.Blank()
	if len(links) == 0 {
		p.row("  " + none)
		return
	}
	heading := many
	if len(links) == 1 {
		heading = one
	}
	var sorted [2][]calc.Link // directly, and through others
	for _, l := range links {
		i := 0
		if l.Through {
			i = 1
		}
		sorted[i] = append(sorted[i], l)
	}
	headings := [2]string{heading, "and through these"}
	if len(sorted[0]) == 0 {
		headings[1] = heading + ", through others"
	}
	for i, some := range sorted {
		if len(some) > 0 {
			p.row("  " + headings[i])
		}
		for _, l := range some[:min(mostLinks, len(some))] {
			p.linked(l.Line)
		}
		if n := len(some) - mostLinks; n > 0 {
			p.row("    and " + more(n))
		}
	}
}

// linked writes the first row of a line with its number, as far as there is room.
func (p *Printer) linked(l *syntax.Line) {
	text := numberOf(l.Row) + Safe(strings.ReplaceAll(strings.TrimSpace(rowsOf(l)[0]), "\t", " "))
	p.one("    ", text)
}
