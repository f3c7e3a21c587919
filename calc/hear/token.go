package hear

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"railsum/calc/syntax"
)

type kind uint8

const (
	number kind = iota // 12, 1.5, 2e3, 1:87, 0x1F, 4k7
	word               // a name, a unit or a word of the language; dotted names are one
	unit               // a unit in its strict spelling
	sign               // any other character, or "||", "<=" and the like
	text               // in quotes, with them
	done               // strict text that no later rule looks into
)

// A token is a stretch of a line: as typed, or as a rule has rewritten it.
type token struct {
	kind
	text   string
	spaced bool   // a blank stands before it
	plain  bool   // a number of nothing but digits, a point and an exponent
	doubt  string // where it can be heard in more than one way: what was typed, or its text again if that is not known
}

func (t *token) is(s string) bool     { return t.kind == sign && t.text == s }
func (t *token) isWord(s string) bool { return t.kind == word && strings.EqualFold(t.text, s) }
func (t *token) oneOf(words ...string) bool {
	for _, w := range words {
		if t.isWord(w) {
			return true
		}
	}
	return false
}

// vulgar are the fractions that are one character.
var vulgar = map[rune]string{'¼': "1/4", '½': "1/2", '¾': "3/4", '⅓': "1/3", '⅔': "2/3", '⅛': "1/8", '⅜': "3/8",
	'⅝': "5/8", '⅞': "7/8"}

// signsOfTwo are read as one sign.
var signsOfTwo = []string{"||", "//", "<=", ">=", "!=", "+-", "==", "**"}

// tokens takes a line apart, without its note. It reports false for a text that
// is not closed.
func tokens(line string) ([]token, bool) {
	var ts []token
	for i := 0; i < len(line); {
		r, n := utf8.DecodeRuneInString(line[i:])
		if unicode.IsSpace(r) {
			i += n
			continue
		}
		t := token{spaced: i > 0 && blankBefore(line, i)}
		glued := len(ts) > 0 && !t.spaced
		behindDigit := glued && ts[len(ts)-1].kind == number
		day, may := 0, []string(nil)
		if isDigit(line[i]) && !glued {
			day, may = syntax.LikeDate(line[i:])
		}
		switch {
		case day > 0: // its parts are no numbers of anything
			n = day
			t.kind, t.text = done, line[i:i+n]
			if len(may) == 1 {
				t.text = syntax.PrintExpr(syntax.DateCall(syntax.Pos{}, may[0]))
			}
		case '0' <= r && r <= '9', r == '.' && i+1 < len(line) && isDigit(line[i+1]) && !behindDigit:
			n = t.number(line[i:])
		case vulgar[r] != "":
			top, bottom, _ := strings.Cut(vulgar[r], "/")
			ts = append(ts, token{kind: number, text: top, spaced: true, plain: true}, token{kind: sign, text: "/"})
			t = token{kind: number, text: bottom, plain: true}
		case r == '"' && !behindDigit:
			end := strings.IndexByte(line[i+1:], '"')
			if end < 0 {
				return nil, false
			}
			n = end + 2
			t.kind, t.text = text, line[i:i+n]
		case startsWord(r):
			n = wordLength(line[i:])
			t.kind, t.text = word, line[i:i+n]
		default:
			t.kind, t.text = sign, string(r)
			for _, s := range signsOfTwo {
				if strings.HasPrefix(line[i:], s) {
					t.text, n = s, len(s)
				}
			}
			if strings.HasPrefix(line[i:], "+/-") {
				t.text, n = "+-", 3
			}
		}
		ts = append(ts, t)
		i += n
	}
	return parted(ts), true
}

func blankBefore(line string, i int) bool {
	r, _ := utf8.DecodeLastRuneInString(line[:i])
	return unicode.IsSpace(r)
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

func startsWord(r rune) bool {
	return r == '_' || unicode.IsLetter(r) || strings.ContainsRune("°%‰\u2103\u2109", r)
}

// wordLength is how many bytes at the start of s are a word; a point with a
// letter or a quote behind it goes on to the next part of a name.
func wordLength(s string) int {
	for i, r := range s {
		switch {
		case startsWord(r), unicode.IsDigit(r) && i > 0, strings.ContainsRune("²³", r):
		case r == '.' && i+1 < len(s) && (s[i+1] == '_' || unicode.IsLetter(rune(s[i+1]))):
		default:
			return i
		}
	}
	return len(s)
}

// number reads a number at the start of s and gives its length.
func (t *token) number(s string) int {
	t.kind, t.plain = number, true
	end := digits(s, 0)
	if end < len(s) && s[end] == '.' && end+1 < len(s) && isDigit(s[end+1]) {
		end = digits(s, end+1)
	}
	switch rest := s[end:]; {
	case s[:end] == "0" && len(rest) > 1 && (rest[0] == 'x' || rest[0] == 'b') && isHex(rest[1:]):
		end += 1 + wordLength("x"+rest[1:]) - 1
		t.plain = false
	case len(rest) > 1 && rest[0] == ':' && isDigit(rest[1]):
		end = digits(s, end+1)
		if end+1 < len(s) && s[end] == '.' && isDigit(s[end+1]) {
			end = digits(s, end+1)
		}
		t.plain = false
	case exponentLength(rest) > 0:
		end += exponentLength(rest)
	default:
		if n := codeLength(rest); n > 0 {
			end += n
			t.plain = false
		}
	}
	t.text = s[:end]
	return end
}

func digits(s string, i int) int {
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	return i
}

func isHex(s string) bool {
	r := rune(s[0])
	return unicode.IsDigit(r) || r >= 'A' && r <= 'F' || r >= 'a' && r <= 'f'
}

// exponentLength is the length of the exponent of ten at the start of s.
func exponentLength(s string) int {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return 0
	}
	from := 1
	if len(s) > 1 && (s[1] == '+' || s[1] == '-') {
		from = 2
	}
	if end := digits(s, from); end > from {
		return end
	}
	return 0
}

// codeLength is the length of the rest of a code of IEC 60062 behind its digits:
// k7, R, n.
func codeLength(s string) int {
	r, n := utf8.DecodeRuneInString(s)
	if !strings.ContainsRune("RkKMGuµnp", r) || s == "" {
		return 0
	}
	end := digits(s, n)
	if next, _ := utf8.DecodeRuneInString(s[end:]); end < len(s) && startsWord(next) {
		return 0
	}
	return end
}

// parted takes words apart that are glued over an x: 14Vx3, 2x1.5.
func parted(ts []token) []token {
	var out []token
	for i := 0; i < len(ts); i++ {
		t := ts[i]
		out = append(out, t)
		if t.kind != word || t.spaced || i == 0 || ts[i-1].kind != number {
			continue
		}
		at := strings.LastIndexAny(t.text, "xX×")
		if at < 0 || strings.Contains(t.text, ".") {
			continue
		}
		behind := t.text[at+1:]
		if behind == "" && (i+1 == len(ts) || ts[i+1].kind != number || ts[i+1].spaced) ||
			behind != "" && !isDigit(behind[0]) {
			continue
		}
		out = out[:len(out)-1]
		if at > 0 {
			out = append(out, token{kind: word, text: t.text[:at]})
		}
		out = append(out, token{kind: word, text: "x"})
		if behind == "" {
			continue
		}
		if i+1 < len(ts) && !ts[i+1].spaced && strings.HasPrefix(ts[i+1].text, ".") { // 2x1.5
			i++
			behind += ts[i].text
		}
		if more, ok := tokens(behind); ok {
			out = append(out, more...)
		}
	}
	return out
}

// joined is the text of tokens, with a blank where one was typed and between a
// number and its unit.
func joined(ts []token) string {
	var b strings.Builder
	for i, t := range ts {
		if i > 0 && (t.spaced || t.kind == unit && ts[i-1].kind == number) {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
	}
	return b.String()
}
