package syntax

import (
	"math/big"
	"strconv"
	"strings"

	"railsum/units"
)

// vulgar gives the spelling of a fraction that is one character, as pasted
// from elsewhere.
func vulgar(r rune) string {
	switch r {
	case '¼':
		return "1/4"
	case '½':
		return "1/2"
	case '¾':
		return "3/4"
	case '⅛':
		return "1/8"
	case '⅜':
		return "3/8"
	case '⅝':
		return "5/8"
	case '⅞':
		return "7/8"
	}
	return ""
}

// startsFraction reports whether "3/8" or "⅜" stands at off.
func (s *scanner) startsFraction(off int) bool { return s.fractionEnd(off) > 0 }

// fractionEnd gives the byte behind the "3/8" or "⅜" at off, 0 if there is
// none.
func (s *scanner) fractionEnd(off int) int {
	if r, n := s.rune(off); vulgar(r) != "" {
		return off + n
	}
	slash := s.digits(off)
	if slash == off || slash > off+4 || s.at(slash) != '/' {
		return 0
	}
	end := s.digits(slash + 1)
	if end == slash+1 || end > slash+5 || s.at(end) == '.' {
		return 0
	}
	return end
}

// inchAt gives the byte behind the word "in" at or after off, 0 if something
// else stands there.
func (s *scanner) inchAt(off int) int {
	off = s.blanks(off)
	if s.at(off) != 'i' || s.at(off+1) != 'n' {
		return 0
	}
	if u, n := units.LongestPrefix(s.text[off:s.end]); n == 2 && u == inch() {
		return off + n
	}
	return 0
}

// inchFraction scans a fraction of an inch at off, with the whole inches
// before it, if any.
func (s *scanner) inchFraction(t *token, whole decimal, off int) {
	if t.off > 0 && whole.text == "" && s.text[t.off-1] == '/' {
		s.fail(t.off, say("this can be read in two ways").
			With("put blanks round the `/` that divides, or use parentheses"))
		return
	}
	text, x, end := s.inches(whole, off)
	if s.err != nil {
		return
	}
	s.off = end
	t.lit.Form, t.lit.Text, t.lit.Unit = Fraction, text+" in", inch()
	t.lit.Value = inch().SI(x)
}

// inches reads a fraction of an inch and its unit.
func (s *scanner) inches(whole decimal, off int) (text string, x *big.Rat, end int) {
	end = s.fractionEnd(off)
	text = s.text[off:end]
	if r, _ := s.rune(off); vulgar(r) != "" {
		text = vulgar(r)
	}
	before, after, _ := strings.Cut(text, "/")
	num, _ := strconv.Atoi(before)
	den, _ := strconv.Atoi(after)
	text = strconv.Itoa(num) + "/" + strconv.Itoa(den)
	behind := s.inchAt(end)
	typed := text
	if whole.text != "" {
		typed = whole.text + " " + text
	}
	switch {
	case behind == 0:
		after := s.blanks(end)
		s.fractionOfWhat(off, typed, s.unitWord(after, after > end), den)
	case den < 2 || den > 64 || den&(den-1) != 0:
		s.fail(off, say("%s in is not in halves, quarters, eighths to 64ths of an inch", typed).
			With("write the number with a point"))
	case num == 0 || whole.text != "" && num >= den:
		s.fail(off, say("%s in is not a whole number and a fraction less than one", typed).
			With("write the number with a point"))
	default:
		x = big.NewRat(int64(num), int64(den))
		if whole.text != "" {
			x.Add(x, whole.rat())
		}
	}
	return typed, x, behind
}

// mixed scans what may follow a number in feet, pounds or hours: a number in a
// lesser unit of its kind.
func (s *scanner) mixed(t *token, d decimal, first units.Link) {
	last, whole := first, d.whole
	var sum *big.Rat
	for {
		off := s.blanks(s.off)
		if off == s.off || !isDigit(s.at(off)) && !(s.at(off) == '.' && isDigit(s.at(off+1))) && !s.startsFraction(off) {
			break
		}
		text, x, e, unit, end := s.mixedPart(off)
		next, ok := units.Mixed(unit)
		switch {
		case s.err != nil:
		case unit == "":
			s.numberWhat(t, off, text, last, d)
		case !ok || next.Least != first.Least:
			return // another quantity: the parser says what is missing between
		case next.Base >= last.Base:
			s.fail(off, say("%s cannot follow a unit that is not larger", unit).
				With("the larger unit stands first and each once, as in `2 ft 6 in`"))
		case !whole:
			s.fail(t.off, say("%s is not whole, and more follows", s.text[t.off:s.off]).
				With("write one number with a point, or whole ones but for the last"))
		}
		if s.err != nil {
			return
		}
		if sum == nil {
			sum = new(big.Rat).Mul(d.rat(), big.NewRat(first.Base, 1))
		}
		sum.Add(sum, x.Mul(x, big.NewRat(next.Base, 1)))
		t.lit.Text += " " + text + " " + unit
		s.off, last, whole = end, next, e
	}
	if sum != nil {
		t.lit.Form = Mixed
		t.lit.Value = first.Least.SI(sum)
	}
}

// mixedPart reads one more number of a mixed length, and its unit.
func (s *scanner) mixedPart(off int) (text string, x *big.Rat, whole bool, unit string, end int) {
	if s.startsFraction(off) && (!isDigit(s.at(off)) || s.inchAt(s.fractionEnd(off)) > 0) {
		text, x, end = s.inches(decimal{}, off)
		return text, x, false, "in", end
	}
	d, end := s.decimal(off)
	if s.err != nil || s.wrongMark(off, end) {
		return
	}
	if after := s.blanks(end); d.whole && s.startsFraction(after) {
		text, x, end = s.inches(d, after)
		return text, x, false, "in", end
	}
	after := s.blanks(end)
	if s.unitWord(after, after > end) != "" {
		if u, n := units.LongestPrefix(s.text[after:s.end]); n > 0 {
			unit, end = u.String(), after+n
		}
	}
	return d.text, d.rat(), d.whole, unit, end
}
