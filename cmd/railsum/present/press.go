package present

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"railsum/cmd/railsum/desk/lineedit"
	"railsum/cmd/railsum/show"
)

// Keys that come as control characters.
const (
	ctrlC     = 3
	ctrlD     = 4
	ctrlU     = 21
	ctrlZ     = 26
	backspace = 8
	deleted   = 127
)

// press does what a key says.
func (r *room) press(k key) {
	r.message = ""
	switch {
	case k.r == ctrlC:
		r.over, r.code = true, 130
	case k.r == ctrlZ:
		lineedit.StopJob()
	case r.prompt != "":
		r.edit(k)
	case k.name == "next" || k.r == ' ' || k.r == '\r' && r.number == "":
		r.number = ""
		r.next()
	case k.name == "back" || (k.r == backspace || k.r == deleted) && r.number == "":
		r.number = ""
		r.back()
	case k.r == backspace || k.r == deleted:
		r.number = r.number[:len(r.number)-1]
	case k.name == "escape":
		r.number, r.aside, r.part = "", nil, 0
	case k.r >= '0' && k.r <= '9' && len(r.number) < 5:
		r.number += string(k.r)
	case k.r == '\r':
		if n, _ := strconv.Atoi(r.number); n >= 1 && n <= len(r.deck.steps) {
			r.aside = nil
			r.show(n - 1)
		} else {
			r.message = "there is no step " + r.number
		}
		r.number = ""
	default:
		r.letter(unicode.ToLower(k.r))
	}
}

func (r *room) letter(c rune) {
	switch c {
	case 'q', ctrlD:
		r.over = true
	case 'w':
		r.grow()
	case 'g':
		if r.deck.steps[r.at].guess == nil {
			r.message = "nothing is asked here"
			return
		}
		r.prompt = "guess: "
	case 't':
		r.prompt = "try: "
	case 'r':
		r.putBack()
	case 'h':
		r.hazards()
	case '?':
		r.aside, r.part = []block{{draw: keysHelp}}, 0
	}
}

func keysHelp(p *show.Printer) {
	for _, row := range [][2]string{
		{"Space", "next; Enter, Right and Page Down too"},
		{"Back", "Backspace, Left and Page Up too"},
		{"G", "a guess from the room"},
		{"W", "the next row of a working"},
		{"T", "try a line, for this showing only"},
		{"R", "put back what was tried"},
		{"H", "the hazards"},
		{"7 Enter", "to step 7"},
		{"Q", "leave"},
	} {
		p.Say("%-8s %s", row[0], row[1])
	}
}

func (r *room) hazards() {
	r.aside, r.part = nil, 0
	for _, s := range r.deck.steps {
		if s.hazards {
			r.aside = append(r.aside, s.blocks...)
		}
	}
	if r.aside == nil {
		r.message = "no hazards are told"
	}
}

// edit changes what is being typed. What is pasted is one entry.
func (r *room) edit(k key) {
	switch {
	case k.paste != "":
		r.typed += strings.Join(strings.Fields(k.paste), " ")
		r.take()
	case k.name == "escape" || k.r == ctrlD:
		r.prompt, r.typed = "", ""
	case k.r == '\r':
		r.take()
	case k.r == backspace || k.r == deleted:
		_, n := utf8.DecodeLastRuneInString(r.typed)
		r.typed = r.typed[:len(r.typed)-n]
	case k.r == ctrlU:
		r.typed = ""
	case k.r >= ' ' && !show.Acts(k.r) && len(r.typed) < 1000:
		r.typed += string(k.r)
	}
}

// take ends what was being typed.
func (r *room) take() {
	prompt, text := r.prompt, strings.TrimSpace(r.typed)
	r.prompt, r.typed = "", ""
	switch {
	case text == "":
	case prompt == "guess: ":
		r.guess(text)
	default:
		r.try(text)
	}
}

// tail is the end of a text in so many columns, and where it ends.
func tail(text string, wide int) (string, int) {
	text = show.Safe(text)
	if over := ansi.StringWidth(text) - wide; over > 0 {
		text = ansi.TruncateLeft(text, over, "")
	}
	return text, ansi.StringWidth(text)
}
