package syntax

import (
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// startsName reports whether a name begins with the character. A "_" is let in
// here to be refused in better words.
func startsName(r rune) bool { return r == '_' || unicode.IsLetter(r) }

func isNameByte(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_'
}

// name scans a word or a dotted name.
func (s *scanner) name(t *token) {
	start := s.off
	t.str = s.namePart()
	for s.err == nil && s.at(s.off) == '.' {
		if t.parts == nil {
			t.parts = []Part{{At: s.pos(start), Text: t.str}}
		}
		s.off++
		at := s.off
		p := Part{At: s.pos(at)}
		r, _ := s.rune(at)
		switch {
		case r == '"':
			p.Text, p.Quoted = s.quoted(), true
			if s.err == nil && p.Text == "" {
				s.fail(at, say("a part of this name is empty").With("put a row's label into the quotes"))
			}
		case startsName(r):
			p.Text = s.namePart()
		default:
			s.noPart(at, t.str)
		}
		t.parts = append(t.parts, p)
		if len(t.parts) > maxParts {
			s.fail(at, say("this name has too many parts").With("the longest is `sheet.table.row.column`"))
		}
	}
}

// maxParts is the longest a name gets: sheet, table, row, column.
const maxParts = 4

// namePart scans one part of a name and gives it in its normal form.
func (s *scanner) namePart() string {
	start := s.off
	end := start
	for end < s.end && isNameByte(s.text[end]) {
		end++
	}
	if end == s.end || s.text[end] < utf8.RuneSelf {
		s.off = end
		if s.text[start] == '_' {
			s.noLetter(start)
		}
		return s.text[start:end]
	}
	for i, r := range s.text[start:s.end] {
		end = start + i
		if r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) {
			break
		}
		end += utf8.RuneLen(r)
	}
	s.off = end
	name := normalName(s.text[start:end])
	var script *unicode.RangeTable
	for i, r := range name {
		switch {
		case r == '_' && i == 0:
			s.noLetter(start)
		case r == '_', r < utf8.RuneSelf && isDigit(byte(r)):
		case !unicode.IsLetter(r):
			s.fail(start, say("the name %s holds the character %c", name, r).
				With("use letters, the digits 0 to 9 and `_`"))
		default:
			of := scriptOf(r)
			if script != nil && of != nil && of != script {
				s.fail(start, say("the name %s mixes letters of two alphabets", name).
					With("type it again in one alphabet; some letters of different alphabets look alike"))
				return name
			}
			if of != nil {
				script = of
			}
		}
	}
	return name
}

// normalName puts a name into the form in which names are compared. The micro
// sign is the one letter in use here that the normal form leaves apart from its
// twin.
func normalName(name string) string {
	name = norm.NFC.String(name)
	runes := []rune(name)
	for i, r := range runes {
		if r == 'µ' {
			runes[i] = 'μ'
		}
	}
	return string(runes)
}

// scriptOf gives the script of a letter, nil for letters that several scripts
// share. The writing of Japanese counts as one.
func scriptOf(r rune) *unicode.RangeTable {
	for _, t := range []*unicode.RangeTable{unicode.Latin, unicode.Greek, unicode.Cyrillic} {
		if unicode.Is(t, r) {
			return t
		}
	}
	if unicode.In(r, unicode.Han, unicode.Hiragana, unicode.Katakana) {
		return unicode.Han
	}
	for name, t := range unicode.Scripts {
		if name != "Common" && name != "Inherited" && unicode.Is(t, r) {
			return t
		}
	}
	return nil
}

// scale scans what stands for a scale directly after "at": a symbol may begin
// with a nought.
func (s *scanner) scale() (token, bool) {
	save := *s
	off := s.blanks(s.off)
	t := token{kind: word, off: off, spaced: off > s.off}
	if s.at(off) != '0' {
		return t, false
	}
	end := off
	for s.at(end) == '0' {
		end++
	}
	for end < s.end && isNameByte(s.text[end]) {
		end++
	}
	if c := s.at(end); c == '.' || c == ':' {
		return t, false
	}
	if r, _ := s.rune(end); startsName(r) {
		*s = save
		return t, false
	}
	s.off, t.end = end, end
	t.str = s.text[off:end]
	return t, true
}
