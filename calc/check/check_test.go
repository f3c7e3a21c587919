package check_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units/words"
)

// shelf is a library of a few small sheets and tables, which counts how often
// each sheet is asked for.
type shelf struct {
	sheets map[string]*check.Sheet
	asked  map[string]int
}

var sheetTexts = map[string]string{
	"wire": `ask length = 8 m from 0 m to 100 m
ask area = 1.5 mm2 among 0.5 mm2, 1.5 mm2
ask share = 5 %
tell resistance = 1.72e-8 ohm * 1 m * length / area
tell twice = 2 * inner
inner = resistance * share
must length <= 50 m  # long enough
hazard "hot" if length > 90 m
source "by hand"`,
	"pair": `ask far = 3 m
use wire for out with length = far
use wire for back like out
tell both = out.resistance + back.resistance
`,
	"load": `ask table engines | count | draw as A
  one | 1 | 0.5
end
tell total = sum(engines.count * engines.draw)
`,
	"bad":   "tell x = 3 V + 2 A\n",
	"ring":  "use ring2 for r\n",
	"ring2": "use ring for r\n",
}

func newShelf() *shelf {
	s := &shelf{sheets: map[string]*check.Sheet{}, asked: map[string]int{}}
	for name, text := range sheetTexts {
		s.sheets[name] = &check.Sheet{Name: name, File: syntax.ParseFile([]byte(text))}
	}
	return s
}

func (s *shelf) Sheet(name string, _ bool) (*check.Sheet, error) {
	s.asked[name]++
	if sheet := s.sheets[name]; sheet != nil {
		return sheet, nil
	}
	return nil, errors.New("there is no sheet " + name)
}

func (s *shelf) Table(name string) *check.Table {
	if name != "scales" {
		return nil
	}
	l, _ := syntax.ParseLine("table scales | ratio\n  H0 | 87\n  N | 160\nend")
	return &check.Table{Name: name, Node: l.Node.(*syntax.Table)}
}

func (s *shelf) SheetNames() []string                            { return []string{"wire", "pair", "load"} }
func (s *shelf) TableFile(string) (*syntax.Table, []words.Wrong) { return nil, nil }
func (s *shelf) TableNames() []string                            { return []string{"scales"} }

func (s *shelf) Numbers(table, column string) []float64 {
	if table == "scales" && column == "ratio" {
		return []float64{87, 160}
	}
	return nil
}

func (s *shelf) Texts(table, column string) []string {
	if table == "scales" && column == "label" {
		return []string{"H0", "N"}
	}
	return nil
}

// parse reads a notebook written on one line, " ; " between its rows.
func parse(text string) []*syntax.Line {
	return syntax.ParseFile([]byte(strings.ReplaceAll(text, " ; ", "\n") + "\n")).Lines
}

// told spells what checking has found: each line's answer with its type, and
// what is wrong.
func told(c *check.Checked) string {
	var all []string
	for i, l := range c.Lines {
		if d := c.Main[i]; d != nil && d.OK() {
			word := d.Name
			if word == "" {
				word = fmt.Sprint("line ", i+1)
			}
			all = append(all, word+": "+typed(d.Type))
		}
		diags, waits := c.Said(i)
		for _, d := range append(l.Errors, diags...) {
			mark := ""
			if d.Notice {
				mark = "notice "
			}
			all = append(all, fmt.Sprintf("%s%d:%d %s", mark, d.At.Row, d.At.Col, d.Message))
		}
		for _, w := range waits {
			all = append(all, "waits for "+w)
		}
	}
	return strings.Join(all, "; ")
}

func typed(t types.Type) string {
	s := t.Scalar().Words()
	if t.Of != nil {
		s += " for each of " + t.Of.Name
	}
	return s
}

// Small notebooks, with the type of each line's answer or what is wrong with it.
var checked = []struct{ text, want string }{
	{`15 V`, `line 1: a voltage (V)`},
	{`2 * 3 A`, `line 1: a current (A)`},
	{`15 V / 3 A`, `line 1: a resistance (ohm)`},
	{`15 V * 3 A`, `line 1: a power (W)`},
	{`15 V + 3 A`, `1:6 a voltage (V) and a current (A) cannot be added`},
	{`0 + 3 A`, `line 1: a current (A)`},
	{`1 m + 0`, `line 1: a length (m)`},
	{`5 % of 15 V`, `line 1: a voltage (V)`},
	{`5 % + 2 %`, `line 1: a plain number`},
	{`15 V + 5 %`, `1:6 a percentage can be added in two ways`},
	{`share = 5 % ; share + 0.05`, `share: a plain number; line 2: a plain number`},
	{`share = 5 % ; share + 3`, `share: a plain number; 2:9 3 alone is 3 times the whole, and this is about a share`},
	{`20 degC + 5 K`, `line 1: a temperature (degC)`},
	{`20 degC - 15 degC`, `line 1: a temperature difference (K)`},
	{`20 degC + 15 degC`, `1:9 two temperatures cannot be added`},
	{`-(20 degC)`, `1:1 a temperature (degC) has no negative`},
	{`2 m^2`, `line 1: an area (m2)`},
	{`(2 m)^2`, `line 1: an area (m2)`},
	{`(2 m2)^0.5`, `line 1: a length (m)`},
	{
		`x = 2 ; (2 m)^x`,
		`x: a plain number; 2:7 the exponent of a length (m) is a written number, since the unit of the answer depends on it`,
	},
	{`2 ^ (3 V)`, `1:5 an exponent is a plain number; this is a voltage (V)`},
	{`3 V < 4 V`, `line 1: yes or no`},
	{`3 V < 4 A`, `1:5 a voltage (V) and a current (A) cannot be compared`},
	{`"a" = "b"`, `line 1: yes or no`},
	{`"a" < "b"`, "1:5 a text has no order, so `<` means nothing"},
	{`not 3`, "1:5 `not` needs yes or no here; this is a plain number"},
	{`1 < 2 and 3`, "1:11 `and` needs yes or no here; this is a plain number"},
	{`if 1 < 2 then 3 V else 0`, `line 1: a voltage (V)`},
	{
		`if 1 < 2 then 3 V else 4 A`,
		"1:24 `then` gives a voltage (V) and `else` gives a current (A); both must be alike",
	},
	{`if 3 then 1 else 2`, "1:4 `if` needs yes or no here; this is a plain number"},
	{`25 m at H0`, `line 1: a length (m)`},
	{`25 m at N`, `line 1: a length (m)`},
	{`3 A at H0`, `1:5 only lengths, areas, volumes, speeds and accelerations have a scale; this is a current (A)`},
	{`25 m at H1`, `1:9 H1 is not a scale; waits for H1`},
	{`x = 3 kohm as A`, `1:15 a resistance (ohm) cannot be shown in A`},
	{`x = 3 kohm as ohm`, `x: a resistance (ohm)`},
	{`sqrt(4 m2)`, `line 1: a length (m)`},
	{`sqr(4 m2)`, `1:1 there is no function sqr`},
	{`b = a * 2 ; a = 3 V`, `b: a voltage (V); a: a voltage (V)`},
	{`a = b ; b = c ; c = a`, `3:5 this goes round in a circle: a needs b needs c needs a`},
	{`a = a`, `1:5 this goes round in a circle: a needs a`},
	{`a = 1 V ; a = 2 V ; a`, `a: a voltage (V); 2:1 a is already defined on line 1; line 3: a voltage (V)`},
	{
		`x = 3 + ; x = 5 V ; x * 2`,
		`1:8 a value is missing at the end of the line; x: a voltage (V); line 3: a voltage (V)`,
	},
	{
		`x = 5 V ; x = 3 + ; x * 2`,
		`x: a voltage (V); 2:8 a value is missing at the end of the line; line 3: a voltage (V)`,
	},
	{`x = 3 + ; x * 2`, `1:8 a value is missing at the end of the line`},
	{`x = nope * 2 ; y = x + 1`, `1:5 nope is not defined; waits for nope`},
	{
		`pi = 3 ; pi`,
		`pi: a plain number; notice 1:1 pi is also a name of the library; in this notebook it means this line; line 2: a plain number`,
	},
	{`scales.ratio`, `line 1: a plain number for each of scales`},
	{`table t | v as V | n ; a | 3 | 1 ; b | 0 | 2 ; end ; t.v * t.n`, `line 2: a voltage (V) for each of t`},
	{
		`table t | v as V ; a | 3 ; b | 2 A ; end`,
		`3:5 this is a current (A) in a column of which the rest is a voltage (V)`,
	},
	{`table t | v ; a | 3 V ; b | 0 ; end ; t.v`, `line 2: a voltage (V) for each of t`},
	{`table t | v ; a | 3 V ; b | 0 ; end ; t."b".v`, `line 2: a voltage (V)`},
	{`table t | v ; a | 0 ; b | t."a".v + 1 ; end ; t.v`, ``},
	{
		`table t | v ; a | 3 V ; end ; t.w = t.v * 2 ; sum(t.w)`,
		`t.w: a voltage (V) for each of t; line 3: a voltage (V)`,
	},
	{`table t | v ; a | 3 V ; end ; t.w = 4`, `t.w: a plain number for each of t`},
	{`table t | v ; a | 3 V ; end ; t.x`, `4:3 t has no column x`},
	{`table t | v ; a | 3 V ; end ; t."z".v`, `4:3 t has no row "z"`},
	{`table t | v ; a | 3 V ; end ; t`, `4:1 t is a whole table`},
	{
		`table t | v ; a | 3 V ; end ; table u | v ; a | 3 V ; end ; t.v + u.v`,
		`7:5 one side has a row for each of t, the other for each of u`,
	},
	{`table t | v ; end ; t.v`, `3:1 t.v has no rows, so its unit is not known`},
	{`15 V ; that * 2`, `line 1: a voltage (V); line 2: a voltage (V)`},
	{`that * 2`, "1:1 there is no question above for `that` to mean"},
	{`must 3 V <= 4 V`, `line 1: yes or no`},
	{`must 3 V`, `1:6 a rule needs something that holds or not; this is a voltage (V)`},
	{`hazard "hot" if 3 V`, "1:17 `if` of a hazard needs something that holds or not; this is a voltage (V)"},
	{`v = 15 V +- 5 %`, `v: a voltage (V)`},
	{`v = 15 V +- 1 A`, `1:13 the tolerance of a voltage (V) cannot be a current (A)`},
	{`v = 15 V +- 1`, `1:13 1 what?`},
	{`v = 20 degC +- 5 %`, `1:13 a share of a temperature depends on where its scale begins`},
	{`v = 20 degC +- 2 K`, `v: a temperature (degC)`},
	{`v = "a" +- 5 %`, `1:9 a text has no tolerance`},
	{
		`v = 0 V +- 5 %`,
		`v: a voltage (V); notice 1:12 5 % of nothing is nothing`,
	},
	{`ask v = 3 V from 0 A to 4 A`, `1:18 the input is a voltage (V), and this is a current (A)`},
	{`ask v = 3 V from 0 to 4 V`, `v: a voltage (V)`},
	{`ask v = 3 V among 1 V, 2 A`, `1:24 the input is a voltage (V), and this is a current (A)`},
	{`use wire for a ; a.resistance`, `line 2: a resistance (ohm)`},
	{`use wire for a ; a.inner`, `2:3 inner is inside wire and cannot be used from outside`},
	{`use wire for a ; a.length = 3 A`, `2:12 wire asks for a length (m) as length, and this is a current (A)`},
	{`use wire for a ; a.length = 3`, `2:12 wire asks for a length (m) as length, and this is a plain number`},
	{`use wire for a ; a.share = 5`, `2:11 5 alone is 5 times the whole, and this is about a share`},
	{`use wire for a ; a.width = 5 m`, `2:3 wire does not ask for width`},
	{`use wire for a ; a.resistance = 5 ohm`, `2:3 a.resistance is an answer of wire, not an input`},
	{`use wire for a with length = 3 m, length = 4 m`, `1:35 length appears twice`},
	{`use wire for a with length = 3 m ; a.length = 4 m`, `2:3 length of a is already set on line 1`},
	{`use wire for a ; use wire for a`, `2:14 a is already defined on line 1`},
	{`use wire for a ; a`, `2:1 a is a placed sheet, not a value`},
	{`use nothing for a`, `1:5 there is no sheet nothing`},
	{
		`use bad for a ; a.x`,
		`1:5 sheet bad has an error on its line 1: a voltage (V) and a current (A) cannot be added`,
	},
	{
		`use ring for a`,
		`1:5 sheet ring has an error on its line 1: sheet ring2 has an error on its line 1: the sheets go round in a circle: ring2 uses ring uses ring2`,
	},
	{`use pair for p ; p.both`, `line 2: a resistance (ohm)`},
	{
		`use pair for p ; p.far = p.both`,
		`2:32 this goes round in a circle: p.far needs p.both needs p.out.resistance needs p.out.length needs p.far`,
	},
	{
		`use wire for a with length = b.resistance * 1 m / 1 ohm ; use wire for b with length = a.resistance * 1 m / 1 ohm`,
		`2:30 this goes round in a circle: a.length needs b.resistance needs b.length needs a.resistance needs a.length`,
	},
	{
		`table t | far ; a | 3 m ; end ; use wire for w with length = t.far ; w.resistance`,
		`line 3: a resistance (ohm) for each of t`,
	},
	{
		`table t | far ; a | 3 m ; end ; table u | wide ; a | 3 mm2 ; end ; use wire for w with length = t.far, area = u.wide`,
		`7:44 w.area has a row for each of u, and w.length one for each of t`,
	},
	{
		`table t | count | draw ; a | 2 | 1 A ; end ; use load for l with engines = t ; l.total`,
		`line 3: a current (A)`,
	},
	{
		`table t | count | draw ; a | 2 | 1 V ; end ; use load for l with engines = t`,
		`4:31 load asks for a current (A) as engines, and this is a voltage (V)`,
	},
	{
		`table t | count ; a | 2 ; end ; use load for l with engines = t`,
		`4:31 t has no column draw; engines asks for count and draw`,
	},
	{`use load for l ; l.engines.count = 3`, `2:19 engines.count asks for a table here`},
	{`use wire for a with length = 3 m ; use wire for b like a ; b.resistance`, `line 3: a resistance (ohm)`},
	{`use wire for b like a`, `1:21 a is no placed sheet; waits for a`},
	{`v0 = 3 V ; find v0 so v0 * 2 = 8 V`, `v0: a voltage (V)`},
	{
		`v0 = 3 V ; find v0 so v0 * 2 = 8 A`,
		`v0: a voltage (V); 2:19 a voltage (V) and a current (A) cannot be compared`,
	},
}

func TestCheck(t *testing.T) {
	lib := newShelf()
	for _, c := range checked {
		if got := told(check.Check(parse(c.text), lib)); got != c.want {
			t.Errorf("%s\n got  %s\n want %s", c.text, got, c.want)
		}
	}
}

// What is computed comes after all that it depends on, however the lines stand.
func TestOrder(t *testing.T) {
	for _, text := range []string{
		"d = c + b ; c = b * 2 ; b = a ; a = 3 V",
		"use pair for p with far = x ; x = y * 2 ; y = 1 m ; p.both * 2",
		"t.w = t.v * k ; k = 2 ; table t | v ; a | 3 V ; b | t.\"a\".v ; end ; sum(t.w)",
		"must x <= y ; x = 3 V ; y = 2 * x",
	} {
		c := check.Check(parse(text), newShelf())
		for i, d := range c.Order {
			if d.Order != i {
				t.Errorf("%s: %q says it is number %d of the order, and is number %d", text, d.Name, d.Order, i)
			}
			for _, dep := range d.Deps {
				if dep.Order >= i {
					t.Errorf("%s: %q comes before %q, which it needs", text, d.Name, dep.Name)
				}
			}
		}
		for i, d := range c.Main {
			if d != nil && !d.OK() {
				t.Errorf("%s: line %d is in error: %s", text, i+1, told(c))
			}
		}
	}
}

// How a line's answer is shown, and how sure it is.
func TestDisplay(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"15 V", "V typed"},
		{"3k3", ""},
		{"2 ft 6 in", "ft typed 2 ft 6 in"},
		{"1:87", " typed 1:87"},
		{"2 * 3 V", ""},
		{"2 * 3 V as mV", "mV pinned"},
		{"5 % + 2 %", "%"},
		{"v = 15 V ; v", "V"},
		{"v = 2 * 3 V as mV ; v", "mV"},
		{"v = 15 V +- 5 %", "V typed +- 0.05 of it"},
		{"v = 15 V +- 30 mV", "V typed +- 0.03"},
		{"v = 15 V +- 5 % ; 2 * v", " loose"},
		{"v = 15 V +- 5 % ; w = 2 * v ; w", " loose"},
		{"use wire for w ; w.length = 2 * 3 m", " ask m"},
	} {
		checked := check.Check(parse(c.text), newShelf())
		d := checked.Main[len(checked.Main)-1]
		got := d.Show.String()
		for _, x := range []struct {
			is   bool
			said string
		}{
			{d.Pinned, " pinned"}, {d.Typed, " typed"}, {d.Literal != "", " " + d.Literal}, {!d.AskUnit.IsZero(), " ask " + d.AskUnit.String()},
			{d.Tol > 0, fmt.Sprint(" +- ", d.Tol)}, {d.TolShare, " of it"}, {d.Loose, " loose"},
		} {
			if x.is {
				got += x.said
			}
		}
		if got != c.want {
			t.Errorf("%s is shown %q, want %q", c.text, got, c.want)
		}
	}
}

// What a shipped sheet asks and gives is worked out once, for all notebooks; of
// an own sheet, which may change with what it stands on, once for each.
func TestFactsOnce(t *testing.T) {
	for _, own := range []bool{false, true} {
		lib := newShelf()
		for _, s := range lib.sheets {
			s.Own = own
		}
		count := func() int {
			before := lib.asked["wire"]
			check.Check(parse("use pair for p ; use pair for q"), lib)
			return lib.asked["wire"] - before
		}
		// pair places wire on two lines: twice to be known, twice for p, twice for q.
		again := 4
		if own {
			again = 6
		}
		if first, second := count(), count(); first != 6 || second != again {
			t.Errorf("own %v: wire was asked for %d times and then %d times, want 6 and %d", own, first, second, again)
		}
	}
}

// A bound or a side of a rule that is a literal of a sheet is one Def in all its
// placements; what a study can change is not.
func TestLiteralsOfSheetsAreShared(t *testing.T) {
	c := check.Check(parse("use wire for a ; use wire for b"), newShelf())
	a, b := c.Places[0][0], c.Places[1][0]
	if a.Asks[0].Bounds != b.Asks[0].Bounds || a.Rules[0].Sides[1] != b.Rules[0].Sides[1] || a.Asks[1].Choice[1] != b.Asks[1].Choice[1] {
		t.Error("a literal of the sheet was made anew for the second placement")
	}
	if a.Asks[0] == b.Asks[0] || a.Rules[0] == b.Rules[0] || a.Rules[0].Sides[0] == b.Rules[0].Sides[0] {
		t.Error("two placements have a value in common")
	}
}

// A line is replaced the short way only where nothing but its value changes.
func TestReplace(t *testing.T) {
	for _, c := range []struct {
		text  string
		line  int
		by    string
		short bool
	}{
		{"v = 15 V ; w = v * 2", 0, "v = 16 V", true},
		{"v = 15 V ; w = v * 2", 1, "w = v * 3", true},
		{"v = 15 V ; w = v * 2", 0, "v = 16 A", false},
		{"v = 15 V ; w = v * 2", 0, "v = 16 mV", false},
		{"v = 15 V ; w = v * 2", 0, "u = 16 V", false},
		{"v = 15 V ; w = v * 2", 0, "v = w", false},
		{"v = 15 V ; w = v * 2", 0, "v = 15 V +- 5 %", false},
		{"v = 15 V ; w = v * 2", 0, "v = 15 V as V", false},
		{"v = 15 V ; w = v * 2", 0, "assume v = 15 V", false},
		{"v = 15 V ; w = v * 2", 0, "v = nope", false},
		{"v = 15 V ; w = v * 2", 0, "v = 25 m at H0 * 1 V / 1 m", false}, // scales are met for the first time
		{"use wire for a ; a.length = 3 m", 1, "a.length = 4 m", true},
		{"use wire for a ; a.length = 3 m ; use wire for b like a", 1, "a.length = 4 m", false},
		{"x = 2 ; v = 15 V ; find v so v * x = 20 V", 1, "v = 16 V", true},
		{"x = 2 ; v = 15 V ; find v so v * x = 20 V", 1, "v = 8 V * x", false},
	} {
		checked := check.Check(parse(c.text), newShelf())
		order := len(checked.Order)
		l, _ := syntax.ParseLine(c.by)
		d, short := checked.Replace(c.line, l)
		if short != c.short || short != (d != nil) || len(checked.Order) != order {
			t.Errorf("%s: line %d by %s: the short way: %v, want %v; %d in the order, were %d", c.text, c.line+1, c.by, short, c.short, len(checked.Order), order)
		}
		if short && (checked.Lines[c.line] != l || d.Src != l) {
			t.Errorf("%s: line %d by %s: the line has not changed", c.text, c.line+1, c.by)
		}
	}
}

// A line is added the short way only where nothing above can depend on it.
func TestAppend(t *testing.T) {
	for _, c := range []struct {
		text, line string
		short      bool
	}{
		{"v = 15 V", "w = v * 2", true},
		{"v = 15 V", "must v <= 20 V", true},
		{"v = 15 V", "use wire for a with length = 3 m", true},
		{"v = 15 V", "use scales for a", true},
		{"15 V", "that * 2", true},
		{"v = 15 V", "v = 16 V", false},
		{"v = w * 2", "w = 3 V", false},
		{"must w > 3 V", "w = 3 V", false},
		{"use wire for a with length = l", "l = 3 m", false},
		{"use wire for a", "a.length = 3 m", false},
		{"v = 15 V", "prefer mV", false},
		{"v = 15 V", "pi = 3", false},
		{"v = 25 m at H0", "H0 = 3", false},
		{"v = 15 V", "v = 3 +", false},
	} {
		checked := check.Check(parse(c.text), newShelf())
		l, _ := syntax.ParseLine(c.line)
		from, short := checked.Append(l)
		if short != c.short {
			t.Errorf("%s, then %s: the short way: %v, want %v", c.text, c.line, short, c.short)
			continue
		}
		if !short {
			continue
		}
		l.Row = len(checked.Lines)
		anew := check.Check(append(parse(c.text), l), newShelf())
		if told(checked) != told(anew) || from > len(checked.Order) || len(checked.Order) != len(anew.Order) {
			t.Errorf("%s, then %s:\n short %s\n anew  %s", c.text, c.line, told(checked), told(anew))
		}
	}
}
