package syntax

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"railsum/units"
)

// A unitCache holds the units met in a text by their spelling, with what the
// short way to a value needs.
type unitCache map[string]*knownUnit

type knownUnit struct {
	units.Unit
	file    string
	decimal bool // the factor to SI is ten to the power of tens, exactly
	tens    int
}

// lookup gives the unit of a tight word, nil if it is none, which is kept too.
func (c unitCache) lookup(word string) *knownUnit {
	k, ok := c[word]
	if ok {
		return k
	}
	if u, err := units.Parse(word); err == nil {
		k = &knownUnit{Unit: u, file: u.String()}
		if u.Exact() && !u.Point() {
			tens := math.Round(math.Log10(u.Scale()))
			exact, _ := strconv.ParseFloat("1e"+strconv.Itoa(int(tens)), 64)
			k.tens, k.decimal = int(tens), exact == u.Scale()
		}
	}
	if len(c) < maxUnits {
		c[word] = k
	}
	return k
}

// maxUnits bounds the cache.
const maxUnits = 1000

// of gives a unit that is known to exist.
func (c unitCache) of(word string) units.Unit { return c.lookup(word).Unit }

func inch() units.Unit {
	return units.Known("in")
}

func (d decimal) rat() *big.Rat {
	r, _ := new(big.Rat).SetString(d.text)
	return r
}

// value gives a number in a unit in SI, correctly rounded. The short way takes
// the decimal point where the unit's prefix puts it.
func (k *knownUnit) value(d decimal) float64 {
	if !k.decimal || d.exp {
		return k.SI(d.rat())
	}
	v, _ := strconv.ParseFloat(d.text+"e"+strconv.Itoa(k.tens), 64)
	return v
}

func startsUnit(r rune) bool {
	return unicode.IsLetter(r) || r == '°' || r == '%' || r == '‰' || r == '℃' || r == '℉'
}

// leadingWord gives the letters, digits and signs at the start of a tight word.
func leadingWord(word string) string {
	if i := strings.IndexAny(word, "*/·⋅^()"); i >= 0 {
		return word[:i]
	}
	return word
}

// unitOrCode scans what follows a number: a unit, a code letter, or nothing
// that belongs to it.
func (s *scanner) unitOrCode(t *token, d decimal) {
	lit := t.lit
	off := s.blanks(s.off)
	spaced := off > s.off
	r, _ := s.rune(off)
	if !startsUnit(r) || spaced && unitless[s.nameAt(off)] {
		if !spaced && r == '(' {
			s.fail(s.off, say("an operator is missing before the bracket").With("to multiply write `*`"))
		}
		s.plain(t, d)
		return
	}
	word := s.text[off : off+units.WordLength(s.text[off:s.end])]
	k := s.units.lookup(word)
	n := len(word)
	if k == nil && len(leadingWord(word)) < len(word) {
		k, n = s.unitBefore(off)
	}
	switch {
	case k != nil && k.file == "K" && word[:n] == "K" && !spaced:
		s.fail(t.off, say("%sK can be read in two ways", d.text).
			With("write `"+d.text+"k` for kilohms or `"+d.text+" K` for kelvin"))
	case k != nil && s.squared(off, d, word[:n], k):
	case k != nil:
		s.off = off + n
		lit.Form, lit.Unit = Quantity, k.Unit
		lit.Text = d.text + " " + k.file
		lit.Value = k.value(d)
		s.bounded(t.off, d, lit.Value)
		if k.Point() && lit.Value < 0 {
			s.belowAbsoluteZero(t.off, lit.Text)
		}
		if l, ok := units.Mixed(k.file); ok && s.err == nil {
			s.mixed(t, d, l)
		}
	case !spaced && s.code(t, d):
	case spaced && IsReserved(word):
		s.plain(t, d)
	default:
		s.noUnit(t.off, off, d, word, spaced)
	}
}

// squared refuses a power glued to a unit that nobody measures squared, 3 A^2:
// the quantity may be meant. Lengths have areas and volumes, and a compound is
// a unit as it stands.
func (s *scanner) squared(off int, d decimal, word string, k *knownUnit) bool {
	base, exponent, power := strings.Cut(word, "^")
	b := s.units.lookup(base)
	if !power || b == nil || strings.ContainsAny(base, "*/·⋅") || !isDigit(exponent[0]) || exponent == "1" ||
		strings.Contains(k.file, "^") || b.Dim() == inch().Dim() {
		return false
	}
	s.fail(off+len(base), say("this can be read in two ways").
		With("write `("+d.text+" "+b.file+")^"+exponent+"` or `"+d.text+" "+k.file+"`"))
	return true
}

// unitBefore gives the longest unit at off that ends before an operator.
func (s *scanner) unitBefore(off int) (*knownUnit, int) {
	rest := s.text[off:s.end]
	_, n := units.LongestPrefix(rest)
	if n == 0 { // an operator may be followed by a blank, a sign or a text
		word := rest[:units.WordLength(rest)]
		n = len(strings.TrimRight(word, "*/·⋅^("))
		if n == len(word) {
			return nil, 0
		}
	}
	return s.units.lookup(rest[:n]), n
}

// nameAt gives the word at off.
func (s *scanner) nameAt(off int) string {
	end := off
	for end < s.end && isNameByte(s.text[end]) {
		end++
	}
	return s.text[off:end]
}

func (s *scanner) plain(t *token, d decimal) {
	t.lit.Form, t.lit.Text = Plain, d.text
	t.lit.Value, _ = strconv.ParseFloat(d.text, 64)
	s.bounded(t.off, d, t.lit.Value)
}

// bounded refuses a number that a float cannot hold.
func (s *scanner) bounded(off int, d decimal, v float64) {
	switch {
	case math.IsInf(v, 0):
		s.numberTooLarge(off)
	case v == 0 && strings.Trim(strings.SplitN(d.text, "e", 2)[0], "0.") != "":
		s.numberTooSmall(off)
	}
}

// codes are the letters of IEC 60062 that stand for the decimal point and the
// unit at once. Its m, F, L and T are left out: they are units and prefixes
// that are written far more often.
var codes = map[rune]struct {
	letter, unit string
	tens         int
}{
	'R': {"R", "ohm", 0}, 'k': {"k", "kohm", 3}, 'K': {"k", "kohm", 3}, 'M': {"M", "Mohm", 6}, 'G': {"G", "Gohm", 9},
	'u': {"u", "uF", -6}, 'µ': {"u", "uF", -6}, 'μ': {"u", "uF", -6}, 'n': {"n", "nF", -9}, 'p': {"p", "pF", -12},
}

// code scans the rest of a letter code, 3k3 or 100n, directly after its digits.
func (s *scanner) code(t *token, d decimal) bool {
	r, n := s.rune(s.off)
	c, ok := codes[r]
	from := s.off + n
	end := s.digits(from)
	next, _ := utf8.DecodeRuneInString(s.text[end:s.end])
	if !ok || end < s.end && (startsName(next) || startsUnit(next)) {
		return false
	}
	behind := s.text[from:end]
	switch {
	case d.exp:
		s.fail(t.off, say("%s is no number: a letter code has no exponent", s.text[t.off:end]).
			With("write the number without `e`, or with a unit"))
		return true
	case !d.whole && behind != "":
		s.fail(t.off, say("%s has two decimal points, the letter being one", s.text[t.off:end]).
			With("write `"+d.text+c.letter+"` or `"+strings.Replace(d.text, ".", c.letter, 1)+"`"))
		return true
	}
	lit := t.lit
	lit.Form, lit.Text = Code, d.text+c.letter+behind
	digits := d.text
	if behind != "" {
		digits += "." + behind
	}
	lit.Value, _ = strconv.ParseFloat(digits+"e"+strconv.Itoa(c.tens), 64)
	lit.Unit = s.units.of(c.unit)
	s.off = end
	s.bounded(t.off, decimal{text: digits}, lit.Value)
	if s.err == nil {
		s.wrongMark(t.off, end)
	}
	return true
}

// unitRef scans a unit that stands on its own, as after "as".
func (s *scanner) unitRef() *UnitRef {
	off := s.blanks(s.off)
	word := s.text[off : off+units.WordLength(s.text[off:s.end])]
	if word == "" {
		s.fail(off, say("a unit must stand here").With("as in `as mm`"))
		return nil
	}
	u := &UnitRef{At: s.pos(off)}
	if digits, ok := units.Digits(word); ok {
		u.Unit = digits
	} else if k := s.units.lookup(word); k != nil {
		u.Unit = k.Unit
	} else {
		s.unknownUnit(off, word)
		return nil
	}
	s.off = off + len(word)
	return u
}
