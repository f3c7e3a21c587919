package main

import (
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk"
	"railsum/cmd/railsum/show"
)

// ear is what was heard of the lines given with a call.
type ear map[*syntax.Line]*hear.Heard

// listen puts what strict refuses into the language, where it can mean one thing
// only. It gives the book of the lines as they are then.
func listen(file *syntax.File, lib calc.Library) (*calc.Book, ear) {
	book := calc.Open(file.Lines, lib)
	heard := ear{}
	var index *hear.Index
	for i, l := range file.Lines {
		if !hear.Listens(book, l) {
			continue
		}
		if index == nil {
			index = hear.NewIndex(lib, desk.Entries())
		}
		others := slices.Delete(slices.Clone(file.Lines), i, i+1)
		h := hear.Beside(others, lib, index).Hear(strings.TrimRight(l.Raw, "\r"))
		if h.Line != nil {
			file.Lines[i], _ = syntax.ParseLineAt(h.Text(), l.Row)
		}
		heard[file.Lines[i]] = h
	}
	if len(heard) > 0 {
		book = calc.Open(file.Lines, lib)
	}
	return book, heard
}

// hears writes what a line was heard as: above the answer, or where somebody
// reads along though the answers go elsewhere.
func (a *app) hears(h *hear.Heard, out *show.Printer) {
	if h == nil || h.Line == nil {
		return
	}
	if !show.IsTerminal(a.world.stdout) {
		out = a.errors()
	}
	out.Heard(h)
}

// record adds what was heard to the lines of a record, which has them without
// the blank ones.
func (e ear) record(r *fileRecord) {
	for line, h := range e {
		i := slices.IndexFunc(r.Lines, func(l lineRecord) bool { return l.Row == line.Row })
		if i < 0 {
			continue
		}
		l := &r.Lines[i]
		l.Heard, l.Question, l.Correction = h.Text(), h.Message, h.Correction
		for _, x := range h.Readings {
			l.Readings = append(l.Readings, readingRecord(x))
		}
		for _, x := range h.Proposals {
			l.Proposals = append(l.Proposals, proposalRecord{x.Line, x.Sheet, x.ByOrder, x.Left})
		}
	}
}

// typed is a call of this program as it is typed at a shell.
func typed(command, line string) string {
	return "railsum " + command + " '" + strings.ReplaceAll(line, "'", `'\''`) + "'"
}

// meant gives the call that was meant by words that are no command, or were not
// quoted, empty if they mean nothing: a line to be answered, or a sheet to be put
// to work.
func (a *app) meant(words []string) string {
	lib := a.library()
	text := strings.Join(words, " ")
	file := syntax.ParseFile([]byte(text))
	book, heard := listen(file, lib)
	if h := heard[file.Lines[0]]; h != nil && h.Line == nil {
		switch {
		case len(h.Proposals) > 0:
			return typed("answer", h.Proposals[0].Line)
		case h.Correction != "":
			return typed("answer", h.Correction)
		case len(h.Readings) > 0:
			return typed("answer", text)
		case len(h.Named) > 0 && h.Named[0].Kind == "order":
			return ""
		case len(h.Named) > 0:
			return "railsum about " + h.Named[0].Name
		}
		return ""
	}
	if ans := book.Answer(0); len(ans.Errors)+len(ans.Waiting) > 0 {
		return ""
	}
	return typed("answer", text)
}
