// Package words says which name a writer may have meant by one that there is
// not, and lists names as a sentence does.
package words

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/hbollon/go-edlib"
)

// most is how many names are offered at most.
const most = 3

// Near gives the names that a writer of word may have meant: those that are the
// fewest slips away, at most three. A slip is a letter that is wrong, missing or
// too much, or two neighbours exchanged; a letter in the other case is less than
// one. A word has one slip in it, from its fifth letter on two, from its ninth
// three. A word of one or two letters is a slip away from too many others to mean
// any of them.
func Near(word string, names []string) []string {
	var near []string
	length := utf8.RuneCountInString(word)
	best := 1 + (length-1)/4
	if length < 3 {
		best = 0
	}
	cases := length + 1 // letters in the other case, slips included
	lower := strings.ToLower(word)
	for _, name := range names {
		if n := utf8.RuneCountInString(name) - length; n > best || -n > best {
			continue
		}
		slips := edlib.OSADamerauLevenshteinDistance(lower, strings.ToLower(name))
		if slips > best {
			continue
		}
		other := edlib.OSADamerauLevenshteinDistance(word, name)
		if slips < best || other < cases {
			best, cases, near = slips, other, nil
		}
		if other == cases && !slices.Contains(near, name) {
			near = append(near, name)
		}
	}
	return near[:min(most, len(near))]
}

// Meant asks whether one of the names near to a word was meant; it is empty if
// there are none.
func Meant(word string, names []string) string {
	near := Near(word, names)
	if len(near) == 0 {
		return ""
	}
	return "did you mean " + Or(near) + "?"
}

// Or lists alternatives: "none", "a", "a or b", "a, b or c".
func Or(words []string) string { return list(words, " or ") }

// And lists words: "none", "a", "a and b", "a, b and c".
func And(words []string) string { return list(words, " and ") }

func list(words []string, last string) string {
	n := len(words) - 1
	switch n {
	case -1:
		return "none"
	case 0:
		return words[0]
	}
	return strings.Join(words[:n], ", ") + last + words[n]
}
