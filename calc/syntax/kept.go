package syntax

// An opened line is opened by a word of its own. Those of the studies are words
// of the language; the others stay free as names, since they open a line only
// before what could not follow a name.
type opened interface {
	Node
	// Word is the word that opens the line.
	Word() string

	parse(*parser)
	print(*printer)
	example() string
}

// kept makes an empty one of each line whose word stays free as a name, in the
// order in which help lists them.
var kept = []func() Study{
	func() Study { return new(Guess) },
	func() Study { return new(Picture) },
	func() Study { return new(Slip) },
	func() Study { return new(Exercise) },
	func() Study { return new(Needed) },
	func() Study { return new(Agree) },
	func() Study { return new(Case) },
}

// keptWords are the words that open one of them.
var keptWords = func() map[string]func() Study {
	words := map[string]func() Study{}
	for _, empty := range kept {
		words[empty().Word()] = empty
	}
	return words
}()

// opensKept tells whether a word opens a line rather than being a name: before
// a word that joins nothing, a number or a text.
func opensKept(next token) bool {
	switch next.kind {
	case word:
		return next.parts != nil || classes[next.str] != joiningWord || next.str == "not" || next.str == "if" ||
			next.str == "that" || next.str == "yes" || next.str == "no" || next.str == "none"
	case number, text:
		return true
	}
	return false
}
