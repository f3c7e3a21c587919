package main

import (
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// TestColumns: lines of the program end at 120 columns. A row of a table of data may
// go on, and so may a text: what a line has beside its texts ends there.
func TestColumns(t *testing.T) {
	const most = 120
	err := filepath.WalkDir("../..", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		src, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		lines := strings.Split(string(src), "\n")
		wide := make([]int, len(lines))
		for i, l := range lines {
			wide[i] = utf8.RuneCountInString(l)
		}
		file := token.NewFileSet().AddFile(name, -1, len(src))
		var s scanner.Scanner
		s.Init(file, src, nil, 0)
		for pos, tok, text := s.Scan(); tok != token.EOF; pos, tok, text = s.Scan() {
			if tok == token.STRING {
				for i, part := range strings.Split(text, "\n") {
					wide[file.Line(pos)-1+i] -= utf8.RuneCountInString(part)
				}
			}
		}
		for i, w := range wide {
			row := strings.TrimSpace(lines[i])
			if w > most && !(strings.HasPrefix(row, "{") && strings.HasSuffix(row, "},")) {
				t.Errorf("%s:%d has %d columns beside its texts", name, i+1, w)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
