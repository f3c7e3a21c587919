package function

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
)

// The tests call functions as the checker and the machine do: Type, For, then
// whichever kernel is set. Arguments are written as small texts: "3 V" and
// "2120" are literals, "=3 V" a name of that value, "'red'" a text, "20 degC" a
// temperature, "[1 V, 2 V]" a column of table t, "{…}" one of table u, "yes".

func TestEntries(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range All() {
		kernels := 0
		for _, set := range []bool{f.One != nil, f.Two != nil, f.Many != nil, f.Down != nil, f.Seek != nil, f.Along != nil} {
			if set {
				kernels++
			}
		}
		if kernels != 1 {
			t.Errorf("%s has %d kernels", f.Name, kernels)
		}
		if f.Type == nil || f.Meaning == "" || f.Args == "" || f.Example == "" || f.Answer == "" {
			t.Errorf("%s lacks a rule, a meaning, arguments, an example or an answer", f.Name)
		}
		if f.Group == "the trade" && f.Source == "" {
			t.Errorf("%s is of the trade and has no source", f.Name)
		}
		if !strings.Contains(f.Example, f.Name+"(") || !strings.HasPrefix(f.Args, f.Name+"(") {
			t.Errorf("%s: its arguments %q and example %q should name it", f.Name, f.Args, f.Example)
		}
		if strings.HasSuffix(f.Meaning, ".") {
			t.Errorf("%s: the meaning ends with a full stop", f.Name)
		}
		if seen[f.Name] || Find(f.Name) != f {
			t.Errorf("%s is there twice", f.Name)
		}
		seen[f.Name] = true
	}
	if Find("pow") != nil || Find("Sin") != nil || Find("") != nil {
		t.Error("a function was found that is none")
	}
}

func TestOrderOfAll(t *testing.T) {
	last := ""
	group := 0
	for _, f := range All() {
		if f.Group != order[group] {
			group++
			last = ""
			if group >= len(order) || f.Group != order[group] {
				t.Fatalf("%s of group %q is out of order", f.Name, f.Group)
			}
		}
		if f.Name <= last {
			t.Errorf("%s comes after %s", f.Name, last)
		}
		last = f.Name
	}
	if group != len(order)-1 {
		t.Error("a group is empty")
	}
}

// Every function answers any number of arguments of any kind with a type or an
// error that a user can read, and finite arguments with a finite value or a
// fault.
func TestAnything(t *testing.T) {
	kinds := []string{"0", "3", "-2.5", "1e300", "=1e-320", "5 V", "=0 ohm", "10 mm", "20 degC", "5 %", "'x'", "'104'", "yes", "[1 V, -2 V]", "[]", "{3 mm}", "['a', 'b']", "?"}
	for _, f := range All() {
		for _, a := range kinds {
			tryAnything(t, f, a)
			for _, b := range kinds {
				tryAnything(t, f, a, b)
				tryAnything(t, f, a, b, a)
				tryAnything(t, f, a, b, b)
			}
		}
		tryAnything(t, f)
		tryAnything(t, f, kinds[:5]...)
	}
}

func tryAnything(t *testing.T, f *Function, texts ...string) {
	t.Helper()
	var unknown bool
	for _, text := range texts {
		unknown = unknown || text == "?"
	}
	c := newCall(f, texts)
	typ, err := f.Type(c.args)
	switch {
	case unknown && (err != nil || typ.Kind != types.Unknown):
		t.Errorf("%s: an unknown argument should poison and say nothing, got %v %v", c, typ, err)
	case err != nil && (err.Message == "" || err.Arg >= len(texts) || strings.HasSuffix(err.Message, ".") || strings.Contains(err.Message+err.Cure, "%!")):
		t.Errorf("%s: bad message %+v", c, err)
	case err == nil && !unknown && typ.Kind == types.Unknown:
		t.Errorf("%s: neither a type nor an error", c)
	}
	if err != nil || unknown {
		return
	}
	if typ.Dim.Beyond() {
		t.Errorf("%s: a dimension beyond all units", c)
	}
	c.f = f.For(c.args)
	values, faults := c.run()
	for i, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s is %v with the fault %q", c, v, faults[i].Words())
		}
	}
}

// row is one call and what it gives: "3 V", "'text'", or "fault: words"; and
// where the expectation is from, if it is not plain mathematics.
type row struct {
	f      string
	args   []string
	want   string
	source string
}

func in(args ...string) []string { return args }

func check(t *testing.T, rows []row) {
	t.Helper()
	for _, r := range rows {
		f := Find(r.f)
		if f == nil {
			t.Fatalf("no function %s", r.f)
		}
		c := newCall(f, r.args)
		typ, err := f.Type(c.args)
		if err != nil {
			t.Errorf("%s: %v", c, err)
			continue
		}
		c.f = f.For(c.args)
		values, faults := c.run()
		for i, want := range strings.Split(r.want, " | ") {
			if i >= len(values) {
				t.Errorf("%s has no row %d", c, i)
				break
			}
			compare(t, c, typ, values[i], faults[i], want)
		}
	}
}

func compare(t *testing.T, c *call, typ types.Type, v float64, fault Fault, want string) {
	t.Helper()
	if words, ok := strings.CutPrefix(want, "fault: "); ok {
		if !strings.Contains(fault.Words(), words) || fault == Sound {
			t.Errorf("%s: fault %q, want %q", c, fault.Words(), words)
		}
		return
	}
	if fault != Sound {
		t.Errorf("%s: %s, want %s", c, fault.Words(), want)
		return
	}
	if text, ok := strings.CutPrefix(want, "'"); ok {
		if typ.Kind != types.Text || c.w.Text(v) != strings.TrimSuffix(text, "'") {
			t.Errorf("%s is %q, want %s", c, c.w.Text(v), want)
		}
		return
	}
	// "~" is for values that outside sources give to so many digits only.
	want, rough := strings.CutPrefix(want, "~")
	w := newCall(c.f, in(want))
	if !sameKind(typ, w.args[0].Type) {
		t.Errorf("%s is %s, want %s", c, typ.Words(), w.args[0].Words())
		return
	}
	tol := 1e-14
	if rough {
		tol = 5e-4
	}
	if x := w.columns[0][0]; math.Abs(v-x) > tol*math.Abs(x) {
		t.Errorf("%s is %.17g, want %.17g (%s)", c, v, x, want)
	}
}

// refusals are calls that the type rule refuses: parts of the message and of
// the cure, and the argument they point at.
type refusal struct {
	f             string
	args          []string
	arg           int
	message, cure string
}

func refuse(t *testing.T, rows []refusal) {
	t.Helper()
	for _, r := range rows {
		f := Find(r.f)
		c := newCall(f, r.args)
		typ, err := f.Type(c.args)
		switch {
		case err == nil:
			t.Errorf("%s is %s, want the error %q", c, typ.Words(), r.message)
		case !strings.Contains(err.Message, r.message) || !strings.Contains(err.Cure, r.cure) || (err.Cure == "") != (r.cure == ""):
			t.Errorf("%s:\n got %q\n     %q\nwant %q\n     %q", c, err.Message, err.Cure, r.message, r.cure)
		case err.Arg != r.arg:
			t.Errorf("%s points at argument %d, want %d", c, err.Arg, r.arg)
		}
	}
}

// call is a call with its arguments made out of texts.
type call struct {
	f       *Function
	w       *World
	texts   []string
	args    []Arg
	columns [][]float64
}

func (c *call) String() string { return c.f.Name + "(" + strings.Join(c.texts, ", ") + ")" }

var tableT, tableU = &types.Table{Name: "t"}, &types.Table{Name: "u"}

func newCall(f *Function, texts []string) *call {
	c := &call{f: f, w: &World{Data: shelf, Interner: &interned{}}, texts: texts}
	for i, text := range texts {
		a, column := c.arg(text, string(rune('a'+i)))
		c.args = append(c.args, a)
		c.columns = append(c.columns, column)
	}
	return c
}

func (c *call) arg(text, name string) (Arg, []float64) {
	named := &syntax.Name{Parts: []syntax.Part{{Text: name}}}
	switch {
	case text == "?":
		return Arg{Expr: named}, nil
	case text == "yes" || text == "no":
		v := map[string]float64{"yes": 1}[text]
		return Arg{types.Type{Kind: types.Truth}, &syntax.Truth{Value: v == 1}}, []float64{v}
	case strings.HasPrefix(text, "'"):
		s := strings.Trim(text, "'")
		return Arg{types.Type{Kind: types.Text}, &syntax.Text{Value: s}}, []float64{c.w.ID(s)}
	case strings.HasPrefix(text, "="):
		a, v := c.arg(text[1:], name)
		a.Expr = named
		return a, v
	case strings.ContainsAny(text[:1], "[{"):
		a := Arg{types.Type{Kind: types.Number, Of: tableT}, named}
		if text[0] == '{' {
			a.Of = tableU
		}
		column := []float64{}
		for cell := range strings.SplitSeq(text[1:len(text)-1], ", ") {
			if cell == "" {
				continue
			}
			x, v := c.arg(cell, "")
			a.Kind, a.Dim = x.Kind, x.Dim
			column = append(column, v...)
		}
		return a, column
	case strings.Contains(text, "/0"):
		n, _ := strconv.ParseFloat(strings.TrimSuffix(text, "/0"), 64)
		e := &syntax.Binary{Op: "/", X: &syntax.Literal{Text: fmt.Sprint(n), Value: n}, Y: &syntax.Literal{Text: "0"}}
		return Arg{types.Plain, e}, []float64{math.Inf(1)}
	}
	return literalArg(text)
}

func literalArg(text string) (Arg, []float64) {
	number, unit, _ := strings.Cut(text, " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		panic(err)
	}
	lit := &syntax.Literal{Text: strings.TrimPrefix(text, "-"), Value: math.Abs(v)}
	a := Arg{Type: types.Plain}
	if unit != "" {
		u, err := units.Parse(unit)
		if err != nil {
			panic(err)
		}
		lit.Form, lit.Unit, lit.Text, a.Dim = syntax.Quantity, u, strings.TrimPrefix(text, "-"), u.Dim()
		lit.Value *= u.Scale()
		v *= u.Scale()
		if u.Point() {
			a.Type = types.Type{Kind: types.Point}
			v += 273.15 // only degC is used here
			lit.Value = v
		}
	}
	a.Expr = lit
	if v < 0 {
		a.Expr = &syntax.Unary{Op: "-", X: lit}
	}
	return a, []float64{v}
}

// run calls the kernel for every row, single values spread over them.
func (c *call) run() (values []float64, faults []Fault) {
	keep := func(v float64, f Fault) { values, faults = append(values, v), append(faults, f) }
	at := func(i, r int) float64 {
		if len(c.columns[i]) == 1 {
			return c.columns[i][0]
		}
		return c.columns[i][r]
	}
	switch f := c.f; {
	case f.Down != nil:
		keep(f.Down(c.w, c.columns[0]))
		return values, faults
	case f.Along != nil:
		var further []float64
		for _, column := range c.columns[1:] {
			further = append(further, column[0])
		}
		values = make([]float64, len(c.columns[0]))
		faults = make([]Fault, len(values))
		fault := f.Along(c.w, c.columns[0], further, values)
		for i := range faults {
			faults[i] = fault
		}
		return values, faults
	case f.Seek != nil:
		var others [][]float64
		for i, column := range c.columns {
			if i != f.Key {
				others = append(others, column)
			}
		}
		for _, key := range c.columns[f.Key] {
			keep(f.Seek(c.w, key, others))
		}
		return values, faults
	}
	rows := 1
	for _, column := range c.columns {
		if len(column) != 1 {
			rows = len(column)
		}
	}
	for _, column := range c.columns {
		if len(column) != 1 {
			rows = min(rows, len(column))
		}
	}
	for r := range rows {
		x := make([]float64, len(c.columns))
		for i := range x {
			x[i] = at(i, r)
		}
		switch f := c.f; {
		case f.One != nil:
			keep(f.One(c.w, x[0]))
		case f.Two != nil:
			keep(f.Two(c.w, x[0], x[1]))
		default:
			keep(f.Many(c.w, x))
		}
	}
	return values, faults
}

// interned is an Interner.
type interned struct{ list []string }

func (w *interned) ID(text string) float64 {
	for i, s := range w.list {
		if s == text {
			return float64(i)
		}
	}
	w.list = append(w.list, text)
	return float64(len(w.list) - 1)
}

func (w *interned) Text(id float64) string {
	if i := int(id); i >= 0 && i < len(w.list) {
		return w.list[i]
	}
	return ""
}
