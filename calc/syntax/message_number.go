package syntax

import (
	"fmt"
	"math/big"
	"railsum/units"
	"strings"
	"unicode/utf8"
)

// Numbers.

// oneMark offers a number in which marks group the digits, and one of them may
// be the decimal mark, with a point or without a mark; nothing if that cannot be
// told.
func oneMark(marked string) string {
	groups := strings.FieldsFunc(marked, func(r rune) bool { return r == '.' || r == ',' })
	last := len(groups) - 1
	decimals := strings.ContainsAny(marked, ".") && strings.ContainsAny(marked, ",")
	if decimals {
		sign := marked[len(marked)-len(groups[last])-1 : len(marked)-len(groups[last])]
		if strings.Count(marked, sign) > 1 {
			return ""
		}
	}
	for i, g := range groups {
		if i == 0 && (len(g) > 3 || g[0] == '0') || i > 0 && len(g) != 3 && !(decimals && i == last) {
			return ""
		}
	}
	if decimals {
		return "write `" + strings.Join(groups[:last], "") + "." + groups[last] + "`"
	}
	return "write `" + strings.Join(groups, "") + "`"
}

// severalMarks offers what digits with more than one mark between them can mean:
// one number, or several.
func (s *scanner) severalMarks(off int, marked string) {
	cure := oneMark(marked)
	list := strings.Split(marked, ",")
	several := !strings.Contains(marked, ".")
	for _, g := range list {
		several = several && canonicalDigits(g) == g
	}
	if several {
		if cure != "" {
			cure += ", or "
		} else {
			cure = "write "
		}
		cure += "`" + strings.Join(list, ", ") + "` for several values"
	}
	s.fail(off, say("marks between digits can be read in more than one way").With(cure))
}

// noughtInFront offers a number without the noughts before it, and what else
// noughts may have meant.
func (s *scanner) noughtInFront(off int, digits, behind string) {
	number := canonicalDigits(digits)
	cure := "write `" + number + behind + "`"
	switch n := len(digits); {
	case behind != "":
	case number == "0" && n <= 7:
		cure = fmt.Sprintf("write `0`; the gauge of %d noughts is written %d/0, as in `awg(%d/0)`", n, n, n)
	case strings.Trim(digits, "01") == "" && n >= 4:
		cure += ", or `0b" + digits + "` for bits"
	}
	s.fail(off, say("a whole number does not begin with 0").With(cure))
}

func (s *scanner) belowAbsoluteZero(off int, typed string) {
	least := "-273.15 degC"
	if strings.HasSuffix(typed, "degF") {
		least = "-459.67 degF"
	}
	s.fail(off, say("%s is colder than can be", typed).With("the coldest there is, is `"+least+"`"))
}

func (s *scanner) decimalComma(off int, before, after, marked string) {
	if strings.Trim(before, "0123456789.eE+-") != "" { // a letter code
		s.fail(off, say("a comma between digits can be read in two ways").
			With("write `"+before+", "+after+"` for two values"))
		return
	}
	if len(marked) > len(before)+1+len(after) || strings.Contains(before, ".") {
		s.severalMarks(off, marked)
		return
	}
	ways := []string{fmt.Sprintf("`%s.%s`", before, after)}
	if len(after) == 3 && before != "0" && len(before) <= 3 {
		ways = []string{ways[0] + " with a point", fmt.Sprintf("`%s%s` without a mark", before, after)}
	}
	if canonicalDigits(after) == after { // no number begins with a nought
		ways = append(ways, fmt.Sprintf("`%s, %s` for two values", before, after))
	}
	if last := len(ways) - 1; last > 0 {
		ways[last] = "or " + ways[last]
	}
	s.fail(off, say("a comma between digits can be read in two ways").With("write "+strings.Join(ways, ", ")))
}

func (s *scanner) groupedDigits(off int, digits string) {
	s.fail(off, say("digits are not grouped here").
		With("write `"+strings.NewReplacer("_", "", "'", "").Replace(digits)+"`"))
}

func (s *scanner) footMark(start, off, behind int, number string) {
	cure := "write `" + number + " ft`"
	if from := s.blanks(behind); isDigit(s.at(from)) {
		cure = "write `" + number + " ft " + s.text[from:s.digits(from)] + " in`"
	}
	s.fail(off, say("this mark is not a unit").With(cure))
}

func (s *scanner) exponentTooLarge(off int, number, sign string) {
	if sign == "-" {
		s.numberTooSmall(off)
		return
	}
	s.numberTooLarge(off)
}

func (s *scanner) numberTooLarge(off int) {
	s.fail(off, say("this number is too large to hold").With("numbers go to 1e308 in SI units"))
}

func (s *scanner) numberTooSmall(off int) {
	s.fail(off, say("this number is too small to hold").With("write 0, or a number above 1e-308 in SI units"))
}

func (s *scanner) wrongBits(off int, typed string, base int) {
	digits := "0 to 9 and A to F"
	if base == 2 {
		digits = "0 and 1"
	}
	s.fail(off, say("%s is no number", typed).With("its digits are "+digits))
}

// Ratios.

// Fractions and mixed lengths.

func (s *scanner) tightFraction(off int, a, b decimal, unit string) {
	q, _ := new(big.Rat).Quo(a.rat(), nonZero(b.rat())).Float64()
	share := fmt.Sprintf("%.6g", q)
	s.fail(off, say("only halves to 64ths of an inch are written as a fraction").
		With(fmt.Sprintf("write `%s %s`, or `%s / (%s %s)`", share, unit, a.text, b.text, unit)))
}

func nonZero(r *big.Rat) *big.Rat {
	if r.Sign() == 0 {
		return big.NewRat(1, 1)
	}
	return r
}

func (s *scanner) fractionOfWhat(off int, fraction, unit string, den int) {
	cure := "write `" + fraction + " in`, or the number with a point"
	if unit != "" {
		cure = "with " + unit + " write the number with a point"
	}
	s.fail(off, say("%s is a fraction, and only inches have them", fraction).With(cure))
}

func (s *scanner) numberWhat(t *token, off int, number string, last units.Link, d decimal) {
	if last.Base == 1 && last.Least == inch() && d.text == "1" {
		s.fail(off, say("%s what? 1 in is an inch", number).With("a grade is written `1:"+number+"`"))
		return
	}
	cure := "an operator or a unit is missing before or after it"
	if last.Next != "" {
		cure = "write `" + t.lit.Text + " " + number + " " + last.Next + "`"
	}
	s.fail(off, say("%s what?", number).With(cure))
}

// Codes.

// noTightUnit knows what is often written directly behind digits.
func (s *scanner) noTightUnit(start, off int, d decimal, word, head string) bool {
	number := s.text[start:off]
	letter, n := utf8.DecodeRuneInString(word)
	digits := len(word) - len(strings.TrimLeft(word[n:], "0123456789")) - n
	behind := word[n+digits:]
	_, isCode := codes[letter]
	switch {
	case letter == 'e' || letter == 'E':
		if behind = strings.TrimLeft(word, "eE"); behind == "" {
			s.fail(off, say("digits must follow the exponent's %c", letter).
				With("write `"+number+"e3` for thousands, or leave the letter out"))
			return true
		}
	case letter == 'm' && digits > 0 && behind == "" && d.whole:
		with := number + "." + word[n:]
		s.fail(start, say("%s%s can be read in two ways", number, word).With("write `"+with+" m` or `"+with+" mF`"))
		return true
	case isCode && strings.ContainsAny(behind, "BCDFGJKM") && len(behind) == 1 &&
		(digits > 0 || letter == 'R' || behind == "J"):
		s.fail(start, say("%s%s ends in a tolerance letter", number, word).
			With("write `marked(\""+number+word+"\")` for the value with its tolerance"))
		return true
	case isCode && digits > 0 && s.units.lookup(behind) != nil:
		s.fail(start+len(number)+n+digits, say("%s%s has its unit in its letter already", number, word[:n+digits]).
			With("write `"+number+word[:n+digits]+"` alone"))
		return true
	case unitless[head]:
		s.fail(off, say("%s cannot follow a number directly", head).With("put a blank before it"))
		return true
	}
	return false
}
