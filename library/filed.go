package library

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"railsum/calc/separated"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// tableEndings are how the names of files end that tables are read from.
var tableEndings = []string{".csv", ".tsv", ".txt"}

// filed is a table of a file, or what is wrong with it.
type filed struct {
	table  *syntax.Table
	faults []words.Wrong
}

// TableFile reads a table from a file beside the notebook, once. Faults begin with
// the name of the file and the row and column.
func (l *Library) TableFile(name string) (*syntax.Table, []words.Wrong) {
	if err := checkPath(name, "a table", `"runs.csv"`, fmt.Sprintf("as in %q", name+tableEndings[0]), tableEndings...); err != nil {
		return nil, []words.Wrong{wrongOf(err)}
	}
	if l.beside == "" {
		return nil, []words.Wrong{words.Say("there is no folder yet to look for %q in", name).
			With("save the notebook beside it first")}
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if t := l.tables[name]; t != nil {
		return t.table, t.faults
	}
	l.seen[name] = l.stamp(name)
	t := &filed{}
	text, err := folder{l.beside}.read(name, separated.MaxBytes)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		t.faults = []words.Wrong{words.Say("there is no file %q beside the notebook, in %s", name, l.beside).
			With(words.Meant(name, l.tableFiles()))}
	case err != nil:
		t.faults = []words.Wrong{wrongOf(err)}
	default:
		t.table, t.faults = separated.Table(text)
		for i := range t.faults {
			t.faults[i].Message = name + ": " + t.faults[i].Message
		}
	}
	l.tables[name] = t
	return t.table, t.faults
}

// tableFiles lists the files beside the notebook that tables could be read from.
func (l *Library) tableFiles() []string {
	dir, err := os.Open(l.beside)
	if err != nil {
		return nil
	}
	defer dir.Close()
	entries, _ := dir.ReadDir(maxListed) // what could be listed is enough to suggest from
	var names []string
	for _, e := range entries {
		if slices.ContainsFunc(tableEndings, func(end string) bool { return strings.HasSuffix(e.Name(), end) }) {
			names = append(names, e.Name())
		}
	}
	return names
}

func wrongOf(err error) words.Wrong {
	var d syntax.Diag
	if errors.As(err, &d) {
		return d.Wrong
	}
	return words.Wrong{Message: err.Error()}
}
