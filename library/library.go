package library

import (
	"fmt"
	"slices"
	"sync"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// Library is the shipped library together with the folders in which own sheets
// are looked for. It is safe for use by several goroutines.
type Library struct {
	folders []folder
	beside  string // the notebook's folder, empty if it has none

	mu     sync.Mutex
	own    map[string]*calc.Sheet // by file name, kept for the life of the Library
	tables map[string]*filed      // likewise
	seen   map[string]stamp       // what lay under each name that was asked for
}

var _ calc.Library = (*Library)(nil)

// Shipped is the library without any own sheets: for what stands alone, as a
// test or a description of a sheet does.
func Shipped() *Library { return shipped }

var shipped = &Library{}

// At is the library as seen from a notebook that lies in dir: own sheets are
// looked for there, then in the user's data home. An empty dir is a notebook
// that has not been saved yet; it sees only the data home.
//
// A Library reads an own sheet once. To see a sheet changed on disk (see Changed), take a new
// Library.
func At(dir string) *Library {
	l := &Library{beside: dir, own: map[string]*calc.Sheet{}, tables: map[string]*filed{}, seen: map[string]stamp{}}
	if dir != "" {
		l.folders = append(l.folders, folder{dir})
	}
	if home := Home(); home != "" {
		l.folders = append(l.folders, folder{home})
	}
	return l
}

// Sheet gives a sheet: a shipped one by its name ("drop") or, with own set, one
// of the user's by its file name ("coil.sums"). An error is a [syntax.Diag]:
// its message says what is wrong, its cure what to write instead.
func (l *Library) Sheet(name string, own bool) (*calc.Sheet, error) {
	if !own {
		if s := shippedSheet(name); s != nil {
			return s, nil
		}
		return nil, l.noShipped(name)
	}
	if err := checkName(name); err != nil {
		return nil, err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if s := l.own[name]; s != nil {
		return s, nil
	}
	if len(l.folders) > 0 {
		l.seen[name] = l.stamp(name)
	}
	s, err := l.find(name)
	if err != nil {
		return nil, err
	}
	l.own[name] = s
	return s, nil
}

// noShipped says that there is no shipped sheet of that name, and what the
// writer may have meant.
func (l *Library) noShipped(name string) error {
	d := syntax.Diag{Wrong: words.Say("there is no sheet %q in the library", name)}
	if slices.Contains(l.OwnNames(), name+ending) {
		d.Cure = fmt.Sprintf("your own sheet of that name is put to use in quotes: use %q", name+ending)
	} else {
		d.Cure = words.Meant(name, l.SheetNames())
	}
	return d
}

// Table gives a shipped table as the line that would define it, nil if there is
// none of that name.
func (l *Library) Table(name string) *calc.Table {
	if t := shippedTable(name); t != nil {
		return t.Table
	}
	return nil
}

// SheetNames lists the shipped sheets in the order of the catalogue, which puts
// the heart of the job first.
func (l *Library) SheetNames() []string {
	names := make([]string, len(Catalogue()))
	for i, e := range Catalogue() {
		names[i] = e.Sheet
	}
	return names
}

// TableNames lists the shipped tables by name.
func (l *Library) TableNames() []string { return slices.Clone(tableNames()) }

// Numbers gives a column of a shipped table, in SI; nil if there is no such
// table, no such column, or its cells are texts. The slice is shared: read only.
func (l *Library) Numbers(table, column string) []float64 {
	if t := shippedTable(table); t != nil {
		return t.numbers[column]
	}
	return nil
}

// Texts gives a text column of a shipped table; the column "label" holds the
// rows' labels. Nil if there is no such table or column of texts. The slice is
// shared: read only.
func (l *Library) Texts(table, column string) []string {
	if t := shippedTable(table); t != nil {
		return t.texts[column]
	}
	return nil
}
