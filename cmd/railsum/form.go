package main

import (
	"strings"

	"github.com/spf13/cobra"

	"railsum/cmd/railsum/document"
	"railsum/cmd/railsum/outline"
)

// form is how answers are written.
type form uint8

const (
	readText form = iota
	readJSON
	readPlain
	readCSV
)

// forms are the flags that choose a form.
type forms struct{ json, plain, csv bool }

func (f *forms) flags(c *cobra.Command) {
	f.answers(c)
	c.Flags().BoolVar(&f.csv, "csv", false, "the rows of a vary line, separated by commas")
}

// answers are the flags of a call that writes no sweep.
func (f *forms) answers(c *cobra.Command) {
	c.Flags().BoolVar(&f.json, "json", false, "one JSON document")
	c.Flags().BoolVar(&f.plain, "plain", false, "one record a row, its fields separated by tabs")
}

// writer writes notebooks in a form; what is wrong with lines goes to standard
// error where the form does not hold it.
func (a *app) writer(as form) outline.Files {
	switch as {
	case readJSON:
		return document.New(a.out)
	case readPlain:
		return newRecords(a.out)
	}
	return a.answers().Notebook(a.errors())
}

// one is the form that was chosen; two cannot be used together.
func (f *forms) one() (form, error) {
	var names []string
	as := readText
	for _, choice := range []struct {
		set  bool
		name string
		form form
	}{{f.json, "--json", readJSON}, {f.plain, "--plain", readPlain}, {f.csv, "--csv", readCSV}} {
		if choice.set {
			names, as = append(names, choice.name), choice.form
		}
	}
	if len(names) > 1 {
		return readText, misuse("%s cannot be used together", strings.Join(names, " and ")).With("choose one")
	}
	return as, nil
}
