package calc_test

import (
	"fmt"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/library"
)

// told is a comparison in a row.
func told(c *answer.Comparison) string {
	var all []string
	add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	for _, r := range c.Rules {
		switch {
		case r.Was == nil:
			add("%s new %v %v", r.Name, r.Now.String(), r.Now.Verdict)
		case r.Now == nil:
			add("%s gone %v", r.Name, r.Was.String())
		default:
			add("%s %s %v>%v", r.Name, r.Now.String(), r.Was.Verdict, r.Now.Verdict)
		}
	}
	for _, r := range c.Cards {
		add("card %s %v>%v", r.Name, r.Was, r.Now)
	}
	moved := func(what string, ms []answer.Moved) {
		for _, m := range ms {
			spell := func(v *answer.Value, s answer.State) string {
				text := s.String()
				if v != nil {
					text = v.String() + " " + text
				}
				return strings.TrimSpace(text)
			}
			add("%s %s %s>%s", what, strings.Trim(m.Name+"/"+m.Label, "/"), spell(m.Was, m.WasState), spell(m.Now, m.NowState))
		}
	}
	moved("input", c.Inputs)
	moved("answer", c.Answers)
	if c.Slight > 0 {
		add("slight %d", c.Slight)
	}
	for _, s := range c.Sheets {
		add("sheet %s %s:%d>%s:%d", s.Name, s.Was.Sheet, s.Was.Edition, s.Now.Sheet, s.Now.Edition)
	}
	if len(c.New) > 0 {
		add("new %s", strings.Join(c.New, " "))
	}
	if len(c.Gone) > 0 {
		add("gone %s", strings.Join(c.Gone, " "))
	}
	return strings.Join(all, "; ")
}

func TestCompare(t *testing.T) {
	sheet := "use drop for d with length = 9.5 m, load = 2.6 A, wire = 1.5 mm2 show lost\n"
	for _, c := range []struct{ name, was, now, want string }{
		{"nothing", "a = 1 V\n2 * a\n", "a = 1 V\n2 * a\n", ""},
		{"order, notes, blanks and another spelling", "a = 1000 mV\nb = 2 V\n", "# why\n\nb = 2 V  # yes\na = 1 V\n", ""},
		{"an input, and an answer that moves with it", "a = 1 V\nb = 2 * a\n", "a = 2 V\nb = 2 * a\n", "input a 1 V>2 V; answer b 2 V>4 V"},
		{"an input is told however little it moves", "a = 1 V\nb = 2 * a\n", "a = 1.005 V\nb = 2 * a\n", "input a 1 V>1.005 V; slight 1"},
		{"1 % itself is little, a hair more is not", "a = 1 V\nb = 100 V + a\n", "a = 2 V\nb = 100 V + a\n", "input a 1 V>2 V; slight 1"},
		{"what was nothing moves", "a = 0 V\nb = 2 * a\n", "a = 1 mV\nb = 2 * a\n", "input a 0 V>1 mV; answer b 0 V>2 mV"},
		{"a tolerance", "a = 1 V +- 5 %\n", "a = 1 V +- 10 %\n", "input a 1 V +- 5 %>1 V +- 10 %"},
		{"a text and a truth", "a = \"one\"\nb = yes\n", "a = \"two\"\nb = no\n", "input a \"one\">\"two\"; input b yes>no"},
		{"another kind of quantity", "a = 1 V\n", "a = 1 A\n", "input a 1 V>1 A"},
		{"degrees, as they are read", "a = 20 degC\nb = a\n", "a = 21 degC\nb = a\n", "input a 20 degC>21 degC; answer b 20 degC>21 degC"},
		{"an answer that is gone", "a = 1 V\nb = 2 V / a\n", "a = 0 V\nb = 2 V / a\n", "input a 1 V>0 V; answer b 2>no answer: a division by nothing"},
		{"a question", "a = 1 V\n3 * a\n", "a = 2 V\n3 * a\n", "input a 1 V>2 V; answer 3 * a 3 V>6 V"},
		{"names", "a = 1 V\nb = 2 V\n", "b = 2 V\nc = 3 V\n", "new c; gone a"},
		{"a verdict turns", "a = 1 V\nmust a <= 2 V\n", "a = 3 V\nmust a <= 2 V\n", " must a <= 2 V clear>danger; input a 1 V>3 V"},
		{"the worst first", "a = 1 V\nshould a <= 2 V\nmust a <= 2 V\n", "a = 3 V\nshould a <= 2 V\nmust a <= 2 V\n", " must a <= 2 V clear>danger;  should a <= 2 V clear>caution; input a 1 V>3 V"},
		{"a rule is softened", "a = 1 V\nmust a <= 2 V\n", "a = 1 V\nshould a <= 2 V\n", " should a <= 2 V clear>clear"},
		{"a rule comes, another goes", "a = 1 V\nmust a <= 2 V\n", "a = 1 V\nmust a <= 3 V\n", " new must a <= 3 V clear;  gone must a <= 2 V"},
		{"a cell, and what rests on it", "table t | x\n  one | 1 V\n  two | 2 V\nend\nt.y = 2 * t.x\n", "table t | x\n  one | 1 V\n  two | 5 V\nend\nt.y = 2 * t.x\n",
			"input t.x/two 2 V>5 V; answer t.y/two 4 V>10 V"},
		{"a row, wherever it stands", "table t | x\n  one | 1 V\n  two | 2 V\nend\n", "table t | x\n  three | 3 V\n  one | 1 V\nend\n", `new t."three"; gone t."two"`},
		{"a table goes without its rows being named", "a = 1\ntable t | x\n  one | 1 V\nend\n", "a = 1\n", "gone t"},
		{"a setting", sheet, strings.Replace(sheet, "9.5 m", "9.55 m", 1), "input d.length 9.5 m set>9.55 m set; slight 8"},
		{"the sheet's own value again", "use drop for d with wire = 1.5 mm2\n", "use drop for d\n", "input d.wire 1.5 mm2 set>1.5 mm2 default"},
		{"the same value, settled", "use drop for d\nassume d.length = 9 m\n", "use drop for d\nd.length = 9 m\n", "input d.length 9 m assumed>9 m set"},
		{"taken from elsewhere, and then set", "table house | supply\n  one | 15 V\nend\nuse drop for d from house\n", "table house | supply\n  one | 15 V\nend\nuse drop for d from house\nd.supply = house.supply\n",
			"input d.supply from>set"},
		{"handed on from another place", "a = 15 V\nb = 16 V\nuse drop for d\nd.supply = a\n", "a = 15 V\nb = 16 V\nuse drop for d\nd.supply = b\n", "input d.supply 15 V set>16 V set; answer d.share 4.834 %>4.532 %; answer d.left 13.97 V>14.97 V; answer d.fault 31.56 A>33.67 A; answer d.longest 8.299 m>8.9 m; answer d.least_wire 1.446 mm2>1.348 mm2"},
		{"another sheet", "use drop for d\n", "use stub for d\n", "sheet d drop:4>stub:2"},
		{"a sheet that is no longer found", "use drop for d show lost\n", "use dorp for d show lost\nuse dorp\n", "d gone must lost < supply; d gone must left >= needed; d gone should share <= allowed; d gone should heat_per_metre <= 1 W/m; " +
			"d gone should next_wire != none; d.run gone should joint <= 20 mohm; d.hot gone should joint <= 20 mohm; " +
			"d.safe gone must load <= trip; d.safe gone must fault >= trip * margin; d.safe gone must trip <= lasting; new dorp"},
		{"a placed sheet goes as a whole", "a = 1\n" + sheet, "a = 1\n", "gone d"},
	} {
		lib := library.At("")
		open := func(text string) *calc.Book { return calc.Open(syntax.ParseFile([]byte(text)).Lines, lib) }
		got := calc.Compare(open(c.was), open(c.now))
		if told(got) != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, told(got), c.want)
		}
		if got.Same() != (c.want == "") {
			t.Errorf("%s: same is %v", c.name, got.Same())
		}
		if back := calc.Compare(open(c.now), open(c.was)); back.Same() != got.Same() {
			t.Errorf("%s: the other way round, same is %v", c.name, back.Same())
		}
	}
}

// another is a library in which a shipped sheet is of another edition.
type another struct {
	*library.Library
	sheet *check.Sheet
}

func (l another) Sheet(name string, own bool) (*calc.Sheet, error) {
	if name == l.sheet.Name && !own {
		return l.sheet, nil
	}
	return l.Library.Sheet(name, own)
}

func TestCompareEditions(t *testing.T) {
	lib := library.At("")
	drop, err := lib.Sheet("drop", false)
	if err != nil {
		t.Fatal(err)
	}
	later := &check.Sheet{Name: drop.Name, Meaning: drop.Meaning, Edition: drop.Edition + 1, File: drop.File}
	lines := syntax.ParseFile([]byte("use drop for d\nuse drop for e\n")).Lines
	got := told(calc.Compare(calc.Open(lines, lib), calc.Open(lines, another{lib, later})))
	if want := fmt.Sprintf("sheet  drop:%d>drop:%d", drop.Edition, drop.Edition+1); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
