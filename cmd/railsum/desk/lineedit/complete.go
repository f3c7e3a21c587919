package lineedit

import (
	"fmt"
	"slices"
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// maxListed is how many completions are listed at once.
const maxListed = 60

// complete extends the word before the cursor as far as all completions agree;
// where it cannot, it lists them above the line.
func (t *terminal) complete(line []rune, pos int) ([]rune, int, bool) {
	if t.Complete == nil {
		return nil, 0, false
	}
	words, typed := t.Complete(string(line[:pos]))
	// A name that would have to be changed to be shown is no longer that name.
	words = slices.DeleteFunc(words, func(w string) bool { return w != harmless(w) })
	if len(words) == 0 || typed > pos {
		return nil, 0, false
	}
	add := common(words)
	if len(add) > typed {
		add = add[typed:]
		// A blank that already stands there is not doubled.
		if len(words) == 1 && add[len(add)-1] == ' ' && pos < len(line) && line[pos] == ' ' {
			add = add[:len(add)-1]
		}
		out := make([]rune, 0, len(line)+len(add))
		out = append(append(append(out, line[:pos]...), add...), line[pos:]...)
		return out, pos + len(add), true
	}
	if len(words) > 1 {
		if t.Note != nil {
			words = slices.Clone(words)
			for i, w := range words {
				words[i] = harmless(w + t.Note(w))
			}
		}
		fmt.Fprint(t.rl.Stdout(), listing(words, width(t.Stdout)))
	}
	return nil, 0, false
}

// common is the longest beginning that all words share.
func common(words []string) []rune {
	first := []rune(words[0])
	for _, w := range words[1:] {
		r := []rune(w)
		n := 0
		for n < len(first) && n < len(r) && first[n] == r[n] {
			n++
		}
		first = first[:n]
	}
	return first
}

// listing sets words side by side, as many to a row as the width has room for.
func listing(words []string, width int) string {
	more := 0
	if len(words) > maxListed {
		words, more = words[:maxListed], len(words)-maxListed
	}
	cell := 0
	for _, w := range words {
		cell = max(cell, displaywidth.String(w)+2)
	}
	perRow := max(1, (width-1)/cell)
	var b strings.Builder
	for i, w := range words {
		w = strings.TrimRight(w, " ")
		b.WriteString(w)
		if (i+1)%perRow == 0 || i == len(words)-1 {
			b.WriteString("\n")
		} else {
			b.WriteString(strings.Repeat(" ", cell-displaywidth.String(w)))
		}
	}
	if more > 0 {
		fmt.Fprintf(&b, "and %d more\n", more)
	}
	return b.String()
}
