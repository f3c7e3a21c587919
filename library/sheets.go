package library

import (
	"embed"
	"strconv"
	"strings"
	"sync"

	"railsum/calc"
	"railsum/calc/syntax"
)

//go:embed sheets/*.sums sheets/catalogue.tsv tables/*.tsv lessons/*.sums
var files embed.FS

// ending is how the name of a file in the language ends.
const ending = ".sums"

// Entry is what the catalogue says of a shipped sheet.
type Entry struct {
	Sheet   string
	Group   string   // the part of the job it belongs to: "wiring"
	Edition int      // from one; goes up when an answer may have changed
	Words   []string // to find it by, besides its name and meaning
}

// Catalogue lists the shipped sheets, those at the heart of the job first.
func Catalogue() []Entry { return catalogue() }

var catalogue = sync.OnceValue(func() []Entry {
	text, err := files.ReadFile("sheets/catalogue.tsv")
	if err != nil {
		panic(err) // embedded: cannot fail in a program that was built
	}
	_, rows := splitTSV(string(text))
	entries := make([]Entry, len(rows)-1)
	for i, row := range rows[1:] {
		edition, err := strconv.Atoi(row[2])
		if err != nil {
			panic("library: the catalogue's edition of " + row[0] + ": " + err.Error())
		}
		entries[i] = Entry{Sheet: row[0], Group: row[1], Edition: edition, Words: strings.Fields(row[3])}
	}
	return entries
})

// sheets holds a parser for every shipped sheet, to be called when asked for.
var sheets = sync.OnceValue(func() map[string]func() *calc.Sheet {
	m := map[string]func() *calc.Sheet{}
	for _, e := range Catalogue() {
		m[e.Sheet] = sync.OnceValue(func() *calc.Sheet { return parseShipped(e) })
	}
	return m
})

// shippedSheet gives the shipped sheet of that name, nil if there is none.
func shippedSheet(name string) *calc.Sheet {
	if parse := sheets()[name]; parse != nil {
		return parse()
	}
	return nil
}

func parseShipped(e Entry) *calc.Sheet {
	text, err := files.ReadFile("sheets/" + e.Sheet + ending)
	if err != nil {
		panic(err) // a catalogue row without a file; the tests read every row
	}
	f := syntax.ParseFile(text)
	return &calc.Sheet{Name: e.Sheet, Group: e.Group, Edition: e.Edition, Words: e.Words, Meaning: meaning(f), File: f}
}

// meaning is the first note row of a sheet.
func meaning(f *syntax.File) string {
	for _, line := range f.Lines {
		if r, ok := line.Node.(*syntax.Remark); ok {
			return r.Text
		}
	}
	return ""
}
