package syntax

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"railsum/units"
)

// seeds gives the fuzz targets every line of the test data.
func seeds(f *testing.F) {
	names, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(names) == 0 {
		f.Fatal("no test data", err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
		for _, line := range strings.Split(string(data), "\n") {
			f.Add([]byte(line))
		}
	}
	for _, s := range []string{"", "\n", "\ufeff", "x\r\n\r\n", "a\rb", "\xff", "table t | a\n x | 1\n\n# c\nend # d\n", "x = 5\n\n\n\ny", "(((((((("} {
		f.Add([]byte(s))
	}
}

// FuzzParse: no text panics, nothing of it is lost, and what could not be read
// says why.
func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		file := ParseFile(src)
		if got := file.Bytes(); !bytes.Equal(got, src) {
			t.Fatalf("Bytes gives %q, want %q", got, src)
		}
		row := 1
		for _, l := range file.Lines {
			if l.Row != row {
				t.Fatalf("line in row %d says %d", row, l.Row)
			}
			row += l.Rows()
			checkLine(t, l)
		}
	})
}

func checkLine(t *testing.T, l *Line) {
	t.Helper()
	broken := false
	for _, d := range l.Errors {
		broken = broken || !d.Notice
		if d.At.Row < l.Row || d.At.Row >= l.Row+l.Rows() || d.At.Col < 1 || d.Message == "" {
			t.Fatalf("line %q has an error out of place: %+v", l.Raw, d)
		}
	}
	switch n := l.Node.(type) {
	case nil:
		t.Fatalf("line %q has no node", l.Raw)
	case *Header:
		if broken != (n.Version > Edition) {
			t.Fatalf("header %q: errors %v", l.Raw, l.Errors)
		}
	case *Broken:
		if !broken {
			t.Fatalf("broken line %q without an error", l.Raw)
		}
	default:
		if broken {
			t.Fatalf("sound line %q with errors %v", l.Raw, l.Errors)
		}
	}
}

// FuzzPrint: what is printed reads as the same tree and prints the same again;
// tidying twice is tidying once.
func FuzzPrint(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		checkFormat(t, ParseFile(src))
	})
}

func checkFormat(t *testing.T, file *File) {
	t.Helper()
	once := Format(file)
	again := ParseFile(once)
	if twice := Format(again); !bytes.Equal(once, twice) {
		t.Fatalf("%q\nis tidied to    %q\nand then again %q", file.Bytes(), once, twice)
	}
	want, got := sound(file), sound(again)
	if len(want) != len(got) {
		t.Fatalf("%q has %d sound lines, tidied %q has %d", file.Bytes(), len(want), once, len(got))
	}
	for i := range want {
		if d := sameTree(want[i].Node, got[i].Node); d != "" {
			t.Fatalf("%q reads otherwise once printed:\n%s", want[i].Raw, d)
		}
	}
}

// sound gives the lines of a file that mean something, the header aside.
func sound(f *File) []*Line {
	var lines []*Line
	for _, l := range f.Lines {
		switch l.Node.(type) {
		case *Broken, *Blank, *Header:
		default:
			lines = append(lines, l)
		}
	}
	return lines
}

// sameTree compares two trees but for their places.
func sameTree(a, b any) string {
	return cmp.Diff(a, b,
		cmpopts.IgnoreTypes(Pos{}),
		cmp.Comparer(func(a, b []Pos) bool { return len(a) == len(b) }),
		cmp.Comparer(func(a, b units.Unit) bool { return a == b }),
		cmp.Comparer(func(a, b float64) bool { return a == b }))
}
