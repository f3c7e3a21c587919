package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"railsum/calc/syntax"
	"railsum/library"
)

// noun is how a meaning must not begin: it is a whole noun.
var noun = regexp.MustCompile(`^(of|in|that|by|at|to|from|with|between) `)

// TestWords holds what is read in sheets and documents to the words chosen for
// it: no word that another has taken the place of, meanings that are whole nouns.
func TestWords(t *testing.T) {
	old := regexp.MustCompile(`RAILSUM_ACCESSIBLE|not yet yours|\bmay not (trip|see)\b|judged without the tolerances|(?m:^give )`)
	for _, root := range []string{"../../README.md", "../../DEVELOPERS.md", "../../library", "../../testdata/layouts", "../../cmd", "../../calc"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || strings.HasSuffix(path, "_test.go") || strings.Contains(path, "calc/syntax/testdata") {
				return err
			}
			text, err := os.ReadFile(path)
			if m := old.FindString(string(text)); m != "" {
				t.Errorf("%s: %q", path, m)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, e := range library.Catalogue() {
		sheet, err := library.Shipped().Sheet(e.Sheet, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range sheet.File.Lines {
			switch l.Node.(type) {
			case *syntax.Ask, *syntax.Tell:
				if noun.MatchString(l.Note) {
					t.Errorf("%s: %q begins in mid-air", e.Sheet, l.Note)
				}
			}
		}
	}
}
