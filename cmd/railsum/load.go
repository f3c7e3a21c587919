package main

import (
	"context"
	"io"
	"path/filepath"
	"strings"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/cmd/railsum/outline"
	"railsum/library"
	"railsum/sessions"
	"railsum/units/words"
)

// fromPipe is what standard input is called.
const fromPipe = "standard input"

// source reads a file, standard input for "-", or a lesson for "lesson:NAME".
func (a *app) source(name string) (*sessions.File, error) {
	if name == "-" {
		return a.pipe()
	}
	if text, err := a.lesson(name); text != nil || err != nil {
		return &sessions.File{Name: name, Text: text}, err
	}
	file, err := sessions.Load(a.path(name))
	switch {
	case err != nil:
		return nil, err
	case !file.Exists:
		return nil, &failure{codeFile, words.Say("there is no file %s", name)}
	}
	return file, nil
}

// lesson is the text of "lesson:NAME", nil for any other name.
func (a *app) lesson(name string) ([]byte, error) {
	lesson, is := strings.CutPrefix(name, library.LessonPrefix)
	if !is {
		return nil, nil
	}
	text, err := library.LessonText(lesson)
	if err != nil {
		return nil, asFailure(codeFile, err)
	}
	return text, nil
}

// pipe reads standard input, which is held to what a file is held to.
func (a *app) pipe() (*sessions.File, error) {
	text, err := io.ReadAll(io.LimitReader(a.stdin, sessions.MaxBytes+1))
	switch {
	case err != nil:
		return nil, &failure{codeFile, words.Say("%s cannot be read: %s", fromPipe, err)}
	case len(text) > sessions.MaxBytes:
		return nil, &failure{codeFile, words.Say("%s is larger than a notebook may be (1 MB)", fromPipe)}
	}
	if err := sessions.Sound(fromPipe, text); err != nil {
		return nil, err
	}
	return &sessions.File{Name: fromPipe, Text: text}, nil
}

// shown is what a file given on the command line is called.
func shown(name string) string {
	if name == "-" {
		return fromPipe
	}
	return name
}

// notebook reads a file and has it answered, its studies carried out.
func (a *app) notebook(ctx context.Context, name string) (*outline.Outline, error) {
	book, err := a.open(name)
	if err != nil {
		return nil, err
	}
	return a.outline(ctx, shown(name), book)
}

// open reads a file.
func (a *app) open(name string) (*calc.Book, error) {
	book, _, err := a.beside(name)
	return book, err
}

// beside reads a file, and gives the library that it has been read with.
func (a *app) beside(name string) (*calc.Book, *library.Library, error) {
	file, err := a.source(name)
	if err != nil {
		return nil, nil, err
	}
	lib := library.At(a.folder(file))
	return calc.Open(syntax.ParseFile(file.Text).Lines, lib), lib, nil
}

// folder is where a file's own sheets are looked for: beside it.
func (a *app) folder(file *sessions.File) string {
	if file.Path == "" {
		return a.dir
	}
	return filepath.Dir(file.Path)
}
