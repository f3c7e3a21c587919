package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/syntax"
	"railsum/library"
)

func TestLinks(t *testing.T) {
	text := `track = 15 V
drawn = sum(fleet.draw)
table fleet | count | draw as mA
  shunter | 2 | 280
  railcar | 1 | 450
end
use drop for north with length = 9.5 m
north.load = drawn
north.supply = track
must north.lost <= 5 % of track
spare = 3 A - drawn
left = north.left
should left >= 10 V
find north.length so north.lost = 1 V
suppose track = 14 V show left
fleet.heat = fleet.draw * track
use stub for s
`
	book := calc.Open(syntax.ParseFile([]byte(text)).Lines, library.At(""))
	spell := func(ls []calc.Link) string {
		var all []string
		for _, l := range ls {
			s := fmt.Sprint(l.Row)
			if l.Through {
				s = "(" + s + ")"
			}
			all = append(all, s)
		}
		return strings.Join(all, " ")
	}
	for _, c := range []struct{ name, at, uses, needs string }{
		{"track", "1", "9 10 15 16 (7) (12) (13)", ""},
		{"drawn", "2", "8 11 (7) (10) (12) (13) (14) (15)", "3"},
		{"fleet", "3 16", "2 (7) (8) (10) (11) (12) (13) (14) (15)", "1"},
		{"fleet.draw", "3", "2 16 (7) (8) (10) (11) (12) (13) (14) (15)", ""},
		{"fleet.count", "3", "", ""},
		{`fleet."railcar".draw`, "3", "2 16 (7) (8) (10) (11) (12) (13) (14) (15)", ""},
		{"spare", "11", "", "2 (3)"},
		{"north", "7 8 9", "10 12 14 (13) (15)", "1 2 (3)"},
		{"north.lost", "7", "10 12 14 (13) (15)", "8 (2) (3)"},
		{"north.load", "8", "7 (10) (12) (13) (14) (15)", "2 (3)"},
		{"left", "12", "13 15", "7 (1) (2) (3) (8) (9)"},
		{"s", "17", "", ""},
	} {
		l := book.LinksOf(c.name)
		if l == nil {
			t.Errorf("%s: not found", c.name)
			continue
		}
		var at []string
		for _, line := range l.At {
			at = append(at, fmt.Sprint(line.Row))
		}
		sorted := func(s string) string { // those through others are told behind
			var direct, through []string
			for _, w := range strings.Fields(s) {
				if strings.HasPrefix(w, "(") {
					through = append(through, w)
				} else {
					direct = append(direct, w)
				}
			}
			return strings.Join(append(direct, through...), " ")
		}
		if got := strings.Join(at, " "); got != c.at {
			t.Errorf("%s is on %s, want %s", c.name, got, c.at)
		}
		if got := sorted(spell(l.Uses)); got != c.uses {
			t.Errorf("on %s depend %s, want %s", c.name, got, c.uses)
		}
		if got := sorted(spell(l.Needs)); got != c.needs {
			t.Errorf("%s depends on %s, want %s", c.name, got, c.needs)
		}
	}
	for _, name := range []string{"nothing", "north.nothing", "1 + 1", "pi", "sin", "fleet.nothing", `fleet."none"`, ""} {
		if l := book.LinksOf(name); l != nil {
			t.Errorf("%q: found %d lines", name, len(l.At))
		}
	}
}
