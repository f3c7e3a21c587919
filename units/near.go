package units

import (
	"slices"
	"strings"

	"railsum/units/words"
)

// mostNear is how many units are offered at most.
const mostNear = 3

// parses says that s is a unit.
func parses(s string) bool {
	_, err := lookup(s)
	return err == nil
}

// nearSymbols gives the symbols that a word which is none may have meant.
func nearSymbols(word string) []string {
	l := symbols()
	w := fold.Replace(word)
	if m, ok := otherWords[w]; ok {
		return strings.Fields(m)
	}
	if _, ok := advice[w]; ok {
		return nil
	}
	var near []string
	add := func(s string) {
		if len(near) < mostNear && !slices.Contains(near, s) {
			near = append(near, s)
		}
	}
	for _, s := range l.all {
		if strings.EqualFold(w, s.file) {
			add(s.file)
		}
	}
	if s := l.absurd(w); s != nil && (s.prefix != "" || len(near) == 0) {
		add(s.file)
	}
	if len(near) > 0 {
		return near
	}
	for _, s := range l.all {
		if name := prefixNames[s.prefix] + firstWord(s.name); strings.EqualFold(w, name) || strings.EqualFold(w, name+"s") {
			add(s.file)
		}
	}
	if len(near) > 0 {
		return near
	}
	return words.Near(w, l.long())
}

// long lists the symbols of two letters and more: any letter is a slip away
// from the others.
func (l *list) long() []string {
	var long []string
	for _, s := range l.all {
		if len(s.file) > 1 {
			long = append(long, s.file)
		}
	}
	return long
}

func firstWord(s string) string {
	w, _, _ := strings.Cut(s, " ")
	return w
}

// absurd takes a word as a unit with a prefix that the list leaves out, and
// gives the nearest that it has on the same side of one, or else the bare unit.
func (l *list) absurd(w string) *symbol {
	for p, power := range prefixesLeftOut {
		base, ok := strings.CutPrefix(w, p)
		bare := l.meaning[base]
		if !ok || bare == nil || bare.prefix != "" {
			continue
		}
		best := bare
		for _, s := range l.all {
			n := prefixPowers[s.prefix]
			if s.family == bare.family && n != 0 && (n > 0) == (power > 0) &&
				(best == bare || abs(n-power) < abs(prefixPowers[best.prefix]-power)) {
				best = s
			}
		}
		return best
	}
	return nil
}

// prefixesLeftOut are the SI prefixes of one letter, with their powers.
var prefixesLeftOut = map[string]int{
	"f": -15, "p": -12, "n": -9, "u": -6, "m": -3, "c": -2, "d": -1, "h": 2, "k": 3, "K": 3, "M": 6, "G": 9, "T": 12,
	"P": 15,
}
