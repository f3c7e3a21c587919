package picture

import "strings"

// A Circuit is a loop of two conductors: it starts at the left, goes out along the top, ends at the right and comes
// back along the bottom, dashed.
type Circuit struct {
	Title string
	Parts []Part
}

// A Part is one thing in the loop, with the values that are printed beside its name.
type Part struct {
	Label  string
	Symbol Symbol
	Place  Place
	Values []string
}

// Symbol says what a part looks like, after IEC 60617.
type Symbol string

// Symbols.
const (
	Source    Symbol = "source"
	Resistor  Symbol = "resistor"
	Capacitor Symbol = "capacitor"
	Coil      Symbol = "coil"
	Diode     Symbol = "diode"
	Lamp      Symbol = "lamp"
	Switch    Symbol = "switch"
	Fuse      Symbol = "fuse"
	Wire      Symbol = "wire"
	Terminals Symbol = "terminals"
	Load      Symbol = "load"
	Input     Symbol = "input"
	Short     Symbol = "short"
	Words     Symbol = "words"
)

// Symbols is every symbol, in the order in which help lists them.
var Symbols = []Symbol{Source, Resistor, Capacitor, Coil, Diode, Lamp, Switch, Fuse, Wire, Terminals, Load, Input,
	Short, Words}

// Place says where in the loop a part is.
type Place string

// Places.
const (
	Start   Place = "start"
	Out     Place = "out"
	End     Place = "end"
	Back    Place = "back"
	Between Place = "between" // words in the middle
)

// Places is every place, in the order in which help lists them.
var Places = []Place{Start, Out, End, Back, Between}

// aside is how many parts one side of the loop can have.
const aside = 6

// at is the parts of one side.
func (c Circuit) at(place Place) []Part {
	var parts []Part
	for _, p := range c.Parts {
		if p.Place == place {
			parts = append(parts, p)
		}
	}
	return parts
}

// Crowded is the side that has more parts than can be drawn, or nothing.
func (c Circuit) Crowded() Place {
	for _, place := range Places {
		if len(c.at(place)) > aside {
			return place
		}
	}
	return ""
}

// Empty tells whether there is nothing to draw.
func (c Circuit) Empty() bool { return len(c.Parts) == 0 }

// Caption is the title.
func (c Circuit) Caption() string { return c.Title }

// told is a part with its values, as a sentence tells it.
func (p Part) told() string {
	return words(append([]string{p.Label}, p.Values...)...)
}

// lines are a part's name and its values, for printing beside it.
func (p Part) lines() []string {
	values := words(p.Values...)
	switch {
	case p.Label == "":
		return []string{values}
	case values == "":
		return []string{p.Label}
	}
	return []string{p.Label, values}
}

// Sentence goes once round the loop.
func (c Circuit) Sentence() string {
	list := func(place Place) string {
		var told []string
		for _, p := range c.at(place) {
			name := p.told()
			if p.Symbol == Wire && !strings.Contains(strings.ToLower(p.Label), "wire") {
				name = "wire, " + words(p.Values...)
				if len(p.Values) == 0 {
					name = "wire"
				}
			}
			told = append(told, name)
		}
		return strings.Join(told, ", then ")
	}
	var parts []string
	for _, leg := range []struct {
		place       Place
		before, sep string
	}{{Start, "from ", ""}, {Out, "out by ", ""}, {End, "to ", ""}, {Back, "and back by ", ""}} {
		if l := list(leg.place); l != "" {
			if leg.place == End {
				l = strings.ReplaceAll(l, ", then ", " and beside it ")
			}
			parts = append(parts, leg.before+l)
		}
	}
	s := strings.Join(parts, ", ")
	if l := list(Between); l != "" {
		s += "; between: " + l
	}
	return sentence(c.Title, []string{s})
}

// Text draws a box for each end, the conductors between them, and what belongs to each beside it; parts in the
// conductors stand in them by name.
func (c Circuit) Text(wide int) []string {
	out := wrapColumns(c.Title, wide)
	start, end := boxed(c.at(Start)), boxed(c.at(End))
	left, right := widest(start), widest(end)
	most := max(8, (wide-16)/3)
	left, right = min(left, most), min(right, most)
	middle := wide - (left + 4) - (right + 4)
	top, bottom := legs(c.at(Out)), legs(c.at(Back))
	between := legs(c.at(Between))

	var inner []string
	for _, t := range between {
		inner = append(inner, fold([]string{t}, middle-2)...)
	}
	high := max(len(start), len(end), len(inner), 1)
	line := func(fill string, arrow string, names []string) (string, []string) {
		var below []string
		room := middle
		text := strings.Join(names, " "+arrow+" ")
		if columns(text)+6 > room {
			below = names
			text = ""
		}
		cv := newCanvas(middle, 1)
		for x := 0; x < middle; x++ {
			if fill == "-" || x%2 == 0 {
				cv.put(x, 0, "-")
			}
		}
		if text != "" {
			text = " " + text + " "
			cv.fill((middle-columns(text))/2, (middle+columns(text))/2, 0, " ")
			cv.put((middle-columns(text))/2, 0, text)
			cv.put(middle-3, 0, arrow)
		} else {
			cv.put(middle/2-1, 0, arrow)
		}
		return pad(cv.lines()[0], middle), below
	}
	first, overTop := line("-", ">>", top)
	last, underBottom := line(" ", "<<", bottom)
	for _, l := range overTop {
		out = append(out, wrapColumns("  out: "+l, wide)...)
	}
	rim := func(n int) string { return "+" + strings.Repeat("-", n+2) + "+" }
	out = append(out, rim(left)+first+rim(right))
	for i := range high {
		row := "| " + pad(clip(nth(start, i), left), left) + " |" + pad(" "+nth(inner, i), middle) +
			"| " + pad(clip(nth(end, i), right), right) + " |"
		out = append(out, row)
	}
	out = append(out, rim(left)+last+rim(right))
	for _, l := range underBottom {
		out = append(out, wrapColumns("  back: "+l, wide)...)
	}
	return out
}

// boxed is what stands in the box of one end: each part's name and values, a line each.
func boxed(parts []Part) []string {
	var lines []string
	for _, p := range parts {
		if p.Label != "" {
			lines = append(lines, p.Label)
		}
		for _, v := range p.Values {
			if v != "" {
				lines = append(lines, v)
			}
		}
	}
	return lines
}

// legs are the parts of a conductor as text.
func legs(parts []Part) []string {
	var names []string
	for _, p := range parts {
		names = append(names, p.told())
	}
	return names
}

func widest(lines []string) int {
	n := 1
	for _, l := range lines {
		n = max(n, columns(l))
	}
	return n
}

func nth(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func pad(text string, n int) string {
	return text + strings.Repeat(" ", max(0, n-columns(text)))
}
