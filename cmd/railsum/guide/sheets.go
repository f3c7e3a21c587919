package guide

import (
	"io"
	"slices"
	"sort"
	"strings"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/units/words"
)

// owner is a library that can also list the sheets of the user's own.
type owner interface{ OwnSheets() []*calc.Sheet }

// Sheets writes the list of sheets, by group; with a word (or several), only
// those whose name, meaning, inputs or answers speak of it, the likeliest
// first. The error says that none does.
func Sheets(w io.Writer, lib calc.Library, word string) error {
	some := sheets(lib)
	if word != "" {
		some = speaking(lib, word)
	}
	if len(some) == 0 {
		return noSheet(lib, word)
	}
	out := write(w)
	width := 0
	for _, s := range some {
		width = max(width, cells(s.Name))
	}
	group := ""
	for _, s := range some {
		if g := groupOf(s); g != group && word == "" {
			if group != "" {
				out.line("")
			}
			out.line(g)
			group = g
		}
		out.entry(s.Name, s.Meaning, width)
	}
	if word == "" {
		out.line("")
		out.line("about NAME shows what a sheet asks and gives; use NAME puts it to work")
	}
	return out.err()
}

// speaking are the sheets that speak of words, as a line that asks for them
// would be heard; behind them those that speak of a word that begins so.
func speaking(lib calc.Library, word string) []*calc.Sheet {
	found := hear.NewIndex(lib, nil).Find(word)
	for _, s := range sheets(lib) {
		p := page{name: s.Name, meaning: s.Meaning, also: s.Group + " " + sheetWords(s)}
		same := func(f *calc.Sheet) bool { return f.Name == s.Name && f.Own == s.Own }
		if !slices.ContainsFunc(found, same) && speaksOf(p, word) {
			found = append(found, s)
		}
	}
	return found
}

func noSheet(lib calc.Library, word string) error {
	d := syntax.Diag{Wrong: words.Say("no sheet is about %q", word).With(words.Meant(word, lib.SheetNames()))}
	if d.Cure == "" {
		d.Cure = "`sheets` without a word lists them all"
	}
	return d
}

// sheets gives all sheets of a library that can be read: the shipped ones by
// group, then the user's own.
func sheets(lib calc.Library) []*calc.Sheet {
	var all []*calc.Sheet
	for _, n := range lib.SheetNames() {
		if s, err := lib.Sheet(n, false); err == nil && s != nil {
			all = append(all, s)
		}
	}
	rank := map[string]int{}
	for _, s := range all {
		if _, seen := rank[s.Group]; !seen {
			rank[s.Group] = len(rank)
		}
	}
	sort.SliceStable(all, func(i, j int) bool {
		gi, gj := groupRank(all[i].Group, rank), groupRank(all[j].Group, rank)
		return gi < gj
	})
	if o, ok := lib.(owner); ok {
		all = append(all, o.OwnSheets()...)
	}
	return all
}

// heart is the group that is listed first; the others come as the library has
// them.
const heart = "the heart of the job"

func groupRank(group string, seen map[string]int) int {
	if group == heart {
		return -1
	}
	return seen[group]
}

func groupOf(s *calc.Sheet) string {
	switch {
	case s.Own:
		return "your own"
	case s.Group == "":
		return "others"
	}
	return s.Group
}

// sheetWords is what a search looks through besides a sheet's own meaning: the
// names and meanings of its inputs and answers.
func sheetWords(s *calc.Sheet) string {
	if s.File == nil {
		return ""
	}
	var b strings.Builder
	b.WriteString(strings.Join(s.Words, " ") + " ")
	for _, l := range s.File.Lines {
		var name string
		switch n := l.Node.(type) {
		case *syntax.Ask:
			name = n.Name.Text
			for _, w := range n.Words {
				name += " " + w.Text
			}
		case *syntax.Tell:
			name = n.Name.Text
		case *syntax.Table:
			if !n.Ask {
				continue
			}
			name = n.Name.Text
		default:
			continue
		}
		b.WriteString(name + " " + l.Note + " ")
	}
	return b.String()
}
