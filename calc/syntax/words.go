package syntax

import "slices"

// Edition is the version of the language that this package reads and writes,
// the number in the header "railsum 1".
const Edition = 1

// Bounds on a text.
const (
	MaxRunes = 4096    // of a row
	MaxDepth = 200     // of parentheses, calls, signs and ifs within each other
	MaxRows  = 100_000 // of a table
	MaxLines = 20_000  // of a text, a table being one
)

// The words of the language. None of them can be a plain name; after a point
// and in the heads of a table all of them can be used.
var (
	// joining words stand within a line.
	joining = []string{"and", "or", "not", "if", "then", "else", "as", "at", "of", "so", "among", "from", "to", "by",
		"over", "show", "that", "yes", "no", "none", "for"}

	// lineWords open a line that is kept, as those of the studies do.
	lineWords = func() []string {
		words := []string{"ask", "must", "should", "use", "table", "end", "prefer", "assume"}
		for _, empty := range studies {
			words = append(words, empty().Word())
		}
		return words
	}()

	// openers open a line only where a name, a number or a text follows, which
	// no expression allows, and stay free as names.
	openers = func() []string {
		words := []string{"take", "tell"}
		for _, empty := range kept {
			words = append(words, empty().Word())
		}
		return words
	}()

	// sayers do so only before a text.
	sayers = []string{"source", "hazard"}

	// laterWords are calls of railsum that take a whole notebook: neither lines nor orders of the desk.
	laterWords = []string{"present", "handout", "quiz"}

	// orderWords act on the notebook and are never kept.
	orderWords = []string{"open", "save", "list", "fill", "sheets", "about", "strike", "change", "move", "keep", "rename",
		"undo", "redo", "help", "quit"}

	// spareWords are kept for later editions, so that none of them can change
	// the meaning of an old file.
	spareWords = []string{"compare", "copy", "like", "with", "without", "per", "each", "where", "when", "until", "off",
		"let",
		"unit", "text", "date", "print", "chart", "plot", "sort", "group", "only", "all", "any", "step", "steps",
		"level", "levels", "edition", "version", "import", "include", "private"}
)

const (
	// header is the word that opens a saved notebook.
	header = "railsum"

	// whole is the word behind a value that is a whole number; elsewhere it is a
	// name like any other.
	whole = "whole"

	// exactly is the word behind "as" of a sheet's answer that no preference of a
	// notebook goes before.
	exactly = "exactly"
)

type class uint8

const (
	freeWord class = iota
	joiningWord
	lineWord
	laterWord
	orderWord
	spareWord
	headerWord
)

var classes = func() map[string]class {
	m := map[string]class{header: headerWord}
	// One that opens a line and stands within others is a line word.
	for c, words := range [][]string{joiningWord: joining, lineWord: lineWords, laterWord: laterWords,
		orderWord: orderWords, spareWord: spareWords} {
		for _, w := range words {
			m[w] = class(c)
		}
	}
	return m
}()

// unitless are the words that join a number to what follows it, and are
// therefore never read as a unit after a blank.
var unitless = map[string]bool{"to": true, "at": true, "of": true, "as": true, "so": true, "by": true, "and": true,
	"or": true, "then": true, "else": true, "from": true, "among": true, "show": true, "over": true, whole: true,
	"with": true, "seed": true, "usual": true, sorted: true, where: true, "for": true, "on": true}

// IsReserved reports whether a word of the language cannot be a plain name.
func IsReserved(word string) bool { return classes[word] != freeWord }

// LineWords lists the words that open a line of this edition.
func LineWords() []string { return slices.Concat(lineWords, openers, sayers) }

// opens reports whether a word that can be a name opens a line before what
// follows it.
func opens(w string, next token) bool {
	switch {
	case slices.Contains(sayers, w):
		return next.kind == text
	case !slices.Contains(openers, w):
		return false
	}
	return opensKept(next)
}

// SmallWords lists the words that stand within a line.
func SmallWords() []string { return slices.Clone(joining) }

// OrderWords lists the words that act on the notebook and are never kept.
func OrderWords() []string { return slices.Clone(orderWords) }

// LaterWords lists the calls that take a whole notebook and that the desk does not know.
func LaterWords() []string { return slices.Clone(laterWords) }
