package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// floors are the packages in the order in which they stand on one another, as
// DEVELOPERS.md shows them; what is not listed belongs to the folder above it.
var floors = []string{"units/words", "units", "calc/syntax", "calc/separated", "calc/types", "calc/function", "calc/answer", "calc/check", "calc/run", "calc/view",
	"calc/study", "calc", "calc/hear", "library", "sessions", "cmd/railsum"}

// floor is where a folder stands, -1 for none.
func floor(dir string) int {
	for ; dir != "."; dir = path.Dir(dir) {
		if i := slices.Index(floors, dir); i >= 0 {
			return i
		}
	}
	return -1
}

// Imports run downhill: a floor imports those before it, or parts of itself.
func TestFloors(t *testing.T) {
	const root = "../.."
	seen := map[int]bool{}
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		dir, err := filepath.Rel(root, filepath.Dir(name))
		if err != nil {
			return err
		}
		at := floor(filepath.ToSlash(dir))
		seen[at] = true
		if at < 0 {
			t.Errorf("%s stands on no floor", name)
		}
		for _, i := range file.Imports {
			imported, _ := strconv.Unquote(i.Path.Value)
			below, ours := strings.CutPrefix(imported, "railsum/")
			if to := floor(below); ours && (to < 0 || to > at) {
				t.Errorf("%s imports %s, which stands above it", name, imported)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for i, dir := range floors {
		if !seen[i] {
			t.Errorf("nothing stands in %s", dir)
		}
	}
}
