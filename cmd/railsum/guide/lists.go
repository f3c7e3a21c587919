package guide

import (
	"strings"

	"railsum/calc"
	"railsum/calc/function"
	"railsum/cmd/railsum/document"
	"railsum/units"
)

// listPages are the pages that list what there is of a kind: about functions.
func listPages(lib calc.Library) []page {
	return []page{
		{name: "functions", kind: "list", meaning: "what can be called in an expression", write: writeFunctions},
		{name: "units", kind: "list", meaning: "what may stand after a number", write: writeUnits},
		{name: "json", kind: "list", meaning: "the keys of what --json writes", write: writeKeys},
		{name: "tables", kind: "list", meaning: "the tables that ship with railsum", write: func(w *writer) { writeTables(w, lib) }},
	}
}

func writeFunctions(w *writer) {
	group := ""
	for _, f := range function.All() {
		if f.Group != group {
			if group != "" {
				w.line("")
			}
			group = f.Group
			w.line(group)
		}
		w.line("  " + f.Args)
	}
	w.line("")
	w.line("about NAME says what one of them does, with an example")
}

// writeUnits lists the units by what they measure, in the order of the list.
func writeUnits(w *writer) {
	var kinds []string
	of := map[string][]string{}
	for _, u := range units.All() {
		kind := withoutArticle(kindOf(u.Unit))
		if of[kind] == nil {
			kinds = append(kinds, kind)
		}
		of[kind] = append(of[kind], u.Unit.String())
	}
	for _, kind := range kinds {
		w.line(kind + ": " + strings.Join(of[kind], ", "))
	}
	w.line("")
	w.line("they go together as in km/h, ohm/m, A/mm2 and W/(m*K); about UNIT says more of one")
}

// writeKeys lists the objects of a document with their keys.
func writeKeys(w *writer) {
	for i, o := range document.Keys() {
		if i > 0 {
			w.line("")
		}
		w.line(o.Name)
		width := 0
		for _, k := range o.Keys {
			width = max(width, cells(k.Name))
		}
		for _, k := range o.Keys {
			meaning := k.Kind
			if k.Doc != "" {
				meaning += ": " + k.Doc
			}
			w.entry(k.Name, meaning, width)
		}
	}
	w.line("")
	w.line("keys that say nothing are left out; numbers are in the unit beside them, units are spelled as in a file")
}

func writeTables(w *writer, lib calc.Library) {
	width := 0
	for _, n := range lib.TableNames() {
		width = max(width, cells(n))
	}
	for _, n := range lib.TableNames() {
		if t := lib.Table(n); t != nil {
			w.entry(n, t.Meaning, width)
		}
	}
	w.line("")
	w.line("about NAME shows the rows with their sources; lines use a column as in conductors.area")
}
