package show

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Safe makes visible whatever in s could act on a terminal or hide in it: the
// control characters (C0, DEL, C1), the format characters (bidirectional
// overrides, zero-width signs, the byte order mark, tags), what Unicode has
// ignored where it is not known (variation selectors, fillers), the line and
// paragraph separators, what is no character, and bytes that are no UTF-8. So it
// does marks, such as accents, that have no character before them to stand on,
// or too many before them. Each becomes an escape such as \x1b or \u202e.
// Everything else stays as it is.
func Safe(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	marks := mostMarks // the start of a text is nothing to stand on
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		raw := s[i : i+size]
		i += size
		shown := raw
		if acts(r, raw) || unicode.In(r, onto...) && marks >= mostMarks {
			shown = escape(r, raw)
		}
		b.WriteString(shown)
		switch {
		case shown != raw || unicode.IsSpace(r):
			marks = mostMarks
		case unicode.In(r, onto...):
			marks++
		default:
			marks = 0
		}
	}
	return b.String()
}

// mostMarks is how many marks a character may have on it: more than any script
// stacks, and too few to draw over the rows around.
const mostMarks = 6

var (
	// onto are the characters without a width of their own: marks, and the
	// letters that Hangul builds its syllables with.
	onto = []*unicode.RangeTable{unicode.Mn, unicode.Me,
		{R16: []unicode.Range16{{Lo: 0x1160, Hi: 0x11ff, Stride: 1}, {Lo: 0xd7b0, Hi: 0xd7ff, Stride: 1}}}}

	// ignored are the characters that are drawn as nothing, or as a blank, and
	// that the categories do not tell (Unicode 4.0 and later, section 5.21).
	ignored = []*unicode.RangeTable{unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector}
)

// Acts reports whether a character could act on a terminal, or shows as nothing.
func Acts(r rune) bool { return !unicode.IsGraphic(r) || unicode.In(r, ignored...) }

// acts is Acts for a rune that may be no character.
func acts(r rune, raw string) bool { return r == utf8.RuneError && len(raw) == 1 || Acts(r) }

// SafeRows is Safe for a text of several rows: its newlines and tabs stay.
func SafeRows(text string) string {
	rows := strings.Split(text, "\n")
	for i := range rows {
		rows[i] = excerpt(rows[i])
	}
	return strings.Join(rows, "\n")
}

// plain is the quick way for the usual text: printable ASCII.
func plain(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// escape is the visible form of one rune; raw is how it was encoded.
func escape(r rune, raw string) string {
	switch {
	case r == utf8.RuneError && len(raw) == 1:
		return fmt.Sprintf(`\x%02x`, raw[0])
	case r == '\n':
		return `\n`
	case r == '\t':
		return `\t`
	case r == '\r':
		return `\r`
	case r < ' ' || r == 0x7f:
		return fmt.Sprintf(`\x%02x`, r)
	case r > 0xffff:
		return fmt.Sprintf(`\U%08x`, r)
	}
	return fmt.Sprintf(`\u%04x`, r)
}
