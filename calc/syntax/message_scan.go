package syntax

import (
	"fmt"
	"strings"

	"railsum/units"
)

// All that the scanner has to say stands in this file and in message_number.go,
// a method each.

// fail ends the row with an error. Only the first one counts.
func (s *scanner) fail(off int, cure, format string, args ...any) {
	if s.err == nil {
		s.err = &Diag{At: s.pos(off), Message: fmt.Sprintf(format, args...), Cure: cure}
	}
}

// Characters.

func (s *scanner) controlCharacter(off int, r rune) {
	cure := "take it out"
	if r == '\r' {
		cure = "end each row with a newline"
	}
	s.fail(off, cure, "a control character (U+%04X) cannot stand in a line", r)
}

func (s *scanner) hiddenCharacter(off int, r rune) {
	s.fail(off, "take it out; it may have come with a paste", "an invisible character (U+%04X) cannot stand in a line", r)
}

func (s *scanner) notUTF8(off int) {
	s.fail(off, "save the file as UTF-8", "this is no text in UTF-8")
}

func (s *scanner) rowTooLong() {
	s.fail(0, fmt.Sprintf("a line has at most %d; name parts of it on lines of their own", MaxRunes), "this line has too many characters")
}

func (s *scanner) wrongOperator(off int, typed, right string) {
	s.fail(off, "write `"+right+"`", "`%s` is no operator here", typed)
}

func (s *scanner) strangeCharacter(off int, r rune) {
	switch r {
	case '“', '”', '„', '«', '»', '″', '‟':
		s.fail(off, "write the plain quote `\"`", "the quote %c cannot be read", r)
	case '\'', '‘', '’', '‚', '`', '′':
		s.fail(off, "texts stand in double quotes: `\"`", "the mark %c is not part of the language", r)
	case '‐', '‑', '‒', '–', '—':
		s.fail(off, "write `-`", "the dash %c is no minus", r)
	case '²', '³', '¹':
		digit := map[rune]string{'¹': "1", '²': "2", '³': "3"}[r]
		s.fail(off, "write `^"+digit+"`", "a raised digit stands only in a unit")
	case '√':
		s.fail(off, "write `sqrt(…)`", "the sign √ is not part of the language")
	case '[', '{', ']', '}':
		s.fail(off, "write `(` and `)`", "the bracket %c is not part of the language", r)
	case '°':
		s.fail(off, "write a number before it, as in `20 degC` or `45 deg`", "a unit needs a number")
	default:
		s.fail(off, "", "the character %c is not part of the language", r)
	}
}

// Texts and names.

func (s *scanner) textNotClosed(off int) {
	s.fail(off, "write `\"` where it ends", "this text is not closed")
}

func (s *scanner) noLetter(off int) {
	s.fail(off, "put a letter before the `_`", "a name begins with a letter")
}

func (s *scanner) noNameCharacter(off int, name string, r rune) {
	s.fail(off, "use letters, the digits 0 to 9 and `_`", "the name %s holds the character %c", name, r)
}

func (s *scanner) mixedScripts(off int, name string) {
	s.fail(off, "type it again in one alphabet; some letters of different alphabets look alike", "the name %s mixes letters of two alphabets", name)
}

func (s *scanner) emptyPart(off int) {
	s.fail(off, "put a row's label into the quotes", "a part of this name is empty")
}

func (s *scanner) noPart(off int, before string) {
	if isDigit(s.at(off)) {
		s.fail(off, "write `"+before+"_"+s.text[off:s.digits(off)]+"` for a name of its own", "each part of a name begins with a letter")
		return
	}
	s.fail(off, "write no blanks round the point", "a name must follow the point directly")
}

func (s *scanner) tooManyParts(off int) {
	s.fail(off, "the longest is `sheet.table.row.column`", "this name has too many parts")
}

// Units.

// noUnit says why what stands behind a number is no unit of it.
func (s *scanner) noUnit(start, off int, d decimal, word string, spaced bool) {
	_, perr := units.Parse(word)
	err, ok := perr.(*units.Error)
	if !ok {
		err = &units.Error{Message: word + " is not a unit here"}
	}
	head := leadingWord(word)
	typed := s.text[start:off]
	switch {
	case !spaced && s.noTightUnit(start, off, d, word, head):
	case strings.HasPrefix(word, "%") && unitless[strings.TrimPrefix(head, "%")]:
		s.fail(off+1, "put a blank before it", "%s cannot follow a number directly", head[1:])
	case s.operatorBehindUnit(start, off, d, word, err):
	case s.calledOrMultiplied(start, off, d, word, head, spaced):
	case err.Symbol == "" && head != word:
		s.fail(off, err.Cure, "%s", err.Message)
	default:
		cure := unitCure(err)
		if after := s.blanks(off + len(word)); s.at(after) == '=' && spaced {
			s.fail(off, "put a comma between two settings", "an operator or a comma is missing before %s", word)
		}
		if spaced {
			times := "to multiply by a name write `" + strings.TrimSpace(typed) + " * " + head + "`"
			if cure != "" {
				times = cure + "; " + times
			}
			cure = times
		}
		s.fail(off, cure, "%s", err.Message)
	}
}

// operatorBehindUnit refuses 12 V/x: a unit, and an operator that could belong
// to it or not.
func (s *scanner) operatorBehindUnit(start, off int, d decimal, word string, err *units.Error) bool {
	for end := len(word) - 1; end > 0; end-- {
		i := strings.IndexByte("*/^(", word[end])
		if strings.HasPrefix(word[end:], "·") {
			i = 0
		}
		if i < 0 {
			continue
		}
		u := s.units.lookup(word[:end])
		if u == nil {
			continue
		}
		if err.Symbol == "" && i < 2 {
			return false // every part is a unit: units has said what is wrong
		}
		number, rest := d.text+" "+u.file, strings.TrimPrefix(word[end:], "·")
		switch i {
		case 0:
			s.fail(off, "to multiply write `"+number+" * "+strings.TrimPrefix(rest, "*")+"`", "%s is not a unit here", word)
		case 1:
			s.fail(off, "to divide write `"+number+" / "+rest[1:]+"`", "%s is not a unit here", word)
		case 2:
			s.fail(off, "to raise the quantity write `("+number+")^"+strings.TrimPrefix(rest[1:], "(")+"`", "%s is not a unit here", word)
		default:
			s.fail(off+end, "to multiply write `"+number+" * "+rest+"`", "an operator is missing before the bracket")
		}
		return true
	}
	return false
}

// calledOrMultiplied refuses 3 x 5, 2x1.5 and 5 sqrt(2).
func (s *scanner) calledOrMultiplied(start, off int, d decimal, word, head string, spaced bool) bool {
	after := off + len(word)
	rest := strings.TrimLeft(word, "xX")
	switch {
	case len(word)-len(rest) == 1 && (rest == "" && isDigit(s.at(s.blanks(after))) || rest != "" && isDigit(rest[0])):
		next := s.blanks(off + 1)
		_, end := s.decimal(next)
		s.fail(off, "to multiply write `"+d.text+" * "+s.text[next:end]+"`", "the letter %s is no operator", word[:1])
	case len(head) < len(word) && word[len(head)] == '(':
		s.fail(off, "to multiply write `"+d.text+" * "+word+"`", "an operator is missing before %s", head)
	default:
		return false
	}
	return true
}

func (s *scanner) unknownUnit(off int, word string) {
	_, err := units.Parse(word)
	e, ok := err.(*units.Error)
	if !ok {
		s.fail(off, "", "%s is not a unit here", word)
		return
	}
	s.fail(off, unitCure(e), "%s", e.Message)
}

// unitCure is the cure of an error about a unit; units that may have been
// meant end in a question mark.
func unitCure(e *units.Error) string {
	if strings.HasSuffix(e.Cure, "?") {
		return "did you mean " + e.Cure
	}
	return e.Cure
}

func (s *scanner) unitWanted(off int) {
	s.fail(off, "as in `as mm`", "a unit must stand here")
}
