package hear

import (
	"slices"
	"strings"

	"railsum/calc/syntax"
	"railsum/units"
)

// What stands where in the tokens of a line.

// question gives where the value of a line begins that asks for one or names
// one, -1 for any other line: rules for the end of a line look at these alone.
func question(ts []token) int {
	from := 0
	if len(ts) > 0 && ts[0].kind == word && ts[0].text == "assume" {
		from = 1
	}
	if from+1 < len(ts) && ts[from].kind == word && ts[from+1].is("=") {
		return from + 2
	}
	if from == 1 || len(ts) == 0 || ts[0].kind == word && slices.Contains(syntax.LineWords(), ts[0].text) {
		return -1
	}
	return 0
}

// joins are the words that stand between two values or at a unit asked for.
var joins = []string{"to", "in", "into", "at", "as", "of", "from", "by", "so", "and", "or", "then", "else", "among",
	"show", "over", "per", "for",
	"x", "times", "parallel", "with", "is", "are", "not", "if"}

func (t *token) joins() bool { return t.kind == word && t.text != "As" && t.oneOf(joins...) } // As is a charge

// ends reports whether a value may end before token i.
func ends(ts []token, i int) bool {
	return i >= len(ts) || ts[i].joins() || ts[i].kind == sign && !ts[i].is("(") && !ts[i].is(`"`) && !ts[i].is("'")
}

// unitsAt reads the unit at token i, in any spelling: what it may be, and how
// many tokens it takes, 0 if there is none. Sure is false where the spelling
// speaks against it.
func (e *Ear) unitsAt(ts []token, i int) (found []string, n int, sure bool) {
	tight := 1
	for i+tight < len(ts) && !ts[i+tight].spaced &&
		(ts[i+tight].kind != sign || strings.Contains("/*^·()", ts[i+tight].text)) {
		tight++
	}
	if i >= len(ts) {
		return nil, 0, true
	}
	for n := tight; n > 1 && ts[i].kind == word; n-- { // a compound as strict has it
		if compound := joined(ts[i : i+n]); isUnit(compound) { // as typed: strict may have two readings of it
			return []string{compound}, n, true
		}
	}
	found, n, sure = e.factorAt(ts, i)
	if n == 0 {
		return nil, 0, true
	}
	for {
		at := i + n
		by := ""
		switch {
		case at+1 < len(ts) && ts[at].isWord("per"), at+2 < len(ts) && ts[at].isWord("per"):
			by = "/"
		case at+1 < len(ts) && ts[at].is("/") && !ts[at].spaced && !ts[at+1].spaced:
			by = "/"
		case at+1 < len(ts) && ts[at].is("*") && !ts[at].spaced && !ts[at+1].spaced:
			by = "*"
		}
		if by == "" {
			return found, n, sure
		}
		below, m, ok := e.factorAt(ts, at+1)
		if m == 0 {
			return found, n, sure
		}
		var both []string
		for _, a := range found {
			for _, b := range below {
				if isUnit(a + by + b) {
					both = append(both, a+by+b)
				}
			}
		}
		if len(both) == 0 {
			return found, n, sure
		}
		found, n, sure = both, n+1+m, sure && ok
	}
}

// factorAt reads one unit with its power.
func (e *Ear) factorAt(ts []token, i int) (found []string, n int, sure bool) {
	if i >= len(ts) || ts[i].kind != word {
		return nil, 0, true
	}
	power := ""
	if i+1 < len(ts) {
		switch {
		case ts[i].oneOf("square", "sq"):
			power, i, n = "2", i+1, 1
		case ts[i].oneOf("cubic", "cu"):
			power, i, n = "3", i+1, 1
		}
	}
	if ts[i].kind != word {
		return nil, 0, true
	}
	w := ts[i].text
	n++
	switch {
	case i+1 < len(ts) && ts[i].isWord("per") && ts[i+1].isWord("cent") && power == "":
		return []string{"%"}, n + 1, true
	case ts[i].joins() && !ts[i].isWord("in"):
		return nil, 0, true
	case ts[i].oneOf("degrees", "degree", "deg", "°") && i+1 < len(ts) && ts[i+1].oneOf("c", "celsius", "f", "fahrenheit"):
		return []string{map[byte]string{'c': "degC", 'f': "degF"}[strings.ToLower(ts[i+1].text)[0]]}, n + 1, true
	}
	bare := strings.TrimRight(w, "23²³")
	if p := w[len(bare):]; p != "" && power == "" {
		power = strings.NewReplacer("²", "2", "³", "3").Replace(p)
	}
	if with := apart(ts, i); with != "" && !e.named(w) && !e.named(ts[i+1].text) {
		found, n, sure = []string{with}, n+1, true
	} else if _, err := units.Parse(bare); err == nil {
		found, sure = []string{bare}, true
	} else if e.named(bare) {
		return nil, 0, true
	} else {
		found, sure = units.Spoken(bare)
	}
	if power == "" && i+2 < len(ts) && ts[i+1].is("^") && !ts[i+1].spaced && ts[i+2].plain && !ts[i+2].spaced {
		power, n = "^"+ts[i+2].text, n+2
	}
	var all []string
	for _, f := range found {
		if isUnit(f + power) {
			all = append(all, f+power)
		}
	}
	if len(all) == 0 {
		return nil, 0, true
	}
	return all, n, sure
}

// prefixes are those that people say as a word before a unit.
var prefixes = []string{"kilo", "mega", "milli", "micro", "nano", "pico", "centi"}

// apart is the unit that two words make: mA hours, kilo ohms.
func apart(ts []token, i int) string {
	if i+1 >= len(ts) || ts[i+1].kind != word || !ts[i+1].spaced {
		return ""
	}
	if ts[i+1].oneOf("h", "hr", "hrs", "hour", "hours") {
		symbols, _ := units.Spoken(ts[i].text)
		if isUnit(ts[i].text) {
			symbols = []string{ts[i].text}
		}
		if len(symbols) == 1 && isOf(symbols[0], "A", "W", "VA") && isUnit(symbols[0]+"h") {
			return symbols[0] + "h"
		}
	}
	if ts[i].oneOf(prefixes...) {
		if symbols, sure := units.Spoken(ts[i].text + ts[i+1].text); sure && len(symbols) == 1 {
			return symbols[0]
		}
	}
	return ""
}

func isUnit(symbol string) bool { _, err := units.Parse(symbol); return err == nil }

// dimension is that of a unit in strict spelling, and whether there is one.
func dimension(symbol string) (units.Dim, bool) {
	u, err := units.Parse(symbol)
	if err != nil {
		return units.Dim{}, false
	}
	return u.Dim(), true
}

// isOf reports whether a unit has one of the dimensions of others.
func isOf(symbol string, others ...string) bool {
	d, ok := dimension(symbol)
	return ok && slices.ContainsFunc(others, func(o string) bool { p, _ := dimension(o); return p == d })
}

// shared reports whether a unit that stands at one of two factors may be meant for
// both: that of a length, and of an area, which a cable has of so many conductors.
func shared(ts []token, from, to int) (symbol string, at int, area bool) {
	if to <= from {
		return "", 0, false
	}
	switch last := ts[to-1]; {
	case last.kind == unit && isOf(last.text, "m"):
		return last.text, to, false
	case last.kind == unit && isOf(last.text, "m2"),
		last.kind == done && (strings.HasPrefix(last.text, "awg(") || strings.HasPrefix(last.text, "swg(")):
		return last.text, to, true
	case last.is(")") && to-from > 2 && ts[from+2].kind == unit && ts[from+2].text == "in": // (1 in / 3)
		return "in", to, false
	}
	return "", 0, false
}
