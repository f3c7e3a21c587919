// Package guide describes what railsum knows: the list of the shipped sheets
// and a page for each sheet, function, unit, table and study, with its sources.
//
// Everything a page says is read from the thing it describes (a sheet's notes,
// a function's entry, a table's rows), so nothing is explained in two places.
// The guide never places a sheet and never computes an answer; cards do that.
//
// It writes plain text for a terminal or a pipe. Text out of a sheet that came
// from somebody else is made safe before it is written.
package guide

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"railsum/calc"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/show"
	"railsum/units/words"
)

// page is one thing that can be looked up: how it is found and how it is shown.
type page struct {
	name    string
	kind    string // "sheet", "function", "unit", "table", "constant", "study"
	meaning string
	also    string // more text that a search looks through
	write   func(w *writer)
}

// About writes everything that goes by a name: a sheet, a function, a unit, a
// table. A quoted or dotted-suffix name ("coil.sums") is a sheet of the user's
// own. The error, for a name that nothing has, offers near names and things
// whose meaning speaks of the word.
func About(w io.Writer, lib calc.Library, name string) error {
	name, whole := strings.CutSuffix(strings.TrimSpace(name), " whole")
	name = strings.TrimSuffix(name, "()")
	if own, is := ownName(name); is {
		sheet, err := lib.Sheet(own, true)
		if err != nil {
			return err
		}
		out := write(w)
		out.whole = whole
		writeSheet(out, sheet)
		return out.err()
	}
	found := lookUp(lib, name)
	if len(found) == 0 {
		return unknown(lib, name)
	}
	out := write(w)
	out.whole = whole
	for i, p := range found {
		if i > 0 {
			out.line("")
		}
		p.write(out)
	}
	return out.err()
}

// AboutIn is About for somebody who has a notebook open: of a name that the
// notebook has, it adds which lines hang together with it.
func AboutIn(p *show.Printer, lib calc.Library, book *calc.Book, name string) error {
	links := book.LinksOf(strings.TrimSuffix(name, " whole"))
	if links == nil {
		return About(p, lib, name)
	}
	if len(lookUp(lib, strings.TrimSuffix(name, " whole"))) > 0 {
		if err := About(p, lib, name); err != nil {
			return err
		}
		p.Blank()
	}
	p.Links(name, links)
	return p.Err()
}

// Names gives every name that About knows, for completion.
func Names(lib calc.Library) []string {
	var names []string
	for _, p := range pages(lib) {
		names = append(names, p.name)
	}
	return names
}

func ownName(name string) (string, bool) {
	if len(name) > 1 && strings.HasPrefix(name, `"`) && strings.HasSuffix(name, `"`) {
		return name[1 : len(name)-1], true
	}
	return name, strings.HasSuffix(name, ".sums")
}

func lookUp(lib calc.Library, name string) []page {
	var found []page
	for _, p := range pages(lib) {
		if p.name == name {
			found = append(found, p)
		}
	}
	if len(found) == 0 {
		if p, ok := unitPage(name); ok { // a compound that no list has: V/m2
			found = append(found, p)
		}
	}
	return found
}

// pages lists all that can be looked up, sheets first.
func pages(lib calc.Library) []page {
	var all []page
	for _, s := range sheets(lib) {
		all = append(all, page{
			name: s.Name, kind: "sheet", meaning: s.Meaning, also: s.Group + " " + sheetWords(s),
			write: func(w *writer) { writeSheet(w, s) },
		})
	}
	for _, f := range function.All() {
		all = append(all, page{
			name: f.Name, kind: "function", meaning: f.Meaning, also: f.Group,
			write: func(w *writer) { writeFunction(w, f) },
		})
	}
	for _, n := range lib.TableNames() {
		if t := lib.Table(n); t != nil {
			all = append(all, page{
				name: n, kind: "table", meaning: t.Meaning, also: strings.Join(t.Meant, " "),
				write: func(w *writer) { writeTable(w, t) },
			})
		}
	}
	all = append(append(all, studyPages()...), wordPages()...)
	return append(append(append(all, listPages(lib)...), scalePages(lib)...), unitPages()...)
}

// unknown says that nothing has the name, and what the writer may have meant.
func unknown(lib calc.Library, name string) error {
	all := pages(lib)
	d := syntax.Diag{Wrong: words.Say("nothing is called %q", name)}
	if d.Cure = words.Meant(name, namesOf(all)); d.Cure != "" {
		return d
	}
	var speak []string
	for _, p := range all {
		if p.kind != "unit" && speaksOf(p, name) && !contains(speak, p.name) {
			speak = append(speak, p.name)
		}
	}
	switch {
	case len(speak) > 8:
		d.Cure = fmt.Sprintf("these are about it: %s and %d more", strings.Join(speak[:8], ", "), len(speak)-8)
	case len(speak) > 0:
		d.Cure = "this is about it: " + words.And(speak)
		if len(speak) > 1 {
			d.Cure = "these are about it: " + words.And(speak)
		}
	default:
		d.Cure = "`sheets` lists the sheets, and `sheets WORD` looks for a word in what they mean"
	}
	return d
}

func namesOf(pages []page) []string {
	names := make([]string, len(pages))
	for i, p := range pages {
		names[i] = p.name
	}
	return names
}

// speaksOf reports whether every word of a search begins a word of what a page
// means: stall finds stalls and stalled, led does not find derailed.
func speaksOf(p page, words string) bool {
	text := strings.FieldsFunc(strings.ToLower(p.name+" "+p.meaning+" "+p.also), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	fields := strings.Fields(strings.ToLower(words))
	for _, word := range fields {
		if !slices.ContainsFunc(text, func(s string) bool { return strings.HasPrefix(s, word) }) {
			return false
		}
	}
	return len(fields) > 0
}

// listed joins names as a sentence does: "a, b or c".
func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
