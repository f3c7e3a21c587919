package units

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// WordLength is how many bytes at the start of s could belong to a unit: a
// tight word of letters, digits and the signs of units. It ends before a
// blank, before any other sign, and before a bracket that closes one opened
// earlier.
func WordLength(s string) int {
	depth := 0
	for i, r := range s {
		switch {
		case r == '(':
			depth++
		case r == ')':
			if depth--; depth < 0 {
				return i
			}
		case unicode.IsLetter(r), '0' <= r && r <= '9', strings.ContainsRune("°%‰\u2103\u2109·⋅*/^"+superscripts, r):
		case (r == '-' || r == '−') && (strings.HasSuffix(s[:i], "^") || strings.HasSuffix(s[:i], "^(")): // m^-1
		case r == '.' && strings.HasPrefix(s[i:], ".5") && afterPower(s[:i]): // s^0.5
		default:
			return i
		}
	}
	return len(s)
}

// LongestPrefix reads a unit at the start of s, which stands directly after a
// number: the whole tight word if that is a unit, else the longest unit that
// ends before a "*" or "/" with a digit or a bracket behind it. It gives the
// bytes read, 0 if there is not a unit; Parse(s[:WordLength(s)]) then says why.
func LongestPrefix(s string) (Unit, int) {
	word := s[:WordLength(s)]
	if u, err := Parse(word); err == nil {
		return u, len(word)
	}
	for end := min(len(word), MaxLength) - 1; end > 0; end-- {
		if !utf8.RuneStart(word[end]) || !startsOperand(s[end:]) {
			continue
		}
		if u, err := Parse(word[:end]); err == nil {
			return u, end
		}
	}
	return Unit{}, 0
}

// startsOperand says that s is a "*" or "/" and the start of a calculation.
func startsOperand(s string) bool {
	for _, op := range []string{"*", "/", "·", "⋅"} {
		if rest, ok := strings.CutPrefix(s, op); ok {
			return rest != "" && (strings.ContainsRune("0123456789(. ", rune(rest[0])))
		}
	}
	return false
}

// afterPower says that s ends in a "^" and digits.
func afterPower(s string) bool {
	return strings.HasSuffix(strings.TrimRight(s, "0123456789"), "^")
}
