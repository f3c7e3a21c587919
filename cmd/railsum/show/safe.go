package show

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Safe makes visible whatever in s could act on a terminal or hide in it: the
// control characters (C0, DEL, C1), the format characters (bidirectional
// overrides, zero-width signs, the byte order mark, tags), the line and
// paragraph separators, what is no character, and bytes that are no UTF-8. Each becomes an escape
// such as \x1b or \u202e. Everything else stays as it is.
func Safe(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		b.WriteString(safeRune(r, s[i:i+size]))
		i += size
	}
	return b.String()
}

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

// safeRune is the visible form of one rune; raw is how it was encoded.
func safeRune(r rune, raw string) string {
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
	case unicode.IsGraphic(r) && (r < 0xe0000 || r > 0xe0fff): // there lie tags and selectors, which nobody sees
		return raw
	case r > 0xffff:
		return fmt.Sprintf(`\U%08x`, r)
	}
	return fmt.Sprintf(`\u%04x`, r)
}
