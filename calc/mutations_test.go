package calc_test

import (
	"flag"
	"fmt"
	"math"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/check"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/library"
)

// A library that can be changed without a row of testdata/published failing is
// not checked. TestMutations changes the shipped sheets, one thing at a time
// and in memory only, and runs the rows that put the sheet to work:
//
//   - the formula of each answer, by 1 % (a count by one, a text or a truth to
//     another of its values),
//   - each rule: left out, its threshold moved by 1 % either way, or turned
//     round where it compares no numbers,
//   - each hazard that depends on something, turned round,
//   - each number of a table that the sheet reads, by 1 %,
//   - the default of each number that a rule depends on, halved and doubled.
//
// One row at least must fail. What may survive stands in testdata/spared.tsv.

// mutate says how much is tried: every so many changes (100 in an ordinary run,
// 1 for all), and beside that all changes of the sheets named.
var (
	mutate       = flag.Int("mutate", 100, "try every so many changes of the library")
	mutateSheets = flag.String("mutate-sheets", "", "try all changes of these sheets, with commas between")
)

// spared holds the changes that may go unnoticed: sheet, line, reason.
const spared = "../testdata/spared.tsv"

// A change is one sheet or table of the library made different.
type change struct {
	sheet string // whose rows are to notice it
	line  string // as it stands in the file
	did   string
	about string // what a row reads that is likely to notice it
	lib   check.Library
}

func (c change) String() string { return c.sheet + ": " + c.line + ": " + c.did }

// changed is the shipped library with one sheet or table in another's place.
type changed struct {
	*library.Library
	sheet *calc.Sheet
	table *calc.Table
}

func (l changed) Sheet(name string, own bool) (*calc.Sheet, error) {
	if l.sheet != nil && !own && name == l.sheet.Name {
		return l.sheet, nil
	}
	return l.Library.Sheet(name, own)
}

func (l changed) Table(name string) *calc.Table {
	if l.table != nil && name == l.table.Name {
		return l.table
	}
	return l.Library.Table(name)
}

func TestMutations(t *testing.T) {
	all := readRows(t, published, "lines", "read", "expected", "tolerance", "basis", "source")
	all = slices.DeleteFunc(all, func(r row) bool { return r.check() != nil }) // TestPublished reports those
	rows := map[string][]group{}
	uses := closure(t)
	for name := range uses {
		rows[name] = rowsOf(all, uses, name)
	}
	var changes []change
	for _, name := range library.Shipped().SheetNames() {
		changes = append(changes, changesOf(t, name)...)
	}
	except := readSpared(t)
	var tried, unnoticed, excepted atomic.Int64
	var survivors []string
	var mu sync.Mutex
	var wg sync.WaitGroup
	work := make(chan change)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for c := range work {
				tried.Add(1)
				if noticed(rows[c.sheet], c) {
					continue
				}
				mu.Lock()
				if e := except[c.sheet+"\t"+c.line]; e != nil {
					e.needed = true
					excepted.Add(1)
				} else {
					unnoticed.Add(1)
					survivors = append(survivors, c.String())
				}
				mu.Unlock()
			}
		})
	}
	wanted := strings.Split(*mutateSheets, ",")
	for i, c := range changes {
		if i%*mutate == 0 || slices.Contains(wanted, c.sheet) {
			work <- c
		}
	}
	close(work)
	wg.Wait()
	slices.Sort(survivors)
	for _, s := range survivors {
		t.Error(s)
	}
	t.Logf("%d of %d changes tried, %d unnoticed, %d spared", tried.Load(), len(changes), unnoticed.Load(), excepted.Load())
	if *mutate == 1 {
		if 50*int(excepted.Load()) > len(changes) {
			t.Errorf("%d of %d changes are spared, more than one in fifty", excepted.Load(), len(changes))
		}
		for key, e := range except {
			if !e.needed {
				t.Errorf("%s: %s is spared and need not be", spared, key)
			}
		}
	}
}

// A group is the rows that have the same lines.
type group []row

// reads reports whether one of its rows reads what a change is about.
func (g group) reads(about string) bool {
	return slices.ContainsFunc(g, func(r row) bool { return strings.Contains(r.of["read"], about) })
}

// noticed reports whether one of the rows fails with the changed library: those
// first that read what was changed.
func noticed(groups []group, c change) bool {
	for _, likely := range []bool{true, false} {
		for _, g := range groups {
			if g.reads(c.about) != likely {
				continue
			}
			book := openIn(g[0].of["lines"], c.lib)
			for _, r := range g {
				if r.checkOn(book) != nil {
					return true
				}
			}
		}
	}
	return false
}

// A sheet is checked from outside where a published row notices that one of its
// own answers is off by a hundredth. The others rest on common practice and
// own arithmetic, and say so in their sources.
func TestPracticeOnly(t *testing.T) {
	all := readRows(t, published, "lines", "read", "expected", "tolerance", "basis", "source")
	all = slices.DeleteFunc(all, func(r row) bool { return r.of["basis"] != "published" || r.check() != nil })
	uses := closure(t)
	var only []string
	for _, name := range library.Shipped().SheetNames() {
		rows := rowsOf(all, uses, name)
		outside := slices.ContainsFunc(changesOf(t, name), func(c change) bool {
			return strings.HasPrefix(c.line, "tell ") && noticed(rows, c)
		})
		if !outside {
			only = append(only, name)
		}
	}
	if !slices.Equal(only, practiceOnly) {
		t.Errorf("no published row checks %q\nwant %q", only, practiceOnly)
	}
	for _, name := range library.Shipped().SheetNames() {
		says := slices.ContainsFunc(sheetFile(t, name).Lines, func(l *syntax.Line) bool {
			source, ok := l.Node.(*syntax.Source)
			return ok && practiceWords.MatchString(source.Text)
		})
		if says != slices.Contains(only, name) {
			t.Errorf("%s: a source that says %v: %v", name, practiceWords, says)
		}
	}
}

var practiceWords = regexp.MustCompile("(?i)no (printed|published) figure checks this sheet")

type exception struct{ needed bool }

func readSpared(t *testing.T) map[string]*exception {
	t.Helper()
	except := map[string]*exception{}
	for _, r := range readRows(t, spared, "sheet", "line", "reason") {
		if r.of["reason"] == "" {
			t.Errorf("%s: no reason", r.at)
		}
		except[r.of["sheet"]+"\t"+r.of["line"]] = &exception{}
	}
	return except
}

// closure gives for each shipped sheet the sheets that it places, itself, and
// theirs.
func closure(t *testing.T) map[string]map[string]bool {
	t.Helper()
	out := map[string]map[string]bool{}
	var fill func(name string) map[string]bool
	fill = func(name string) map[string]bool {
		if out[name] == nil {
			out[name] = map[string]bool{name: true}
			for _, line := range sheetFile(t, name).Lines {
				if use, ok := line.Node.(*syntax.Use); ok {
					for inner := range fill(use.Sheet) {
						out[name][inner] = true
					}
				}
			}
		}
		return out[name]
	}
	for _, name := range library.Shipped().SheetNames() {
		fill(name)
	}
	return out
}

func sheetFile(t *testing.T, name string) *syntax.File {
	t.Helper()
	s, err := library.Shipped().Sheet(name, false)
	if err != nil {
		t.Fatal(err)
	}
	return s.File
}

// rowsOf are the rows that put a sheet to work, those that name it first, and
// that read a table of it.
func rowsOf(all []row, uses map[string]map[string]bool, name string) []group {
	var direct, through []group
	for i, r := range all {
		into := func(groups []group) []group {
			if n := len(groups); n > 0 && i > 0 && groups[n-1][0].of["lines"] == r.of["lines"] {
				groups[n-1] = append(groups[n-1], r)
				return groups
			}
			return append(groups, group{r})
		}
		inner := false
		for outer, has := range uses {
			if has[name] && strings.Contains(r.of["lines"], "use "+outer+" ") {
				inner = true
			}
		}
		switch {
		case strings.Contains(r.of["lines"], "use "+name+" "):
			direct = into(direct)
		case inner:
			through = into(through)
		}
	}
	return append(direct, through...)
}

// mutator makes the changes of one sheet.
type mutator struct {
	t     *testing.T
	sheet *calc.Sheet
	place *check.Placement
	book  *calc.Book
	out   []change
}

func changesOf(t *testing.T, name string) []change {
	t.Helper()
	sheet, err := library.Shipped().Sheet(name, false)
	if err != nil {
		t.Fatal(err)
	}
	book := open("use " + name + " for x")
	m := &mutator{t: t, sheet: sheet, book: book, place: book.C.Places[0][0]}
	for i, line := range sheet.File.Lines {
		switch node := line.Node.(type) {
		case *syntax.Tell:
			m.tell(i, node)
		case *syntax.Rule:
			m.with(i, "left out", &syntax.Blank{})
			m.rule(i, node)
		case *syntax.Hazard:
			if node.If != nil {
				turned := *node
				turned.If = &syntax.Unary{Op: "not", X: &syntax.Group{X: node.If}}
				m.with(i, "turned round", &turned)
			}
		case *syntax.Ask:
			m.ask(i, node)
		}
	}
	m.tables()
	return m.out
}

// with adds the change that puts a node in the place of a line's.
func (m *mutator) with(i int, did string, node syntax.Node) {
	lines := slices.Clone(m.sheet.File.Lines)
	line := *lines[i]
	line.Node = node
	lines[i] = &line
	file := *m.sheet.File
	file.Lines = lines
	was := m.sheet
	sheet := calc.Sheet{Name: was.Name, Group: was.Group, Meaning: was.Meaning, Edition: was.Edition, Words: was.Words, File: &file}
	about := "rule of "
	switch node := m.sheet.File.Lines[i].Node.(type) {
	case *syntax.Tell:
		about = "." + node.Name.Text
	case *syntax.Ask:
		about = "." + node.Name.Text
	case *syntax.Rule:
		about += "x: " + firstWord(syntax.PrintExpr(node.Cond))
	case *syntax.Hazard:
		about = "hazards of "
	}
	m.out = append(m.out, change{sheet.Name, brief(m.sheet.File.Lines[i]), did, about, changed{library.Shipped(), &sheet, nil}})
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(s, " ")
	return word
}

// brief is a line without its note.
func brief(line *syntax.Line) string {
	bare := *line
	bare.Note = ""
	return strings.TrimSpace(syntax.Print(&bare))
}

func times(x syntax.Expr, by float64) syntax.Expr {
	return &syntax.Binary{Op: "*", X: &syntax.Group{X: x}, Y: bare(by)}
}

func plus(x syntax.Expr, by float64) syntax.Expr {
	return &syntax.Binary{Op: "+", X: &syntax.Group{X: x}, Y: bare(by)}
}

func bare(v float64) syntax.Expr {
	x := &syntax.Literal{Text: fmt.Sprint(math.Abs(v)), Value: math.Abs(v)}
	if v < 0 {
		return &syntax.Group{X: &syntax.Unary{Op: "-", X: x}}
	}
	return x
}

func (m *mutator) tell(i int, node *syntax.Tell) {
	var def *check.Def
	for _, d := range m.place.Gives {
		if d.Name == "x."+node.Name.Text {
			def = d
		}
	}
	if def == nil || node.Expr == nil {
		return
	}
	as := func(did string, x syntax.Expr) {
		tell := *node
		tell.Expr = x
		m.with(i, did, &tell)
	}
	switch def.Type.Kind {
	case types.Text:
		texts := textsIn(node.Expr)
		for _, text := range texts {
			is := &syntax.Compare{At: make([]syntax.Pos, 1), Ops: []string{"="}, X: []syntax.Expr{&syntax.Group{X: node.Expr}, &syntax.Text{Value: text}}}
			as(fmt.Sprintf("%q to another text", text), &syntax.If{Cond: is, Then: &syntax.Text{Value: "other"}, Else: node.Expr})
		}
		if len(texts) == 0 {
			as("another text", &syntax.Text{Value: "other"})
		}
	case types.Truth:
		as("yes", &syntax.Truth{Value: true})
		as("no", &syntax.Truth{Value: false})
	case types.Point:
		as("plus 1 K", &syntax.Binary{Op: "+", X: &syntax.Group{X: node.Expr}, Y: literalOf("1 K")})
	default:
		if m.counts(def) {
			as("plus one", plus(node.Expr, 1))
		} else {
			as("times 1.01", times(node.Expr, 1.01))
		}
	}
}

// counts reports whether an answer is a number of things.
func (m *mutator) counts(def *check.Def) bool {
	if !def.Type.Dim.IsPlain() || def.Type.Kind != types.Number || def.Show.Percent() {
		return false
	}
	for _, v := range m.book.M.Col(def).V {
		if v != math.Trunc(v) || math.Abs(v) > 1e6 {
			return false
		}
	}
	return wholeBy(def)
}

// wholeBy reports whether a formula can give whole numbers only: by rounding or
// counting, or because all that goes in is whole.
func wholeBy(def *check.Def) bool {
	rounding := false
	syntax.Walk(&syntax.Question{Expr: def.Expr}, func(e syntax.Expr) {
		if c, ok := e.(*syntax.Call); ok {
			rounding = rounding || slices.Contains([]string{"ceil", "floor", "round", "count", "count_for", "bin_of"}, c.Name) || strings.HasPrefix(c.Name, "bit")
		}
	})
	return rounding || def.Tail.Whole
}

// textsIn are the texts that an expression may come to, as they stand in it.
func textsIn(e syntax.Expr) []string {
	switch e := e.(type) {
	case *syntax.Text:
		return []string{e.Value}
	case *syntax.Group:
		return textsIn(e.X)
	case *syntax.If:
		out := textsIn(e.Then)
		for _, text := range textsIn(e.Else) {
			if !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
		return out
	}
	return nil
}

func literalOf(text string) syntax.Expr {
	line, _ := syntax.ParseLine(text)
	return line.Node.(*syntax.Question).Expr
}

// rule moves the threshold of each comparison of numbers in a condition, and
// turns the condition round if it has none.
func (m *mutator) rule(i int, node *syntax.Rule) {
	numbers := false
	syntax.Walk(node, func(e syntax.Expr) {
		c, ok := e.(*syntax.Compare)
		if !ok || len(textsIn(c.X[0]))+len(textsIn(c.X[len(c.X)-1])) > 0 {
			return
		}
		for k := range c.Ops {
			at := k + 1
			if k == 0 && len(c.Ops) == 2 {
				at = 0 // a <= x <= b: the thresholds stand outside
			}
			old := c.X[at]
			if lit, ok := old.(*syntax.Literal); ok && lit.Value == 0 || c.Ops[k] == "=" || c.Ops[k] == "!=" {
				continue
			}
			moved := [][2]any{{"threshold times 0.99", times(old, 0.99)}, {"threshold times 1.01", times(old, 1.01)}}
			if m.whole(c.X) {
				moved = [][2]any{{"threshold less one", plus(old, -1)}, {"threshold plus one", plus(old, 1)}}
			}
			for _, mv := range moved {
				rule := *node
				rule.Cond = replaced(node.Cond, c, at, mv[1].(syntax.Expr))
				m.with(i, mv[0].(string), &rule)
			}
			numbers = true
		}
	})
	if !numbers {
		turned := *node
		turned.Cond = &syntax.Unary{Op: "not", X: &syntax.Group{X: node.Cond}}
		m.with(i, "turned round", &turned)
	}
}

// whole reports whether all sides of a comparison are numbers of things at the
// defaults.
func (m *mutator) whole(sides []syntax.Expr) bool {
	for _, side := range sides {
		if v := m.value(side); v == nil || v.Type.Kind != types.Number || !v.Type.Dim.IsPlain() || v.Unit.Percent() {
			return false
		} else {
			for _, x := range v.Numbers {
				if x != math.Trunc(x) {
					return false
				}
			}
		}
	}
	return true
}

// value computes an expression of a sheet at the defaults.
func (m *mutator) value(e syntax.Expr) *answer.Value {
	text := ""
	for _, line := range m.sheet.File.Lines {
		switch node := line.Node.(type) {
		case *syntax.Tell:
			if node.Expr != nil {
				text += node.Name.Text + " = " + syntax.PrintExpr(node.Expr) + "\n"
			}
		case *syntax.Ask:
			text += node.Name.Text + " = " + syntax.PrintExpr(node.Expr) + "\n"
		case *syntax.Table:
			table := *node
			table.Ask, table.Taken = false, false
			bare := syntax.Line{Node: &table}
			text += syntax.Print(&bare) + "\n"
		case *syntax.Define, *syntax.Use:
			text += brief(line) + "\n"
		}
	}
	return answered(open(text+syntax.PrintExpr(e)).Answers(), "")
}

// replaced copies an expression with one operand of a comparison replaced.
func replaced(e syntax.Expr, of *syntax.Compare, at int, by syntax.Expr) syntax.Expr {
	switch e := e.(type) {
	case *syntax.Compare:
		if e == of {
			c := *e
			c.X = slices.Clone(e.X)
			c.X[at] = by
			return &c
		}
	case *syntax.Group:
		return &syntax.Group{X: replaced(e.X, of, at, by)}
	case *syntax.Unary:
		return &syntax.Unary{Op: e.Op, X: replaced(e.X, of, at, by)}
	case *syntax.Binary:
		return &syntax.Binary{Op: e.Op, X: replaced(e.X, of, at, by), Y: replaced(e.Y, of, at, by)}
	case *syntax.If:
		return &syntax.If{Cond: replaced(e.Cond, of, at, by), Then: replaced(e.Then, of, at, by), Else: replaced(e.Else, of, at, by)}
	}
	return e
}

// ask halves and doubles the default of a number that a must depends on.
func (m *mutator) ask(i int, node *syntax.Ask) {
	var def *check.Def
	for _, d := range m.place.Asks {
		if d.Name == "x."+node.Name.Text {
			def = d
		}
	}
	if def == nil || def.Type.Kind != types.Number || len(node.Tail.Among) > 0 || m.book.M.Col(def).V[0] == 0 {
		return
	}
	needed := false
	for _, p := range m.place.Whole() {
		for _, r := range p.Rules {
			needed = needed || r.Must && dependsOn(r, def, map[*check.Def]bool{})
		}
	}
	if !needed {
		return
	}
	for did, by := range map[string]float64{"default halved": 0.5, "default doubled": 2} {
		ask := *node
		ask.Expr = times(node.Expr, by)
		if node.Tail.Whole && by < 1 {
			ask.Expr = plus(node.Expr, 1)
		}
		m.with(i, did, &ask)
	}
}

func dependsOn(d, on *check.Def, seen map[*check.Def]bool) bool {
	if d == on {
		return true
	}
	if seen[d] {
		return false
	}
	seen[d] = true
	return slices.ContainsFunc(append(d.Deps, d.Sides...), func(x *check.Def) bool { return dependsOn(x, on, seen) })
}

// tables changes each number of a table that the sheet reads.
func (m *mutator) tables() {
	read := map[string]bool{} // columns, and cells read by the name of their row
	for _, line := range m.sheet.File.Lines {
		syntax.Walk(line.Node, func(e syntax.Expr) {
			if n, ok := e.(*syntax.Name); ok && len(n.Parts) > 1 {
				name := n.Parts[0].Text
				for _, part := range n.Parts[1:] {
					name += "." + part.Text
				}
				read[name] = true
			}
		})
	}
	for _, name := range library.Shipped().TableNames() {
		table := library.Shipped().Table(name)
		for h, head := range table.Node.Heads {
			if library.Shipped().Numbers(name, head.Name.Text) == nil {
				continue
			}
			for r, row := range table.Node.Rows {
				if !read[name+"."+head.Name.Text] && !read[name+"."+row.Label+"."+head.Name.Text] || library.Shipped().Numbers(name, head.Name.Text)[r] == 0 {
					continue
				}
				node, with := *table.Node, *table
				node.Rows = slices.Clone(node.Rows)
				cells := slices.Clone(row.Cells)
				cells[h].Expr = moved(cells[h].Expr)
				node.Rows[r].Cells = cells
				with.Node = &node
				line := fmt.Sprintf("%s.%q.%s", name, row.Label, head.Name.Text)
				m.out = append(m.out, change{m.sheet.Name, line, "times 1.01", "." + head.Name.Text, changed{library.Shipped(), nil, &with}})
			}
		}
	}
}

// moved is a cell a hundredth larger: a literal still.
func moved(e syntax.Expr) syntax.Expr {
	if lit, ok := e.(*syntax.Literal); ok {
		if v, err := strconv.ParseFloat(lit.Text, 64); err == nil {
			return literalOf(strconv.FormatFloat(1.01*v, 'g', -1, 64))
		}
	}
	return times(e, 1.01)
}
