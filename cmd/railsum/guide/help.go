package guide

import (
	"io"
	"slices"
	"strings"

	"railsum/calc/syntax"
)

// A Topic is a screen of help about one side of the language.
type Topic struct {
	Name, Does string
	opening    string
	closing    string
}

// Topics are those of the language, in the order in which one comes to need them.
var Topics = []Topic{
	{lines, "named values, questions, rules, notes",
		"Lines are kept and answered, at the prompt and in files alike",
		"They may stand in any order: a line with a name not known yet waits for it."},
	{studies, "find, vary, suppose, spread, working, measured",
		"Studies put other values into the same lines and change nothing",
		"`help find` and so on: every form, what the answer says, examples."},
	{inSheet, "sums of the trade, ready made, and your own",
		"A sheet is a sum of the trade with its rules, hazards and sources",
		"`sheets` lists them, `sheets wire` those about wire, `about drop` shows one, `fill drop` asks for its inputs in turn. " +
			"The lines below `use` make a sheet of your own: with coil.sums beside the notebook, `use \"coil.sums\" for yard`."},
	{tables, "rows and columns, yours and the library's",
		"A table is rows of a label and cells, one line from `table` to `end`",
		"`about tables` lists the tables of the library; a line uses one as in conductors.area."},
	{inUnits, "how numbers and their units are written",
		"Numbers and their units",
		"`about units` lists the units by what they measure, `about functions` what can be called, `about scales` the scales."},
	{more, "agree, case; guess, slip, exercise, picture, part",
		"Settling, cases, and the lines of lessons, drawings and shopping",
		"Their words stay free as names. `help guess` and so on: every form, and examples."},
}

// FindTopic gives the topic of a name.
func FindTopic(name string) (Topic, bool) {
	i := slices.IndexFunc(Topics, func(t Topic) bool { return t.Name == name })
	if i < 0 {
		return Topic{}, false
	}
	return Topics[i], true
}

// mostWide is how much room a form may have before its meaning; one that needs more
// has it below.
const mostWide = 32

// Write writes the forms of a topic, each in a row or two.
func (t Topic) Write(to io.Writer) error {
	w := write(to)
	w.p.Heading("%s", t.opening)
	forms := t.forms()
	width := 0
	for _, f := range forms {
		if n := cells(f.written); n <= mostWide {
			width = max(width, n)
		}
	}
	for _, f := range forms {
		w.entry(f.written, f.does, width)
	}
	w.line(t.closing)
	return w.err()
}

// forms are those of a topic: studies, and what they are made of, first; the lines
// whose words are free as names stand by themselves.
func (t Topic) forms() []form {
	var forms []form
	for _, s := range syntax.Studies() {
		if reserved := syntax.IsReserved(s.Word()); t.Name == studies && reserved || t.Name == more && !reserved {
			forms = append(forms, form{written: s.Help().Forms[0], does: s.Help().Meaning})
		}
	}
	for _, f := range language {
		if f.topic == t.Name {
			forms = append(forms, f)
		}
	}
	return forms
}

// wordPages are the words of the language.
func wordPages() []page {
	var all []page
	for _, f := range language {
		for _, name := range strings.Fields(f.names) {
			all = append(all, page{name: name, kind: "word", meaning: f.does, write: func(w *writer) { writeWord(w, &f) }})
		}
	}
	return all
}

// writeWord writes how a form is written, what it does and an example.
func writeWord(w *writer, f *form) {
	w.line(f.written)
	w.line("  " + f.does)
	if f.says != "" {
		w.line("  " + f.says)
	}
	example := strings.Split(strings.Join(f.example, "\n"), "\n")
	if f.answer != "" {
		example = append(example, "  "+f.answer)
	}
	w.block("for example", example)
}
