package calc_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"railsum/calc/syntax"
)

// Every notebook and sheet of the project is in canonical form, but for those
// that are broken on purpose; and the canonical form of anything is canonical.
func TestEveryFileIsTidy(t *testing.T) {
	n := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".sums") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		n++
		once := syntax.Format(syntax.ParseFile(src))
		if twice := syntax.Format(syntax.ParseFile(once)); string(twice) != string(once) {
			t.Errorf("%s: tidied twice is not tidied once", path)
		}
		if string(once) != string(src) {
			t.Errorf("%s is not tidy", path)
		}
		return nil
	})
	if err != nil || n < 8 {
		t.Fatal(err, n)
	}
}
