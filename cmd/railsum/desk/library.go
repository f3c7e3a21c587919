package desk

import (
	"strings"

	"railsum/calc/syntax"
	"railsum/cmd/railsum/guide"
)

// sheets lists the library's sheets.
func (d *desk) sheets(word string) error { return guide.Sheets(d.out, d.s.Library(), word) }

// about shows what a name of the library means.
func (d *desk) about(name string) error {
	if name == "" {
		return misuse("about")
	}
	return guide.About(d.out, d.s.Library(), name)
}

// lineHelp is how the lines that are kept are written, in the order in which
// help shows them.
var lineHelp = []struct{ word, form, does string }{
	{"", "NAME = VALUE", "names a value: track = 15 V, power = track * load as W"},
	{"", "VALUE", "asks a question: 25 m at H0 as mm; that is the answer above"},
	{"use", "use SHEET for NAME with INPUT = VALUE, …", "puts a sheet to work; NAME.INPUT = VALUE sets more of it"},
	{"must", "must CONDITION", "a rule: danger if it does not hold"},
	{"should", "should CONDITION", "a rule: caution if it does not hold"},
	{"assume", "assume NAME = VALUE", "a guess, listed until it is settled"},
	{"prefer", "prefer UNIT, UNIT, …", "the units that answers take where no line says otherwise"},
	{"table", "table NAME | COLUMN | COLUMN", "rows of label | value | value, then end"},
	{"ask", "ask NAME = VALUE from VALUE to VALUE", "in a sheet: an input with its own value and its range"},
	{"take", "take NAME = VALUE from VALUE to VALUE", "in a sheet: an input that it takes for granted unless somebody sets it"},
	{"tell", "tell NAME = VALUE", "in a sheet: an answer"},
	{"hazard", `hazard "TEXT" if CONDITION`, "in a sheet: what can hurt"},
	{"source", `source "TEXT"`, "in a sheet: where a formula comes from"},
}

// help shows all that can be typed, or how one word is used.
func (d *desk) help(word string) error {
	if word != "" {
		return d.helpWith(word)
	}
	d.out.Heading("Lines that are kept and answered")
	for _, l := range lineHelp {
		d.entry(l.form, l.does)
	}
	d.entry("# TEXT", "a note; behind a line it is that line's meaning")
	d.out.Blank()
	d.out.Heading("Orders, which are not kept")
	for _, o := range orders {
		d.entry(strings.TrimSpace(o.word+" "+o.args), o.does)
	}
	d.out.Blank()
	d.out.Say("Tab completes a word; help WORD says more; about NAME explains a sheet, function, unit or table.")
	return nil
}

// wide is how much room the form of a line or order has before its meaning.
const wide = 36

func (d *desk) entry(form, does string) { d.out.Entry(form, does, wide) }

func (d *desk) helpWith(word string) error {
	if o := findOrder(word); o != nil {
		d.out.Say("%s", strings.TrimSpace(o.word+" "+o.args))
		d.out.Say("  %s", o.does)
		for _, m := range o.more {
			d.out.Say("  %s", m)
		}
		return nil
	}
	for _, l := range lineHelp {
		if l.word == word {
			d.out.Say("%s", l.form)
			d.out.Say("  %s", l.does)
			return nil
		}
	}
	for _, later := range syntax.LaterWords() {
		if later == word {
			return refusal("%s is a word of railsum but not yet in this edition", word)
		}
	}
	return guide.About(d.out, d.s.Library(), word)
}

// complete completes what is typed at a prompt of the desk.
func (d *desk) complete(before string) ([]string, int) {
	if d.choices != nil {
		return matching(d.choices, before), len([]rune(before))
	}
	c := completer{lib: d.s.Library(), names: d.s.Book().Names, files: sumsFiles}
	return c.complete(before)
}
