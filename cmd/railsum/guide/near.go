package guide

import (
	"slices"
	"sort"
	"strings"

	"github.com/agext/levenshtein"
)

// nearest gives at most three names that a misspelt one may have been meant to
// be, best first. A name in another case is nearer than any other.
func nearest(name string, names []string) []string {
	type guess struct {
		name string
		off  int
	}
	limit := 1 + len([]rune(name))/4
	var near []guess
	for _, n := range names {
		off := apart(strings.ToLower(name), strings.ToLower(n))
		// A short name is a letter away from too many others to mean any of them.
		if off <= 2*limit && (off == 0 || len([]rune(name)) > 2) {
			near = append(near, guess{n, off})
		}
	}
	sort.SliceStable(near, func(i, j int) bool { return near[i].off < near[j].off })
	var out []string
	for _, g := range near {
		if g.off > near[0].off+2 || len(out) == 3 {
			break
		}
		if !contains(out, g.name) {
			out = append(out, g.name)
		}
	}
	return out
}

// apart counts two for every letter that is wrong, missing or too much, and one
// for letters that have only changed places.
func apart(a, b string) int {
	if a != b && sorted(a) == sorted(b) {
		return 1
	}
	return 2 * levenshtein.Distance(a, b, nil)
}

func sorted(s string) string {
	r := []rune(s)
	slices.Sort(r)
	return string(r)
}
