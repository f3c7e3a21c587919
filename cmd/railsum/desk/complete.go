package desk

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"railsum/calc"
	"railsum/calc/function"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/cmd/railsum/guide"
	"railsum/units"
)

// completer knows what may stand at a place in a line. It looks only at the
// text before the cursor and at names; it neither parses nor changes anything.
type completer struct {
	lib   calc.Library
	names func() []string // all that can be typed in an expression
	files func(prefix string) []string
	cases []string // the names of values that are supposed together

	// typesOf gives what is known of some expressions of the notebook before anything
	// is entered: no kind for those that are in error. Nil if it cannot be asked.
	typesOf func(exprs []string) []types.Type

	// sheetOf gives the sheet that was put to work under a name, as a use line has it.
	sheetOf func(name string) string

	// notes are what is listed beside a word.
	notes map[string]string
}

// complete gives the words that may stand in place of the last, and how many
// characters of each are typed already.
func (c *completer) complete(before string) (words []string, typed int) {
	line := strings.TrimLeft(before, " ")
	if inNote(line) {
		return nil, 0
	}
	word := lastWord(line)
	if o, args := orderIn(line); o != nil && line != o.word {
		return c.orderArgs(o.word, args, line)
	}
	if strings.HasPrefix(line, "use ") {
		if words, typed, ok := c.use(line); ok {
			return words, typed
		}
	}
	in := c.input(line)
	if in != nil && in.choices != nil {
		typed := strings.TrimLeft(line[strings.LastIndexByte(line, '=')+1:], " ")
		return matching(in.choices, typed), utf8.RuneCountInString(typed)
	}
	if strings.Count(line, `"`)%2 == 1 {
		return nil, 0
	}
	if in != nil {
		typed := strings.TrimLeft(line[strings.LastIndexByte(line, '=')+1:], " ")
		if usual := matching(in.usual, typed); typed != "" && len(usual) > 0 {
			return usual, utf8.RuneCountInString(typed)
		}
	}
	switch {
	case line == word:
		return c.opening(word)
	case afterNumber().MatchString(line):
		symbol := afterNumber().FindStringSubmatch(line)[1]
		value := strings.TrimLeft(line[strings.LastIndexByte(line, '=')+1:], " ")
		if in != nil && afterNumber().FindStringIndex(value)[0] == 0 { // a number alone is of what the input is
			return c.unitsOf(in.given, symbol)
		}
		return unitsLike(symbol)
	case strings.HasPrefix(line, "prefer "):
		return unitsLike(line[strings.LastIndexAny(line, " ,")+1:])
	case afterAs().MatchString(line):
		at := strings.LastIndex(line, " as ")
		return c.unitsOf(lastExpr(line[:max(at, 0)]), line[strings.LastIndexAny(line, " ,")+1:])
	case afterAt().MatchString(line):
		found, typed := c.named(word)
		return append(matching(c.lib.Texts("scales", "label"), word), found...), typed
	}
	words, typed = c.expression(word)
	if afterCase().MatchString(line) {
		words = append(matching(c.cases, word), words...)
	}
	if in != nil {
		words = c.fitting(words, in.given)
		if word == "" {
			words = append(slices.Clone(in.usual), words...)
		}
	}
	return words, typed
}

// The patterns are made when a key first asks for them: a program that answers
// one line does not wait for them.
var (
	// afterNumber is a number, perhaps a blank, and the beginning of a unit.
	afterNumber = pattern(`(?:^|[^\pL\pN_.])(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)? ?((?:[\pL°%‰][\pL\pN°%‰²³·*/^()]*)?)$`)
	afterAs     = pattern(`(?:^| )as [^ ]*$`)
	afterCase   = pattern(`^(?:suppose|(?:find|vary) .* with) [\pL\pN_]*$`)
	afterAt     = pattern(`(?:^| )at [\pL\pN_.]*$`)
)

func pattern(s string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(s) })
}

// inNote reports whether the end of a line lies in its note.
func inNote(line string) bool {
	quoted := false
	for _, r := range line {
		switch r {
		case '"':
			quoted = !quoted
		case '#':
			if !quoted {
				return true
			}
		}
	}
	return false
}

// lastWord is the name, perhaps dotted, that the text ends in.
func lastWord(s string) string {
	i := len(s)
	for i > 0 {
		r, size := utf8.DecodeLastRuneInString(s[:i])
		if r != '_' && r != '.' && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			break
		}
		i -= size
	}
	return s[i:]
}

// opening completes the first word of a line.
func (c *completer) opening(word string) ([]string, int) {
	var words []string
	for _, w := range append(orderWords(), syntax.LineWords()...) {
		if w != "end" && strings.HasPrefix(w, word) {
			words = append(words, opened(w))
		}
	}
	slices.Sort(words)
	more, typed := c.expression(word)
	return append(words, more...), typed
}

// opened is a word that opens a line with what must follow it.
func opened(word string) string {
	switch word {
	case "undo", "redo", "quit", "list", "save", "sheets", "help", "recover": // these may stand alone
		return word
	case "source", "hazard":
		return word + ` "`
	}
	return word + " "
}

// expression completes a name or a function.
func (c *completer) expression(word string) ([]string, int) {
	words, typed := c.named(word)
	if word == "" || strings.Contains(word, ".") {
		return words, typed
	}
	for _, w := range syntax.SmallWords() {
		if len(word) > 1 && w != word && strings.HasPrefix(w, word) {
			words = append(words, w)
		}
	}
	for _, f := range function.All() {
		if strings.HasPrefix(f.Name, word) {
			words = append(words, f.Name+"(")
		}
	}
	return words, typed
}

// named completes a name as far as its next point.
func (c *completer) named(word string) ([]string, int) {
	var words []string
	for _, n := range c.names() {
		rest, ok := strings.CutPrefix(n, word)
		if !ok {
			continue
		}
		if i := strings.IndexByte(rest, '.'); i >= 0 {
			n = word + rest[:i+1]
		}
		words = append(words, n)
	}
	slices.Sort(words)
	return slices.Compact(words), utf8.RuneCountInString(word)
}

// unitsLike completes a unit, or the last symbol of one.
func unitsLike(word string) ([]string, int) {
	all, last := units.Complete(word)
	return all, utf8.RuneCountInString(last)
}

func (c *completer) note(word, note string) {
	if c.notes == nil {
		c.notes = map[string]string{}
	}
	c.notes[word] = note
}

// lastExpr is the expression that a text ends in, as far as its commas and words tell.
func lastExpr(text string) string {
	for _, before := range []string{" show ", " so ", "must ", "should ", "=", ","} {
		if i := strings.LastIndex(text, before); i >= 0 {
			text = text[i+len(before):]
		}
	}
	return text
}

// unitsOf completes a unit of what an expression is of; any unit, if that is not known.
func (c *completer) unitsOf(expr, word string) ([]string, int) {
	all, typed := unitsLike(word)
	if c.typesOf == nil || strings.ContainsAny(word, "*/(") {
		return all, typed
	}
	of := c.typesOf([]string{expr})[0]
	if of.Kind != types.Number {
		return all, typed
	}
	fit := slices.DeleteFunc(slices.Clone(all), func(symbol string) bool {
		u, err := units.Parse(symbol)
		return err != nil || u.Dim() != of.Dim
	})
	if len(fit) == 0 {
		return all, typed
	}
	return fit, typed
}

// fitting leaves those of some words that are values of the same kind and dimension as
// an expression, functions, and names that go on behind a point.
func (c *completer) fitting(words []string, expr string) []string {
	if c.typesOf == nil {
		return words
	}
	known := c.typesOf(append([]string{expr}, words...))
	var fit []string
	for i, w := range words {
		if t := known[i+1]; strings.HasSuffix(w, ".") || strings.HasSuffix(w, "(") ||
			t.Kind == known[0].Kind && t.Dim == known[0].Dim {
			fit = append(fit, w)
		}
	}
	return fit
}

// input is what is being set at the end of a line: on a use line, or as NAME.INPUT.
func (c *completer) input(line string) *input {
	set := line[strings.LastIndexByte(line, ',')+1:]
	name, _, is := strings.Cut(set, "=")
	if !is {
		return nil
	}
	sheet := ""
	if rest, use := strings.CutPrefix(line, "use "); use {
		sheet, _, _ = cutSheet(rest)
		if _, with, ok := strings.Cut(name, " with "); ok {
			name = with
		}
	} else if placed, in, dotted := strings.Cut(name, "."); dotted && c.sheetOf != nil {
		sheet, name = c.sheetOf(placed), in
	}
	if sheet == "" {
		return nil
	}
	file := c.sheetFile(sheet)
	if file == nil {
		return nil
	}
	asks, takes := inputsOf(file, c.lib)
	for _, in := range append(asks, takes...) {
		if in.name == strings.TrimSpace(name) || slices.Contains(in.also, strings.TrimSpace(name)) {
			return &in
		}
	}
	return nil
}

// use completes a use line: its sheet, the words between, the inputs it sets.
func (c *completer) use(line string) (words []string, typed int, ok bool) {
	rest := strings.TrimPrefix(line, "use ")
	sheet, rest, more := cutSheet(rest)
	if !more {
		words := matching(append(slices.Clone(c.lib.SheetNames()), c.ownSheets()...), sheet)
		return words, utf8.RuneCountInString(sheet), true
	}
	_, settings, with := strings.Cut(" "+rest, " with ")
	if !with {
		word := lastWord(rest)
		switch {
		case rest == word && strings.HasPrefix("for", word):
			return matching([]string{"for ", "with "}, word), utf8.RuneCountInString(word), true
		case strings.HasPrefix(rest, "for ") && strings.HasSuffix(strings.TrimSuffix(rest, word), " ") &&
			rest != "for "+word && strings.HasPrefix("with", word):
			return []string{"with "}, utf8.RuneCountInString(word), true
		}
		return nil, 0, true
	}
	last := strings.TrimLeft(settings[strings.LastIndexByte(settings, ',')+1:], " ")
	if last != lastWord(last) {
		return nil, 0, false // behind the equals sign: an expression
	}
	var inputs []string
	if file := c.sheetFile(sheet); file != nil {
		asks, takes := inputsOf(file, c.lib)
		for _, in := range append(asks, takes...) {
			inputs = append(inputs, in.name+" = ")
			c.note(in.name+" = ", in.keeps())
		}
	}
	return matching(inputs, last), utf8.RuneCountInString(last), true
}

// cutSheet takes the sheet's name off the front of what follows "use"; more
// reports whether the name is complete.
func cutSheet(s string) (sheet, rest string, more bool) {
	if strings.HasPrefix(s, `"`) {
		if end := strings.IndexByte(s[1:], '"'); end >= 0 {
			return s[:end+2], strings.TrimLeft(s[end+2:], " "), true
		}
		return s, "", false
	}
	sheet, rest, more = strings.Cut(s, " ")
	return sheet, strings.TrimLeft(rest, " "), more
}

func (c *completer) sheetFile(name string) *syntax.File {
	own := strings.HasPrefix(name, `"`)
	s, err := c.lib.Sheet(strings.Trim(name, `"`), own)
	if err != nil || s == nil {
		return nil
	}
	return s.File
}

func (c *completer) ownSheets() []string {
	lib, ok := c.lib.(interface{ OwnNames() []string })
	if !ok {
		return nil
	}
	var names []string
	for _, n := range lib.OwnNames() {
		names = append(names, `"`+n+`"`)
	}
	return names
}

// orderArgs completes what follows an order.
func (c *completer) orderArgs(word, args, line string) ([]string, int) {
	last := line[strings.LastIndexByte(line, ' ')+1:]
	first := args == last
	var words []string
	switch word {
	case "open", "save":
		path := strings.TrimLeft(strings.TrimPrefix(line, word), " ")
		return c.files(path), utf8.RuneCountInString(path)
	case "about":
		words = guide.Names(c.lib)
	case "help":
		words = append(orderWords(), guide.Names(c.lib)...)
		for _, t := range topics() {
			words = append(words, t.name)
		}
	case "fill":
		if first {
			words = append(slices.Clone(c.lib.SheetNames()), c.ownSheets()...)
		} else if !strings.Contains(args, " for ") {
			words = []string{"for "}
		}
	case "list":
		if first {
			found, typed := c.named(last)
			return append(matching([]string{"danger", "measured", "parts", "unsettled", "waiting"}, last), found...), typed
		}
	case "rename":
		if first {
			return c.named(last)
		}
		words = []string{"to "}
	case "move":
		words = []string{"before "}
	case "change":
		if !first {
			return c.expression(lastWord(line))
		}
	}
	slices.Sort(words)
	return matching(slices.Compact(words), last), utf8.RuneCountInString(last)
}

func matching(words []string, prefix string) []string {
	var out []string
	for _, w := range words {
		if strings.HasPrefix(w, prefix) {
			out = append(out, w)
		}
	}
	return out
}

// sumsFiles lists the notebooks and folders whose path begins with prefix.
func sumsFiles(prefix string) []string {
	dir, base := filepath.Split(prefix)
	look := dir
	if look == "" {
		look = "."
	}
	entries, err := os.ReadDir(look)
	if err != nil {
		return nil
	}
	var found []string
	for _, e := range entries {
		name := e.Name()
		switch {
		case !strings.HasPrefix(name, base), strings.HasPrefix(name, ".") && !strings.HasPrefix(base, "."):
		case e.IsDir():
			found = append(found, dir+name+"/")
		case strings.HasSuffix(name, ".sums"):
			found = append(found, dir+name)
		}
	}
	return found
}
