package guide

import (
	"slices"

	"railsum/calc/syntax"
)

// setting is what the examples of studies are asked of.
var setting = []string{"use drop for north with length = 9.5 m", "north.load = 2.6 A +- 10 %"}

func studyPages() []page {
	var all []page
	for _, s := range syntax.Studies() {
		all = append(all, page{name: s.Word(), kind: "study", meaning: s.Help().Meaning,
			write: func(w *writer) { writeStudy(w, s) }})
	}
	return all
}

// writeStudy writes what a study asks, how it is written, what it says and
// examples.
func writeStudy(w *writer, s syntax.Study) {
	help := s.Help()
	kind := "a study"
	if !syntax.IsReserved(s.Word()) {
		kind = "a line" // its word stays free as a name
	}
	w.line(s.Word() + ", " + kind + ": " + help.Meaning)
	w.block("written", help.Forms)
	w.block("answer", help.Says)
	w.block("for example", slices.Concat(setting, help.Before, help.Examples))
}
