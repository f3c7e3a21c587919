package desk

import (
	"strings"

	"railsum/calc/syntax"
	"railsum/cmd/railsum/guide"
)

// first is what help shows before all else: lines that build on one another.
var first = []struct{ line, does string }{
	{"25 m at H0 as mm", "a length or a speed, to scale"},
	{"track = 15 V +- 5 %", "names a value for all the lines"},
	{"use drop for north with length = 9.5 m", "puts a sheet to work"},
	{"must north.lost <= 1 V", "a rule: danger if it does not hold"},
	{"find north.length so north.lost = 1 V", "what an input must be"},
	{"? 5 % of track", "asks, and does not keep it"},
}

// topic is a screen of help.
type topic struct {
	name, does string
	show       func(*desk) error
}

// topics are those of the language, and those of the desk.
func topics() []topic {
	var all []topic
	for _, t := range guide.Topics {
		all = append(all, topic{t.Name, t.Does, func(d *desk) error { return t.Write(d.out) }})
	}
	return append(all,
		topic{"orders", "list, change, undo, save and the like: done, not kept", (*desk).helpOrders},
		topic{"keys", "Tab, Up, Ctrl-R, Ctrl-C", (*desk).helpKeys})
}

// help shows where to begin, a topic, or how one word is used.
func (d *desk) help(word string) error { return d.paged(func() error { return d.helpWith(word) }) }

func (d *desk) helpWith(word string) error {
	if word == "" {
		d.helpFirst()
		return nil
	}
	for _, t := range topics() {
		if t.name == word {
			return t.show(d)
		}
	}
	if o := findOrder(word); o != nil {
		d.out.Say("%s", o.written())
		d.out.Say("  %s", o.does)
		for _, m := range o.more {
			d.out.Say("  %s", m)
		}
		return nil
	}
	for _, later := range syntax.LaterWords() {
		if later == word {
			return refusal("%s takes a whole notebook: call it outside the desk, railsum %s with the name of the file", word,
				word)
		}
	}
	return guide.About(d.out, d.leafed(), word)
}

func (d *desk) helpFirst() {
	d.out.Heading("Type a sum and press Enter; a line is kept and can be changed later")
	for _, f := range first {
		d.out.Entry(f.line, f.does, 40)
	}
	d.out.Heading("Topics")
	for _, t := range topics() {
		d.out.Entry("help "+t.name, t.does, 16)
	}
	d.out.Say("`help WORD` tells of one word, `about NAME` of a sheet, function, unit or table.")
}

func (d *desk) helpOrders() error {
	d.out.Heading("Orders act on the notebook and are not kept")
	for _, o := range orders {
		d.out.Entry(o.written(), o.does, 24)
	}
	d.out.Entry("? QUESTION", "answers without keeping the question", 24)
	d.out.Say("`help change` and so on says more of one.")
	return nil
}

// keyHelp is what the keys of the prompt do.
var keyHelp = []struct{ key, does string }{
	{"Tab", "completes a word; what may follow is listed"},
	{"Up, Down", "lines typed before; after a proposal, the line proposed"},
	{"Ctrl-R", "looks back for a line: type a part of it, Ctrl-R again for one"},
	{"", "further back, Enter takes it, an arrow lets it be edited"},
	{"Ctrl-A, Ctrl-E", "beginning and end of the line, as Home and End"},
	{"Ctrl-Left, Ctrl-Right", "a word back or on"},
	{"Ctrl-W, Ctrl-U, Ctrl-K", "take out a word, all before, all after; Ctrl-Y puts it back"},
	{"Ctrl-L", "clears the screen"},
	{"Ctrl-C", "drops the line; stops a study, a table, a fill"},
	{"Ctrl-D", "on an empty line: leaves, as quit does"},
	{"Ctrl-Z", "lets the shell in; `fg` comes back"},
	{"Space, b, q", "in a long text: on, back, done"},
}

func (d *desk) helpKeys() error {
	d.out.Heading("Keys at the prompt")
	for _, k := range keyHelp {
		d.out.Entry(k.key, k.does, 24)
	}
	d.out.Say("A pasted text is taken line by line; rows in error are offered again when it is over.")
	return nil
}

// written is how an order is written.
func (o *order) written() string { return strings.TrimSpace(o.word + " " + o.args) }
