package sessions

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestCells(t *testing.T) {
	const (
		tidy = "railsum 1\ntable f     | n   | kind\n  railcar   | 350 | \"a\"   # red\n  dock, old |  20 | \"bc\"\nend\na = f.railcar.n\n"
		own  = "railsum 1\ntable f | n | kind\n railcar| 350|  \"a\"  # red\n dock, old   |20 | \"bc\"\nend\na = f.railcar.n\n"
	)
	enter := func(text string) func(*Session) (Edit, error) {
		return func(s *Session) (Edit, error) { return s.Enter(text) }
	}
	runEdits(t, []editCase{
		{name: "a cell of a tidy table", before: tidy, do: enter("f.railcar.n = 5"),
			after: "railsum 1\ntable f     | n  | kind\n  railcar   |  5 | \"a\"   # red\n  dock, old | 20 | \"bc\"\nend\na = f.railcar.n\n"},
		{name: "one that has room", before: tidy, do: enter(`f."dock, old".n = 5`),
			after: "railsum 1\ntable f     | n   | kind\n  railcar   | 350 | \"a\"   # red\n  dock, old |   5 | \"bc\"\nend\na = f.railcar.n\n"},
		{name: "a cell of a table as somebody likes it", before: own, do: enter("f.railcar.n = 5"),
			after: "railsum 1\ntable f | n | kind\n railcar| 5  |  \"a\"  # red\n dock, old   |20 | \"bc\"\nend\na = f.railcar.n\n"},
		{name: "a row", before: tidy, do: func(s *Session) (Edit, error) { return s.AddRow("f", `bus|1500|"d"`) },
			after: "railsum 1\ntable f     | n    | kind\n  railcar   |  350 | \"a\"   # red\n  dock, old |   20 | \"bc\"\n  bus       | 1500 | \"d\"\nend\na = f.railcar.n\n"},
		{name: "no row", before: tidy, do: func(s *Session) (Edit, error) { return s.StrikeRow("f", "dock, old") },
			after: "railsum 1\ntable f   | n   | kind\n  railcar | 350 | \"a\"   # red\nend\na = f.railcar.n\n"},
		{name: "another order", before: tidy, do: func(s *Session) (Edit, error) { return s.MoveRow("f", "dock, old", "railcar") },
			after: "railsum 1\ntable f     | n   | kind\n  dock, old |  20 | \"bc\"\n  railcar   | 350 | \"a\"   # red\nend\na = f.railcar.n\n"},
		{name: "another label", before: tidy, do: func(s *Session) (Edit, error) { return s.RenameRow("f", "railcar", "railcar, red") },
			after: "railsum 1\ntable f        | n   | kind\n  railcar, red | 350 | \"a\"   # red\n  dock, old    |  20 | \"bc\"\nend\na = f.\"railcar, red\".n\n"},
	})
}

// Of a long table an edit takes the rows that are another, on record and in what it
// says; and one that is stopped while the table is read leaves all as it was.
func TestRowsOfALongTable(t *testing.T) {
	p := newPlace(t)
	text := "railsum 1\ntable f | n\n" + strings.Repeat("  bus | 1500\n", 2998) + "  red | 7\nend\na = sum(f.n)\n"
	path := p.write(t, "long.sums", text)
	s := p.open(t, "long.sums")
	stop := false
	s.StopWhen(func() bool { return stop })
	journal := func() (size int) {
		for _, name := range namesIn(t, p.Journals) {
			size += len(contents(t, filepath.Join(p.Journals, name)))
		}
		return size
	}
	for _, c := range []struct {
		what string
		do   func() (Edit, error)
		rows []int
	}{
		{"row added", func() (Edit, error) { return s.AddRow("f", "blue | 3") }, []int{3002}},
		{"cell", func() (Edit, error) { return s.Enter("f.red.n = 9") }, []int{3001}},
		{"row away", func() (Edit, error) { return s.StrikeRow("f", "red") }, []int{3000}},
		{"undone", s.Undo, []int{3001}},
		{"and the cell", s.Undo, []int{3001}},
		{"and the row", s.Undo, []int{3001}},
	} {
		before, size := string(s.Text()), journal()
		stop = true
		if _, err := c.do(); !errors.Is(err, ErrStopped) || string(s.Text()) != before || journal() != size {
			t.Errorf("%s, stopped: %v, the text or the journal is another", c.what, err)
		}
		stop = false
		edit, err := c.do()
		if err != nil || !slices.Equal(edit.Lines, []int{1}) || !slices.Equal(edit.Rows, c.rows) {
			t.Errorf("%s: %v, lines %v, rows %v, want %v", c.what, err, edit.Lines, edit.Rows, c.rows)
		}
		if grown := journal() - size; size > 0 && grown > 500 {
			t.Errorf("%s takes %d bytes of the journal", c.what, grown)
		}
	}
	if string(s.Text()) != text || contents(t, path) != text {
		t.Error("undone, it is another text")
	}
}
