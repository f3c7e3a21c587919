package units

import (
	"math/big"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// connecting are the words of the language that may follow a number
// (LANGUAGE.md B2): none may ever be a unit.
var connecting = strings.Fields("to at of as so by and or then else from among show over")

func TestNoWordOfTheLanguageIsAUnit(t *testing.T) {
	for _, w := range connecting {
		if _, err := Parse(w); err == nil {
			t.Errorf("%q is a unit, but also a word of the language", w)
		}
	}
}

// The letters of the codes of IEC 60062 (3k3, 4R7) and the exponent's must not
// be units, but for K, for which the scanner has a rule.
func TestNoLetterOfACodeIsAUnit(t *testing.T) {
	for _, w := range strings.Fields("R k M G u µ n p e E x") {
		if _, err := Parse(w); err == nil {
			t.Errorf("%q is a unit, but also a letter of a code", w)
		}
	}
	for _, i := range All() {
		if s := i.Unit.String(); strings.ContainsAny(s[:1], "eE0123456789") {
			t.Errorf("%q after a number could be read as part of it", s)
		}
	}
}

// One symbol, one unit: no spelling is claimed twice.
func TestSymbolsDoNotClash(t *testing.T) {
	claimed := map[string]string{}
	claim := func(spelling, unit string) {
		if old, ok := claimed[spelling]; ok && old != unit {
			t.Errorf("%q is both %s and %s", spelling, old, unit)
		}
		claimed[spelling] = unit
	}
	for i := range families {
		f := &families[i]
		for _, p := range append(strings.Fields(f.prefixes), "") {
			key := f.name + " with " + p
			claim(p+f.symbol, key)
			for _, other := range strings.Fields(f.also) {
				claim(p+other, key)
			}
		}
	}
	if len(symbols().all) < 100 {
		t.Errorf("only %d symbols", len(symbols().all))
	}
}

// Symbols that differ only in case are listed here, each a decision: the
// echo is the only guard.
func TestPairsOfCase(t *testing.T) {
	allowed := []string{
		"mohm Mohm", "mW MW", // both in daily use (LANGUAGE.md B2)
		"S s", "mS ms", "uS us", // siemens, second: the dimension tells
		"H h",          // henry, hour
		"pA Pa",        // picoampere, pascal
		"T t",          // tesla, tonne
		"mJ MJ",        // both used: a spark and a battery
		"mL ml", "L l", // the same unit
	}
	seen := map[string]string{}
	for _, s := range symbols().all {
		low := strings.ToLower(s.file)
		if old, ok := seen[low]; ok && !slices.Contains(allowed, old+" "+s.file) && !slices.Contains(allowed, s.file+" "+old) {
			t.Errorf("%s and %s differ only in case", old, s.file)
		}
		seen[low] = s.file
	}
}

func TestAbsurdPrefixesAreLeftOut(t *testing.T) {
	for _, w := range strings.Fields("MA MV MF PF kF MH kH C mC uC mil Nm TW GW Mm Gm Mg MHZ kh kmin kin pin pinch kft degc Ms ks cs kK kPsi kdegC mdegC kg2 dB") {
		if u, err := Parse(w); err == nil {
			t.Errorf("%q is %v", w, u)
		}
	}
}

func TestAllIsComplete(t *testing.T) {
	infos := All()
	if len(infos) != len(symbols().all) {
		t.Fatalf("%d of %d symbols", len(infos), len(symbols().all))
	}
	for _, i := range infos {
		s := i.Unit.String()
		if i.Name == "" || i.Source == "" {
			t.Errorf("%s: no name or no source", s)
		}
		if strings.IndexFunc(s, func(r rune) bool { return r > unicode.MaxASCII }) >= 0 {
			t.Errorf("%s: the file form is not ASCII", s)
		}
		for _, a := range append(i.Also, i.Unit.Shown()) {
			if u, err := Parse(a); err != nil || u != i.Unit {
				t.Errorf("%s is also %s, but that is %v, %v", s, a, u, err)
			}
		}
		if i.Exact != i.Unit.Exact() {
			t.Errorf("%s: exact %v and %v", s, i.Exact, i.Unit.Exact())
		}
	}
}

func TestTableRows(t *testing.T) {
	for _, f := range families {
		if r, ok := new(big.Rat).SetString(strings.TrimPrefix(f.scale, "pi*")); !ok || r.Sign() <= 0 {
			t.Errorf("%s: %q is no scale", f.symbol, f.scale)
		}
		for _, p := range strings.Fields(f.prefixes) {
			if prefixPowers[p] == 0 {
				t.Errorf("%s: no prefix %q", f.symbol, p)
			}
		}
		if n := wordLength(f.symbol); n != len(f.symbol) {
			t.Errorf("%s: a symbol must be one word of letters", f.symbol)
		}
	}
}

// Prefixes against BIPM SI Brochure, 9th edition, table 7.
func TestPrefixPowers(t *testing.T) {
	for p, n := range map[string]int{"G": 9, "M": 6, "k": 3, "h": 2, "d": -1, "c": -2, "m": -3, "u": -6, "n": -9, "p": -12} {
		if prefixPowers[p] != n {
			t.Errorf("%s is 10^%d", p, prefixPowers[p])
		}
	}
}
