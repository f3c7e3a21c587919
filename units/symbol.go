package units

import (
	"math/big"
	"strings"
	"sync"
)

// symbol is one unit of the closed list: a family with one prefix or none.
type symbol struct {
	*family
	prefix      string
	file, shown string
}

// prefixPowers are the powers of ten of the prefixes that the list uses.
var prefixPowers = map[string]int{
	"p": -12, "n": -9, "u": -6, "m": -3, "c": -2, "d": -1, "": 0, "h": 2, "k": 3, "M": 6, "G": 9,
}

func (s *symbol) dim() Dim {
	var d Dim
	for i, n := range s.base {
		d.exp[i].num = int16(n)
	}
	return d
}

// pi to fifty digits, for the degree and the circular mil.
const pi = "3.14159265358979323846264338327950288419716939937511"

// inexact says that the factor is a multiple of pi.
func (f *family) inexact() bool { return strings.HasPrefix(f.scale, "pi*") }

// factor is the symbol's factor to SI. The table's own tests make sure that
// every scale is a number.
func (s *symbol) factor() *big.Rat {
	r := rational(strings.TrimPrefix(s.scale, "pi*"))
	if s.inexact() {
		r.Mul(r, rational(pi))
	}
	p := prefixPowers[s.prefix]
	ten := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(abs(p))), nil))
	if p < 0 {
		ten.Inv(ten)
	}
	return r.Mul(r, ten)
}

func rational(s string) *big.Rat {
	if r, ok := new(big.Rat).SetString(s); ok {
		return r
	}
	return big.NewRat(1, 1)
}

// list is the closed list made out in full.
type list struct {
	all     []*symbol          // in the table's order, prefixes ascending
	meaning map[string]*symbol // by every spelling in ASCII
}

// symbols is the list, made on first use.
var symbols = sync.OnceValue(makeList)

func makeList() *list {
	l := &list{meaning: make(map[string]*symbol, 4*len(families))}
	for i := range families {
		f := &families[i]
		bare := false
		for _, p := range strings.Fields(f.prefixes) {
			if prefixPowers[p] > 0 && !bare {
				l.add(f, "")
				bare = true
			}
			l.add(f, p)
		}
		if !bare {
			l.add(f, "")
		}
	}
	return l
}

func (l *list) add(f *family, prefix string) {
	s := &symbol{family: f, prefix: prefix, file: prefix + f.symbol}
	s.shown = s.file
	if f.shown != "" {
		s.shown = prefix + f.shown
	}
	if prefix == "u" {
		s.shown = "µ" + strings.TrimPrefix(s.shown, "u")
	}
	l.all = append(l.all, s)
	l.meaning[s.file] = s
	for _, other := range strings.Fields(f.also) {
		l.meaning[prefix+other] = s
	}
}

// fold spells a symbol in ASCII: both signs for ohm, both for micro, the
// degree signs.
var fold = strings.NewReplacer(
	"Ω", "ohm", "\u2126", "ohm", "µ", "u", "\u03bc", "u",
	"°C", "degC", "°F", "degF", "\u2103", "degC", "\u2109", "degF", "°", "deg", "‰", "permille",
)

// find gives the symbol that a word stands for, nil if there is none.
func find(word string) *symbol {
	l := symbols()
	if s := l.meaning[word]; s != nil {
		return s
	}
	return l.meaning[fold.Replace(word)]
}

// Info is what there is to say about a symbol of the list.
type Info struct {
	Unit   Unit
	Name   string // one of it, in words: "millivolt"
	Exact  bool   // the factor to SI is exact
	Source string // where the definition stands
	Also   []string
}

// All lists every symbol, in the order of the table: electricity first.
func All() []Info {
	l := symbols()
	infos := make([]Info, 0, len(l.all))
	for _, s := range l.all {
		u, err := Parse(s.file)
		if err != nil {
			continue
		}
		infos = append(infos, Info{Unit: u, Name: prefixNames[s.prefix] + s.name, Exact: !s.inexact(), Source: s.source,
			Also: l.spellings(s)})
	}
	return infos
}

// spellings lists the other ways to write a symbol.
func (l *list) spellings(s *symbol) []string {
	var also []string
	if s.shown != s.file {
		also = append(also, s.shown)
	}
	for _, other := range strings.Fields(s.also) {
		also = append(also, s.prefix+other)
	}
	return also
}

// prefixNames are the names of the prefixes that the list uses, from the SI
// Brochure, 9th edition, table 7.
var prefixNames = map[string]string{
	"p": "pico", "n": "nano", "u": "micro", "m": "milli", "c": "centi", "d": "deci", "h": "hecto", "k": "kilo",
	"M": "mega", "G": "giga",
}
