package guide

import (
	"strings"

	"railsum/calc"
	"railsum/calc/function"
	"railsum/units"
)

// listPages are the pages that list what there is of a kind: about functions.
func listPages(lib calc.Library) []page {
	return []page{
		{name: "functions", kind: "list", meaning: "what can be called in an expression", write: writeFunctions},
		{name: "units", kind: "list", meaning: "what may stand after a number", write: writeUnits},
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
