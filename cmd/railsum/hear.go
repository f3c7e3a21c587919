package main

import (
	"slices"
	"strings"

	"railsum/calc"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/desk"
	"railsum/cmd/railsum/outline"
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

// mostCured is how many lines of a file are listened to for a cure.
const mostCured = 50

// cures gives the lines of a file whose form is refused the cure that the prompt
// would have: what they would have been heard as. Files stay as they are.
func (a *app) cures(o *outline.Outline) {
	var index *hear.Index
	lib := a.library()
	cured := 0
	for i, l := range o.Lines {
		if _, broken := l.Node.(*syntax.Broken); !broken || strings.Contains(l.Raw, "\n") || cured == mostCured {
			continue
		}
		if index == nil {
			index = hear.NewIndex(lib, nil)
		}
		cured++
		others := slices.Delete(slices.Clone(o.Lines), i, i+1)
		o.Cure(l, hear.Beside(others, lib, index).Hear(strings.TrimRight(l.Raw, "\r")))
	}
}

// typed is a call of this program as it is typed at a shell.
func typed(command, line string) string {
	return "railsum " + command + " '" + strings.ReplaceAll(line, "'", `'\''`) + "'"
}

// meant gives the call that was meant by words that are no command, or were not
// quoted, empty if they mean nothing: a line to be answered, or a sheet to be put
// to work. It is sure if the words are such a line or the name of something.
func (a *app) meant(words []string) (call string, sure bool) {
	text := strings.Join(words, " ")
	file := syntax.ParseFile([]byte(text))
	if len(file.Lines) != 1 {
		return "", false
	}
	book, heard := listen(file, a.library())
	h := heard[file.Lines[0]]
	switch {
	case h == nil || h.Line != nil:
		if ans := book.Answer(0); len(ans.Errors)+len(ans.Waiting) > 0 {
			return "", false
		}
		return typed("answer", text), true
	case len(h.Readings) > 0:
		return typed("answer", text), true
	case len(h.Named) > 0 && h.Named[0].Kind == "order":
		return "", false
	case len(h.Proposals) > 0:
		return typed("answer", h.Proposals[0].Line), len(h.Named) > 0
	case len(h.Named) > 0:
		return "railsum about " + h.Named[0].Name, true
	case h.Correction != "":
		return typed("answer", h.Correction), false
	}
	return "", false
}
