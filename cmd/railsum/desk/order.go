package desk

import (
	"slices"
	"strings"

	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/guide"
	"railsum/units"
	"railsum/units/words"
)

// order is one thing that can be done with the notebook.
type order struct {
	word string
	args string // how it is written, after the word
	does string // in one line
	more []string
	run  func(d *desk, args string) error
	also []string // other words and phrases for it
}

// orders lists what can be ordered, as help shows it.
var orders []order

func init() { // orders speak of help, which speaks of orders
	orders = []order{
		{"list", "[WHAT]", "shows lines and answers", []string{
			"list              every line with its answer",
			"list danger       what is not clear, worst first",
			"list waiting      lines that wait for a name or are in error",
			"list unsettled    inputs that are still a sheet's own, and guesses",
			"list measured     what the meter has said, the oldest first",
			"list parts        what has to be bought for it",
			"list north        the lines of north, with its card in short",
			"list 14           line 14 with the whole of its answer",
		}, (*desk).list, []string{"show everything", "show all", "print"}},
		{"change", "N [new text]", "changes line N, offered for editing or given whole", []string{
			"change 14                          offers line 14 to be edited",
			"change 14 north.length = 12 m      puts this in its place",
			"In a table N is the row; the table's first row offers all of it.",
		}, (*desk).change, []string{"modify"}},
		{"edit", "", "opens it in your editor; takes back what you change", []string{
			"The editor is the one that VISUAL or EDITOR names, else vi; undo takes all of it back.",
		}, (*desk).edit, []string{"editor", "open editor"}},
		{"insert", "before N", "puts lines before line N", []string{
			"insert before 12                   asks for lines until an empty one",
			"insert before 12 track = 15 V      puts this there",
		}, (*desk).insert, []string{"add before"}},
		{"strike", "N [M …]", "takes lines out", []string{"strike 14", "strike 14 15 19", "strike 27 to 31"}, (*desk).strike, []string{"delete", "remove", "erase", "delete last line", "remove last line"}},
		{"move", "N [to M] before K", "puts lines before line K", []string{"move 14 before 3", "move 5 to 9 before 2"}, (*desk).move, nil},
		{"copy", "NAME from FILE", "adds what another notebook has under a name", []string{
			"copy north from \"brindle.sums\"     a placed sheet, with what is set of it",
			"copy fleet, track from brindle",
		}, (*desk).copyFrom, []string{"import", "take from"}},
		{"add", "TABLE | ROW", "puts a row at the end of a table", []string{
			"add fleet | railbus | 1 | 300      as it would stand in the table",
			"fleet.railbus.draw = 0.5 A         changes a cell of it",
			"strike fleet.railbus               takes the row out",
			"move fleet.railbus before fleet.railcar",
			"rename fleet.railbus to \"rail bus\"",
		}, (*desk).add, []string{"add a row", "new row"}},
		{"keep", "NAME", "gives the last question a name and keeps it", []string{"keep longest_run"}, (*desk).keep, []string{"name it", "name that"}},
		{"rename", "A to B", "renames a value, table or sheet wherever it is used", []string{"rename north to quay"}, (*desk).rename, nil},
		{"undo", "", "takes back the last change", nil, (*desk).undo, []string{"go back", "take back", "undo", "oops", "delete last line", "revert"}},
		{"redo", "", "does again what undo took back", nil, (*desk).redo, []string{"redo", "do again"}},
		{"fill", "SHEET [for NAME]", "puts a sheet to work, one input after the other", []string{
			"fill drop for north",
			"Enter keeps the value in brackets, ? says more about it, < goes back to the one before,",
			"a full stop keeps all the rest, Ctrl-C stops and enters nothing.",
		}, (*desk).fill, []string{"fill in", "ask me"}},
		{"sheets", "[WORD]", "lists the sheets, or those about a word", []string{"sheets", "sheets wire"}, (*desk).sheets, []string{"list sheets", "show sheets", "what sheets are there", "which sheets"}},
		{"about", "NAME", "what a sheet, function or unit is; what uses a name", []string{
			"about drop         a sheet, on one screen",
			"about drop whole   all of it, with its sources",
			"about preferred",
			"about mph",
			"about engine       of the notebook: which lines depend on it, and on which it does",
		}, (*desk).about, []string{"explain", "where is it used", "what uses", "what depends on"}},
		{"save", "[FILE]", "writes the notebook to its file, or to another", []string{"save", "save gannet.sums"}, (*desk).save, []string{"store", "write", "save", "how do i save", "save as"}},
		{"reload", "", "takes in what was changed in the file elsewhere", []string{
			"What both have changed is asked for, row by row; undo takes the file's changes out again.",
			"Own sheets that have changed are read again by themselves.",
		}, (*desk).reload, []string{"refresh", "reread", "merge", "read again"}},
		{"since", "opened|saved", "what has changed since it was opened, or saved", []string{
			"since opened     verdicts that turned first, then inputs, answers, names",
			"since saved",
		}, (*desk).since, []string{"what changed", "what has changed", "compare", "diff", "changes"}},
		{"handout", "[NAME] to FILE", "writes a page to print, of all or of one sheet", []string{
			"handout to gannet.html           the whole notebook",
			"handout north to north.html      the sheet or section north alone",
		}, (*desk).handout, nil},
		{"open", "FILE", "goes on with another notebook", []string{"open gannet.sums"}, (*desk).open, []string{"load", "open"}},
		{"recover", "[N]", "takes up what was left of notes without a file", []string{
			"recover            what was left last",
			"recover 2          what was left before that",
			"The nine latest are kept; `save FILE` keeps one for good.",
		}, (*desk).recover, nil},
		{"help", "[WORD]", "what can be typed here", []string{"help", "help studies", "help change", "help use"}, (*desk).help, []string{"?", "commands", "what can you do", "what can i type", "manual", "instructions", "how does this work", "h"}},
		{"quit", "", "leaves", []string{"Ctrl-D on an empty line does the same."}, (*desk).quit, []string{"exit", "bye", "goodbye", "q", "leave", "logout", "log out", "close", "stop", "end", "x"}},
	}
}

// Entries gives the orders for the index of what can be named.
func Entries() []hear.Entry {
	entries := make([]hear.Entry, len(orders))
	for i, o := range orders {
		entries[i] = hear.Entry{Kind: "order", Name: o.word, Form: o.written(), Meaning: o.does, Words: o.also}
	}
	return entries
}

func orderWords() []string {
	all := make([]string, len(orders))
	for i, o := range orders {
		all[i] = o.word
	}
	return all
}

func findOrder(word string) *order {
	for i := range orders {
		if orders[i].word == word {
			return &orders[i]
		}
	}
	return nil
}

// orderIn tells an order from a line: it opens with the order's word, and what
// follows is no definition of a value of that name.
func orderIn(text string) (o *order, args string) {
	text = strings.TrimSpace(text)
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	if o = findOrder(word); o == nil || strings.HasPrefix(rest, "=") {
		return nil, ""
	}
	return o, rest
}

// talk reports whether more words follow than the order takes, as people talk: open
// circuit voltage of a supply.
func (o *order) talk(args string) bool {
	return !strings.Contains(o.args, "…") && !strings.Contains(o.args, "text") &&
		len(strings.Fields(args)) > len(strings.Fields(o.args)) && hear.Talk(args)
}

// orderIn is orderIn for this notebook: a name of its own goes before an order whose
// word is no reserved one, and so does, at a prompt, what a sheet is found by, as keep
// alive.
func (d *desk) orderIn(text string) (*order, string) {
	o, args := orderIn(text)
	if o != nil && args != "" && d.ed.Interactive() && (o.talk(args) || d.indexed().Speaks(text)) {
		return nil, ""
	}
	if o != nil && !slices.Contains(syntax.OrderWords(), o.word) && slices.Contains(d.s.Book().Names(), o.word) {
		return nil, ""
	}
	return o, args
}

// mistyped gives the order that a text was most likely meant to be: its first
// word is a letter away from an order's and is nothing that is known here, and the
// text is that word alone or no line at all. It is empty for any other text.
func (d *desk) mistyped(text string) string {
	text = strings.TrimSpace(text)
	word := firstWord(text)
	var all []string
	for _, o := range orders {
		all = append(all, o.word)
	}
	near := words.Near(word, all)
	if len(near) == 0 || d.known(word) {
		return ""
	}
	if line, open := syntax.ParseLine(text); word != text && (open || !mistaken(line)) {
		return ""
	}
	return near[0]
}

func firstWord(text string) string {
	word, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	return word
}

// known reports whether a word means something: in the notebook, in the library
// or in the language.
func (d *desk) known(word string) bool {
	if syntax.IsReserved(word) || slices.Contains(d.s.Book().Names(), word) ||
		slices.Contains(guide.Names(d.leafed()), word) {
		return true
	}
	_, err := units.Parse(word)
	return err == nil
}

// refusal is an order that was not carried out: why, and what to write.
func refusal(format string, args ...any) syntax.Diag {
	return syntax.Diag{Wrong: words.Say(format, args...)}
}

// misuse says how an order is written.
func misuse(word string) error {
	o := findOrder(word)
	return refusal("%s is written: %s", word, o.written()).
		With("`help " + word + "` shows how it is used")
}

// bare refuses an order that takes nothing.
func bare(word, args string) error {
	if args != "" {
		return refusal("%s takes nothing after it", word).With("write `" + word + "`")
	}
	return nil
}
