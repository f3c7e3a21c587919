package desk

import (
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/guide"
)

// leafed is the library to look something up in. It is not that of the notebook:
// a sheet that was only looked at changes nothing when it changes on the disk, and
// the notebook's own file is one of those in its folder.
func (d *desk) leafed() calc.Library { return d.Library(d.s.Dir()) }

// sheets lists the library's sheets.
func (d *desk) sheets(word string) error {
	return d.paged(func() error { return guide.Sheets(d.out, d.leafed(), word) })
}

// about shows what a name of the library means, and what hangs together with one
// of the notebook.
func (d *desk) about(name string) error {
	if name == "" {
		return misuse("about")
	}
	return d.paged(func() error { return guide.AboutIn(d.out, d.leafed(), d.s.Book(), name) })
}

// complete completes what is typed at a prompt of the desk.
func (d *desk) complete(before string) ([]string, int) {
	if d.choices != nil {
		return matching(d.choices, before), len([]rune(before))
	}
	c := completer{lib: d.s.Library(), names: d.s.Book().Names, cases: d.cases(), files: sumsFiles, typesOf: d.typesOf,
		sheetOf: d.sheetOf}
	words, typed := c.complete(before)
	d.notes = c.notes
	return words, typed
}

// cases are the names of the notebook's cases.
func (d *desk) cases() (names []string) {
	for _, l := range d.s.Lines() {
		if n, is := l.Node.(*syntax.Case); is {
			names = append(names, n.Name.Text)
		}
	}
	return names
}

// most is how large a notebook is looked into while somebody waits for a key.
const most = 2000

// typesOf says what expressions are of, beside the lines of the notebook.
func (d *desk) typesOf(exprs []string) []types.Type {
	known := make([]types.Type, len(exprs))
	lines := d.s.Lines()
	if len(lines) > most {
		return known
	}
	all := slices.Clone(lines)
	for _, expr := range exprs {
		line, _ := syntax.ParseLine(strings.TrimSpace(expr))
		all = append(all, line)
	}
	book := calc.Open(all, d.s.Library())
	for i := range exprs {
		if a := book.Answer(len(lines) + i); len(a.Errors) == 0 && a.Value != nil {
			known[i] = a.Value.Type
		}
	}
	return known
}

func (d *desk) sheetOf(name string) string {
	for _, l := range d.s.Lines() {
		if use, is := l.Node.(*syntax.Use); is &&
			slices.ContainsFunc(use.Names, func(p syntax.Part) bool { return p.Text == name }) {
			if use.Own {
				return `"` + use.Sheet + `"`
			}
			return use.Sheet
		}
	}
	return ""
}
