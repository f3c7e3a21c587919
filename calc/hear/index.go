package hear

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"

	"github.com/hbollon/go-edlib"

	"railsum/calc"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/units"
	"railsum/units/words"
)

// Entry is one thing that can be named.
type Entry struct {
	Kind    string // "sheet", "function", "table", "scale", "unit", "order"
	Name    string
	Form    string // how it is typed
	Meaning string
	Words   []string // other words and phrases for it
}

// Index finds what a line speaks of: one index over sheets, functions, tables,
// scales, units and orders. It is made when it is first asked, and may be shared.
type Index struct {
	lib    calc.Library
	orders []Entry
	names  func() map[string][]Entry // by name, in small letters
	shelf  func() *shelf             // made apart: it takes the reading of every sheet
}

// shelf is the sheets, and what they speak of.
type shelf struct {
	sheets []*sheet
	df     map[string]int // in how many sheets a word stands

	vocabulary []string // those words
}

// NewIndex makes the index of a library, and of the orders that are at hand.
func NewIndex(lib calc.Library, orders []Entry) *Index {
	x := &Index{lib: lib, orders: orders}
	x.names = sync.OnceValue(x.list)
	x.shelf = sync.OnceValue(x.read)
	return x
}

// Warm reads the sheets before somebody waits for that. It may run beside whatever else
// is done with the index.
func (x *Index) Warm() { x.shelf() }

// owner is a library that can also list the sheets of the user's own.
type owner interface{ OwnSheets() []*calc.Sheet }

func (x *Index) list() map[string][]Entry {
	names := map[string][]Entry{}
	add := func(es ...Entry) {
		for _, e := range es {
			low := strings.ToLower(e.Name)
			names[low] = append(names[low], e)
		}
	}
	add(x.orders...)
	for _, name := range x.lib.SheetNames() {
		add(Entry{Kind: "sheet", Name: name, Form: "use " + name})
	}
	for _, f := range function.All() {
		add(Entry{Kind: "function", Name: f.Name, Form: f.Args, Meaning: f.Meaning})
	}
	for _, name := range x.lib.TableNames() {
		add(Entry{Kind: "table", Name: name, Form: name})
	}
	for _, symbol := range x.lib.Texts("scales", "label") {
		add(Entry{Kind: "scale", Name: symbol, Form: "25 m at " + symbol, Meaning: "a scale"})
	}
	for _, u := range units.All() {
		add(Entry{Kind: "unit", Name: u.Unit.String(), Form: "1 " + u.Unit.String(), Meaning: u.Name})
	}
	return names
}

// called gives what goes by a name, in any case, with its meaning.
func (x *Index) called(name string) []Entry {
	found := slices.Clone(x.names()[strings.ToLower(name)])
	for i, e := range found {
		switch e.Kind {
		case "sheet":
			if s, err := x.lib.Sheet(e.Name, false); err == nil && s != nil {
				found[i].Meaning = s.Meaning
			}
		case "table":
			if t := x.lib.Table(e.Name); t != nil {
				found[i].Meaning = t.Meaning
				if t.Node != nil && len(t.Node.Heads) > 0 {
					found[i].Form = e.Name + "." + t.Node.Heads[0].Name.Text
				}
			}
		}
	}
	return found
}

func (x *Index) read() *shelf {
	m := &shelf{df: map[string]int{}}
	for _, name := range x.lib.SheetNames() {
		if s, err := x.lib.Sheet(name, false); err == nil && s != nil {
			m.sheets = append(m.sheets, sheetOf(s))
		}
	}
	if o, ok := x.lib.(owner); ok {
		for _, s := range o.OwnSheets() {
			m.sheets = append(m.sheets, sheetOf(s))
		}
	}
	for _, s := range m.sheets {
		for w := range s.words {
			m.df[w]++
		}
	}
	m.vocabulary = slices.Sorted(maps.Keys(m.df))
	return m
}

// sheet is a sheet as it is searched and filled in.
type sheet struct {
	*calc.Sheet
	words   map[string]float64 // what it speaks of, and how much that says
	pairs   map[string]bool    // two words that follow one another in what it is found by
	tells   map[string]bool    // the words in its name and in those of its answers
	keys    map[string]bool    // the words in what it is found by
	asks    map[string]bool    // the words in the names of its inputs, and in the other words for them
	puts    map[string]bool    // the words in their names alone
	called  map[string]bool    // the words in its own name
	inputs  []input
	columns map[class]int // how many columns of the tables it asks for could have a value of a class
}

// input is what a sheet asks for.
type input struct {
	name     string
	words    map[string]bool // its name and the other words for it
	speaks   map[string]bool // the words of its meaning
	class    class
	from, to float64 // in SI; both 0 if nothing is said
	choices  []string
	taken    bool
	whole    bool
	given    string // its default
}

// class is what kind of value goes to an input: one of a dimension, and of the
// plain numbers one of their kinds.
type class struct {
	dim  units.Dim
	kind string // "%" for a share, ":" for a ratio, "point" for a temperature, "text"
}

func sheetOf(s *calc.Sheet) *sheet {
	d := &sheet{Sheet: s, words: map[string]float64{}, pairs: map[string]bool{}, tells: map[string]bool{},
		keys: map[string]bool{}, asks: map[string]bool{}, puts: map[string]bool{}, called: map[string]bool{},
		columns: map[class]int{}}
	say := func(text string, weight float64) {
		for _, w := range wordsOf(text) {
			// What a sheet speaks of again and again says more about it.
			d.words[w] = max(d.words[w], weight) + min(d.words[w], weight)/8
		}
	}
	say(strings.ReplaceAll(s.Name, "_", " "), 3)
	for _, w := range wordsOf(strings.ReplaceAll(s.Name, "_", " ")) {
		d.tells[w], d.called[w] = true, true
	}
	say(strings.Join(s.Words, " "), 2.4)
	say(s.Meaning, 2)
	for _, text := range []string{strings.Join(s.Words, " "), s.Meaning} {
		last := ""
		for _, w := range strings.Fields(text) {
			for _, w := range wordsOf(w) {
				d.pairs[last+" "+w] = true
				d.keys[w] = true
				last = w
			}
		}
	}
	if s.File == nil {
		return d
	}
	for _, l := range s.File.Lines {
		switch n := l.Node.(type) {
		case *syntax.Ask:
			say(strings.ReplaceAll(n.Name.Text, "_", " "), 1.6)
			for _, w := range n.Words {
				say(strings.ReplaceAll(w.Text, "_", " "), 1.6)
			}
			say(l.Note, 1)
			in := inputOf(l, n)
			d.inputs = append(d.inputs, in)
			maps.Copy(d.asks, in.words)
			for _, w := range wordsOf(strings.ReplaceAll(in.name, "_", " ")) {
				d.puts[w] = true
			}
		case *syntax.Tell:
			say(strings.ReplaceAll(n.Name.Text, "_", " "), 1.4)
			for _, w := range wordsOf(strings.ReplaceAll(n.Name.Text, "_", " ")) {
				d.tells[w] = true
			}
			say(l.Note, 0.8)
		case *syntax.Table:
			if n.Ask {
				say(n.Name.Text+" "+l.Note, 1)
				for _, h := range n.Heads {
					if h.As != nil {
						d.columns[class{dim: h.As.Unit.Dim()}]++
					}
				}
			}
		}
	}
	return d
}

func inputOf(l *syntax.Line, n *syntax.Ask) input {
	in := input{name: n.Name.Text, taken: n.Taken, whole: n.Tail.Whole, words: map[string]bool{},
		speaks: map[string]bool{}, given: syntax.PrintExpr(n.Expr)}
	for _, w := range wordsOf(strings.ReplaceAll(n.Name.Text, "_", " ")) {
		in.words[w] = true
	}
	for _, other := range n.Words {
		for _, w := range wordsOf(strings.ReplaceAll(other.Text, "_", " ")) {
			in.words[w] = true
		}
	}
	meaning, _, _ := strings.Cut(l.Note, ":")
	meaning, _, _ = strings.Cut(meaning, ";")
	for _, w := range wordsOf(meaning) {
		in.speaks[w] = true
	}
	default_ := n.Expr
	if n.Tail.From != nil {
		from, okFrom := literalOf(n.Tail.From)
		to, okTo := literalOf(n.Tail.To)
		if okFrom && okTo {
			in.from, in.to = from.Value, to.Value
			default_ = n.Tail.From
			if lit, ok := literalOf(n.Expr); ok && lit.Form == syntax.Ratio {
				default_ = n.Expr
			}
		}
	}
	for _, e := range n.Tail.Among {
		in.choices = append(in.choices, syntax.PrintExpr(e))
	}
	if lit, ok := literalOf(default_); ok {
		in.class = classOf(lit)
	} else {
		in.class.kind = "text"
	}
	return in
}

// literalOf gives the literal that an expression is, with its sign.
func literalOf(e syntax.Expr) (syntax.Literal, bool) {
	switch x := e.(type) {
	case *syntax.Literal:
		return *x, true
	case *syntax.Unary:
		if l, ok := x.X.(*syntax.Literal); ok {
			lit := *l
			lit.Value = -lit.Value
			return lit, true
		}
	}
	return syntax.Literal{}, false
}

func classOf(l syntax.Literal) class {
	c := class{dim: l.Unit.Dim()}
	switch {
	case l.Form == syntax.Ratio:
		c.kind = ":"
	case l.Unit.Point():
		c.kind = "point"
	case l.Unit.Percent():
		c.kind = "%"
	}
	return c
}

// use is the line that puts the sheet to work with settings.
func (s *sheet) use(settings []string) string {
	text := "use " + s.Name
	if s.Own {
		text = `use "` + s.Name + `"`
	}
	if len(settings) > 0 {
		text += " with " + strings.Join(settings, ", ")
	}
	return text
}

// wordsOf takes a text apart into its words, as they are compared: in small
// letters, without endings, as they are spelled in Britain. The words that say
// nothing are left out.
func wordsOf(text string) []string {
	var found []string
	add := func(w string) {
		if !slices.Contains(found, w) {
			found = append(found, w)
		}
	}
	last := "" // the word that a number belongs to: CV 17 and 18, code 83
	for _, w := range strings.FieldsFunc(strings.ToLower(text),
		func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		switch bare := strings.TrimRight(w, "0123456789"); {
		case bare == "":
			if last != "" {
				add(last + w)
			}
		case bare != w && len(bare) > 1:
			add(w)
			if !idle[bare] {
				add(stem(bare))
			}
		case idle[w], len(w) < 2:
			if w != "and" {
				last = ""
			}
		default:
			last = w
			add(stem(w))
		}
	}
	return found
}

// idle are the words that say nothing about what is asked.
var idle = map[string]bool{}

func init() {
	for _, w := range strings.Fields(`a an the of to in into at as on by for from with without and or not is are be do does did will would can could
		may might must should shall what which who how many much long far is it its my our your this that these those there here i we you he she one two
		need needs want get got use used using make makes put give gives have has had when where why if then else so than too very any all each
		per about over under up down out off no yes please show tell calculate work me us them they let whose between after before`) {
		idle[w] = true
	}
}

// Talk reports whether a text has words that say nothing about what is asked, as
// people talk.
func Talk(text string) bool {
	return slices.ContainsFunc(strings.Fields(strings.ToLower(text)), func(w string) bool { return idle[w] })
}

// british are the American spellings that change more than an ending.
var british = strings.NewReplacer("meter", "metre", "color", "colour", "gray", "grey", "gage", "gauge", "center",
	"centre", "aluminum", "aluminium", "mold", "mould")

// stem cuts the endings of a word that do not tell one thing from another.
func stem(w string) string {
	if w != "meter" && w != "meters" { // what is measured with
		w = british.Replace(w)
	}
	for _, ending := range []string{"ies", "ing", "ers", "es", "ed", "s", "er", "e", "y"} {
		cut, ok := strings.CutSuffix(w, ending)
		if !ok || len(cut) < 3 || ending == "s" && strings.HasSuffix(cut, "s") {
			continue
		}
		// stopping
		if n := len(cut); n > 3 && cut[n-1] == cut[n-2] && slices.Contains([]string{"ing", "ed", "er", "ers"}, ending) {
			cut = cut[:n-1]
		}
		if ending == "s" || ending == "es" || ending == "ers" {
			return stem(cut)
		}
		return cut
	}
	return w
}

// weight is how much a word says that stands in so many of all sheets.
func (m *shelf) weight(w string) float64 {
	if n := m.df[w]; n > 0 {
		return math.Log(1 + float64(len(m.sheets))/float64(n))
	}
	return 0
}

// score is how much a sheet speaks of the words that were said.
func (m *shelf) score(s *sheet, said []string) (score float64) {
	for i, w := range said {
		part := m.weight(w) * s.words[w]
		switch {
		case i == 0 && s.called[w]:
			part *= 1.3 // a line that opens with a sheet's name
		case s.called[w]:
			part *= 1.15
		}
		score += part
	}
	for i := 1; i < len(said); i++ { // two words that belong together
		if s.pairs[said[i-1]+" "+said[i]] {
			score += 1.5
		}
	}
	return score
}

// Speaks reports whether words are, all of them together and in this order, what a
// sheet is found by: keep alive is no order to keep something.
func (x *Index) Speaks(text string) bool {
	said := strings.Fields(text)
	if len(said) < 2 {
		return false
	}
	return slices.ContainsFunc(x.shelf().sheets, func(s *sheet) bool {
		for i := 1; i < len(said); i++ {
			a, b := wordsOf(said[i-1]), wordsOf(said[i])
			if len(a) != 1 || len(b) != 1 || !s.pairs[a[0]+" "+b[0]] {
				return false
			}
		}
		return true
	})
}

// Find gives the sheets that words speak of, the likeliest first. The one that
// is called so leads; then what a sheet is found by counts for more than what it
// asks, and a word that few sheets speak of for more than one that many do. A
// word that none speaks of is taken for the one it was most likely typed for.
func (x *Index) Find(text string) []*calc.Sheet {
	m := x.shelf()
	var said []string
	for _, w := range wordsOf(text) {
		if m.df[w] == 0 {
			w = m.nearest(w)
		}
		if w != "" {
			said = append(said, w)
		}
	}
	scores := map[*calc.Sheet]float64{}
	var found []*calc.Sheet
	for _, s := range m.sheets {
		score := m.score(s, said)
		switch {
		case strings.EqualFold(s.Name, strings.ReplaceAll(text, " ", "_")):
			score = math.Inf(1)
		case s.Group == pieces:
			score *= pieceCounts
		}
		if score > 0 {
			scores[s.Sheet] = score
			found = append(found, s.Sheet)
		}
	}
	slices.SortStableFunc(found, func(a, b *calc.Sheet) int { return cmp.Compare(scores[b], scores[a]) })
	return found
}

// Pieces are made for other sheets, and count for less.
const (
	pieces      = "pieces"
	pieceCounts = 0.6
)

// nearest gives the word of the sheets that a word was most likely typed for,
// empty if none is near or more than one. A short word with two slips, or with one in
// front, is another word.
func (m *shelf) nearest(w string) string {
	if len(w) < 4 {
		return ""
	}
	near := words.Near(w, m.vocabulary)
	if len(near) != 1 || near[0][0] != w[0] || len(w) < 6 && edlib.OSADamerauLevenshteinDistance(w, near[0]) > 1 {
		return ""
	}
	return near[0]
}
