package desk

import "railsum/cmd/railsum/guide"

// sheets lists the library's sheets.
func (d *desk) sheets(word string) error {
	return d.paged(func() error { return guide.Sheets(d.out, d.s.Library(), word) })
}

// about shows what a name of the library means.
func (d *desk) about(name string) error {
	if name == "" {
		return misuse("about")
	}
	return d.paged(func() error { return guide.About(d.out, d.s.Library(), name) })
}

// complete completes what is typed at a prompt of the desk.
func (d *desk) complete(before string) ([]string, int) {
	if d.choices != nil {
		return matching(d.choices, before), len([]rune(before))
	}
	c := completer{lib: d.s.Library(), names: d.s.Book().Names, files: sumsFiles}
	return c.complete(before)
}
