package sessions

import "testing"

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
