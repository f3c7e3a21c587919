package sessions

import "testing"

func TestRename(t *testing.T) {
	rename := func(a, b string) func(*Session) (Edit, error) {
		return func(s *Session) (Edit, error) { return s.Rename(a, b) }
	}
	runEdits(t, []editCase{
		{name: "a value, wherever it stands",
			before: "track = 15 V  # the track\nlost = 5 % of track\nmust lost<=track*track/track\n\"track\"\n",
			do:     rename("track", "supply"),
			after:  "supply = 15 V  # the track\nlost = 5 % of supply\nmust lost<=supply*supply/supply\n\"track\"\n"},
		{name: "whole words only", before: "a = 1\nab = 2\nb = a + ab\n", do: rename("a", "c"), after: "c = 1\nab = 2\nb = c + ab\n"},
		{name: "to something longer, twice in a row", before: "a = 1\nb = a + a * (a - 2)\n", do: rename("a", "long_name"), after: "long_name = 1\nb = long_name + long_name * (long_name - 2)\n"},
		{name: "a placed sheet", before: "use drop for north, south\nnorth.length = 9 m\nx = north.lost + south.lost\n", do: rename("north", "quay"),
			after: "use drop for quay, south\nquay.length = 9 m\nx = quay.lost + south.lost\n"},
		{name: "not an input of that name", before: "length = 9 m\nuse drop for n with length = length\n", do: rename("length", "run"), after: "run = 9 m\nuse drop for n with length = run\n"},
		{name: "not a part of that name", before: "use drop for n\nlength = 9 m\nn.length = length\n", do: rename("length", "run"), after: "use drop for n\nrun = 9 m\nn.length = run\n"},
		{name: "a table, its labels untouched", before: "table f | n\n  f | 1 # f\nend\na = sum(f.n) + f.f.n\n", do: rename("f", "fleet"), after: "table fleet | n\n  f | 1 # f\nend\na = sum(fleet.n) + fleet.f.n\n"},
		{name: "a column", before: "table f | n | m as A\n  n | 1 | 2\nend\na = sum(f.n) + f.n.n + f.n.m\n", do: rename("f.n", "f.count"),
			after: "table f | count | m as A\n  n | 1 | 2\nend\na = sum(f.count) + f.n.count + f.n.m\n"},
		{name: "a computed column", before: "table f | n\n  x | 1\nend\nf.m = f.n * 2\na = sum(f.m)\n", do: rename("f.m", "f.twice"), after: "table f | n\n  x | 1\nend\nf.twice = f.n * 2\na = sum(f.twice)\n"},
		{name: "in cells", before: "k = 2\ntable f | n\n  k | k * 2 | \nend\ntable g | n\n  k | k * 2\nend\n", do: rename("k", "z"), after: "z = 2\ntable f | n\n  k | k * 2 | \nend\ntable g | n\n  k | z * 2\nend\n"},
		{name: "behind at", before: "my = 1:87\n25 m at my\n", do: rename("my", "ours"), after: "ours = 1:87\n25 m at ours\n"},
		{name: "not the function of that name", before: "count = 3\na = count(yes) + count\n", do: rename("count", "number"), after: "number = 3\na = count(yes) + number\n"},
		{name: "letters beyond ASCII", before: "länge = 3 m\nx = 2 * länge + länge\n", do: rename("länge", "größe"), after: "größe = 3 m\nx = 2 * größe + größe\n"},
		{name: "composed otherwise", before: "la\u0308nge = 3 m\nx = 2 * l\u00e4nge + 1 m\n", do: rename("l\u00e4nge", "run"), after: "run = 3 m\nx = 2 * run + 1 m\n"},
		{name: "after a tab and a rune", before: "a = 1\n\"Ω\" = \"µ\"\n\tb = a\n", do: rename("a", "c"), after: "c = 1\n\"Ω\" = \"µ\"\n\tb = c\n"},
		{name: "carriage returns", before: "a = 1\r\nb = a\r\n", do: rename("a", "c"), after: "c = 1\r\nb = c\r\n"},
		{name: "clash", before: "a = 1\nb = 2\n", do: rename("a", "b"), refuse: "line 2 mentions b already"},
		{name: "clash with what is waited for", before: "a = 1\nx = b\n", do: rename("a", "b"), refuse: "line 2 mentions b already"},
		{name: "clash of columns", before: "table f | n | m\n  x | 1 | 2\nend\n", do: rename("f.n", "f.m"), refuse: "f.m already"},
		{name: "reserved", before: "a = 1\n", do: rename("a", "list"), refuse: "list"},
		{name: "no name", before: "a = 1\n", do: rename("a", "3b"), refuse: "no name"},
		{name: "not there", before: "a = 1\n", do: rename("b", "c"), refuse: "there is no b here"},
		{name: "the same", before: "a = 1\n", do: rename("a", "a"), refuse: "its name already"},
		{name: "an input of a sheet", before: "use drop for n\nn.length = 9 m\n", do: rename("n.length", "n.run"), refuse: "n.length is no column"},
		{name: "a column of a file", before: "table f from \"f.csv\"\na = sum(f.n)\n", do: rename("f.n", "f.m"), refuse: "the columns of f are named in f.csv"},
		{name: "to another table", before: "table f | n\n  x | 1\nend\n", do: rename("f.n", "g.n"), refuse: "the part before the dot has to stay"},
		{name: "a value into a part", before: "a = 1\n", do: rename("a", "f.a"), refuse: "before the dot"},
		{name: "to a scale's symbol", before: "my = 1:87\n25 m at my\n", do: rename("my", "H0"), refuse: "read as something else"},
	})
}

func TestKeep(t *testing.T) {
	keep := func(name string) func(*Session) (Edit, error) {
		return func(s *Session) (Edit, error) { return s.Keep(name) }
	}
	runEdits(t, []editCase{
		{name: "the last question", before: "1 + 1\n2 + 2  # four\na = 1\n", do: keep("four"), after: "1 + 1\nfour = 2 + 2  # four\na = 1\n"},
		{name: "with its thats", before: "1 + 1\n2 + 2\na = that + that * 2\nb = 3 * that  # that\n", do: keep("four"), after: "1 + 1\nfour = 2 + 2\na = four + four * 2\nb = 3 * four  # that\n"},
		{name: "a that above stays", before: "1 + 1\nthat * 2\nb = that\n", do: keep("x"), after: "1 + 1\nx = that * 2\nb = x\n"},
		{name: "with its unit", before: "\t2 m as mm\r\na = that\r\n", do: keep("x"), after: "\tx = 2 m as mm\r\na = x\r\n"},
		{name: "a card", before: "use drop with length = 9 m  # n\n", do: keep("north"), after: "use drop for north with length = 9 m  # n\n"},
		{name: "a comparison", before: "1 < 2\n", do: keep("ok"), after: "ok = 1 < 2\n"},
		{name: "taken", before: "a = 1\n1 + 1\n", do: keep("a"), refuse: "a is defined on line 1 already"},
		{name: "no question", before: "a = 1\n", do: keep("b"), refuse: "no question"},
		{name: "dotted", before: "1 + 1\n", do: keep("a.b"), refuse: "dot"},
		{name: "reserved", before: "1 + 1\n", do: keep("list"), refuse: "list"},
		{name: "two names", before: "1 + 1\n", do: keep("a b"), refuse: "no name"},
	})
}
