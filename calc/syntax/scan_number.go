package syntax

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"railsum/units"
)

// decimal is an unsigned number as written.
type decimal struct {
	text  string // canonical: a digit before the point, no noughts before that, a small e
	whole bool   // nothing but digits
	exp   bool   // with an exponent
}

// maxExponent bounds what is written after "e"; numbers end at 1e308 anyway.
const maxExponent = 350

// decimal reads an unsigned number at off and gives the byte behind it. The
// byte at off, or the one behind a point there, is a digit.
func (s *scanner) decimal(off int) (decimal, int) {
	end := s.digits(off)
	d := decimal{whole: true}
	if s.at(end) == '.' && isDigit(s.at(end+1)) {
		d.whole = false
		end = s.digits(end + 1)
	}
	d.text = canonicalDigits(s.text[off:end])
	if c := s.at(end); c != 'e' && c != 'E' {
		return d, end
	}
	e := end + 1
	sign := ""
	if c := s.at(e); c == '+' || c == '-' {
		if c == '-' {
			sign = "-"
		}
		e++
	}
	if !isDigit(s.at(e)) {
		return d, end
	}
	from := e
	e = s.digits(e)
	power := strings.TrimLeft(s.text[from:e], "0")
	if n, err := strconv.Atoi("0" + power); err != nil || n > maxExponent {
		s.exponentTooLarge(off, s.text[off:e], sign)
	}
	if power == "" {
		power, sign = "0", ""
	}
	d.text += "e" + sign + power
	d.whole, d.exp = false, true
	return d, e
}

func (s *scanner) digits(off int) int {
	for isDigit(s.at(off)) {
		off++
	}
	return off
}

func canonicalDigits(text string) string {
	if text[0] == '.' {
		return "0" + text
	}
	if text[0] == '0' {
		text = strings.TrimLeft(text, "0")
		if text == "" || text[0] == '.' {
			text = "0" + text
		}
	}
	return text
}

// number scans a number with all that belongs to it.
func (s *scanner) number(t *token) {
	t.lit = &Literal{At: s.pos(t.off)}
	if !isDigit(s.text[t.off]) && s.text[t.off] != '.' {
		s.inchFraction(t, decimal{}, t.off)
		return
	}
	if s.text[t.off] == '0' && s.bits(t) {
		return
	}
	d, end := s.decimal(t.off)
	t.num = d
	s.off = end
	if s.err != nil || s.date(t) || s.wrongMark(t.off, end) || s.leadingNought(t.off, end) {
		return
	}
	switch s.at(end) {
	case ':':
		if isDigit(s.at(end + 1)) {
			s.ratio(t, d, end)
			return
		}
	case '/':
		if f := s.fractionEnd(t.off); f > 0 && s.isInchMark(f) {
			s.inchMark(t.off, f)
			return
		}
		if s.tightDivision(t, d, end) {
			return
		}
	}
	if d.whole {
		if after := s.blanks(end); s.startsFraction(after) {
			s.inchFraction(t, d, after)
			return
		} else if after > end && s.digits(after) == after+3 && len(d.text) <= 3 {
			s.groupedDigits(t.off, s.text[t.off:end]+s.text[after:after+3])
			return
		}
	}
	s.unitOrCode(t, d)
}

// wrongMark refuses the marks that other countries and the tape measure put
// behind digits.
func (s *scanner) wrongMark(start, end int) bool {
	r, n := s.rune(end)
	digit := isDigit(s.at(end + n))
	number := s.text[start:end]
	switch {
	case r == '.' && !digit:
		s.fail(start, say("a digit must follow the decimal point").With("write `"+number+"` or `"+number+".0`"))
	case r == '.':
		s.fail(end, say("a number has one decimal point").With(oneMark(s.marked(start))))
	case r == ',' && digit:
		s.decimalComma(end, number, s.text[end+1:s.digits(end+1)], s.marked(start))
	case (r == '\'' || r == '’' || r == '_') && digit:
		s.groupedDigits(start, number+s.text[end+n:s.digits(end+n)])
	case s.isInchMark(end):
		s.inchMark(start, end)
	case r == '\'' || r == '’' || r == '′':
		s.footMark(start, end, end+n, number)
	}
	return s.err != nil
}

func (s *scanner) inchMark(start, off int) {
	s.fail(off, say("a quote begins a text and is no mark for inches").With("write `"+s.text[start:off]+" in`"))
}

func (s *scanner) isInchMark(off int) bool {
	r, _ := s.rune(off)
	return r == '"' || r == '”' || r == '″'
}

// marked is the digits at off with all points and commas that stand between
// them.
func (s *scanner) marked(off int) string {
	end := s.digits(off)
	for c := s.at(end); (c == '.' || c == ',') && isDigit(s.at(end+1)); c = s.at(end) {
		end = s.digits(end + 1)
	}
	return s.text[off:end]
}

// leadingNought refuses a whole number that begins with a nought: a gauge of
// several noughts, a byte without its 0b.
func (s *scanner) leadingNought(start, end int) bool {
	digits := s.text[start:end]
	if len(digits) < 2 || digits[0] != '0' || s.digits(start) != end {
		return false
	}
	s.noughtInFront(start, digits, s.tightBehind(end))
	return true
}

// tightBehind is what stands directly behind a number: its unit or code.
func (s *scanner) tightBehind(off int) string {
	end := off
	for r, n := s.rune(end); n > 0 && (startsUnit(r) || isDigit(byte(r)) && r < utf8.RuneSelf); r, n = s.rune(end) {
		end += n
	}
	return s.text[off:end]
}

// bits scans 0x1F and 0b1010.
func (s *scanner) bits(t *token) bool {
	base := map[byte]int{'x': 16, 'b': 2}[s.at(t.off+1)]
	from := t.off + 2
	end := from
	for end < s.end && isNameByte(s.text[end]) {
		end++
	}
	if base == 0 || end == from || base == 2 && !isDigit(s.text[from]) {
		return false
	}
	digits := s.text[from:end]
	v, err := strconv.ParseUint(digits, base, 64)
	switch {
	case err != nil && err.(*strconv.NumError).Err == strconv.ErrSyntax:
		s.wrongBits(t.off, s.text[t.off:end], base)
	case err != nil || v > 1<<53:
		s.fail(t.off, say("this number has too many bits").With("up to 53 bits can be held exactly"))
	}
	t.lit.Form, t.lit.Value = Bits, float64(v)
	t.lit.Text = s.text[t.off:from] + strings.ToUpper(digits)
	s.off = end
	return true
}

// ratio scans 1:87, the colon being at colon.
func (s *scanner) ratio(t *token, d decimal, colon int) {
	e, end := s.decimal(colon + 1)
	s.off = end
	t.lit.Form, t.lit.Text = Ratio, d.text+":"+e.text
	switch {
	case s.err != nil || s.wrongMark(colon+1, end):
	case s.at(end) == ':', d.text != "1" && e.text != "1":
		s.fail(t.off, say("a ratio has 1 on one side, as in 1:87").With("write `"+d.text+" / "+e.text+"`"))
	case d.rat().Sign() == 0 || e.rat().Sign() == 0:
		s.fail(t.off, say("a ratio to nothing has no value"))
	default:
		t.lit.Value, _ = d.rat().Quo(d.rat(), e.rat()).Float64()
		s.bounded(t.off, decimal{text: "1"}, t.lit.Value)
		if word := s.unitWord(s.blanks(end), s.blanks(end) > end); word != "" {
			ratio := t.lit.Text
			s.fail(t.off, say("a ratio takes no unit, got %s", word).
				With("write `"+ratio+"` alone, or a length `at "+ratio+"`"))
		}
	}
}

// unitWord gives the tight word at off if it could be meant as a unit.
func (s *scanner) unitWord(off int, spaced bool) string {
	r, _ := s.rune(off)
	if !startsUnit(r) {
		return ""
	}
	word := s.text[off : off+units.WordLength(s.text[off:s.end])]
	if spaced && (unitless[leadingWord(word)] || IsReserved(word)) {
		return ""
	}
	return word
}

// tightDivision settles what a slash without blanks before a unit means:
// 3/8 in is a fraction of an inch; 1/2 mm is refused, for it would be one
// divided by 2 mm. It reports false if it is an ordinary division.
func (s *scanner) tightDivision(t *token, d decimal, slash int) bool {
	if !isDigit(s.at(slash + 1)) {
		return false
	}
	if d.whole && s.startsFraction(t.off) && s.inchAt(s.fractionEnd(t.off)) > 0 {
		s.inchFraction(t, decimal{}, t.off)
		return true
	}
	e, end := s.decimal(slash + 1)
	if s.err != nil {
		return true
	}
	after := s.blanks(end)
	word := s.unitWord(after, after > end)
	if word == "" {
		return false
	}
	u, n := units.LongestPrefix(s.text[after:s.end])
	if n == 0 {
		return false
	}
	s.tightFraction(t.off, d, e, u.String())
	return true
}
