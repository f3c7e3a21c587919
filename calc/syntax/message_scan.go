package syntax

import (
	"strings"

	"railsum/units"
	"railsum/units/words"
)

// What the scanner has to say, where it is long or is said in several places; of
// numbers in message_number.go.

// fail ends the row with an error. Only the first one counts.
func (s *scanner) fail(off int, wrong words.Wrong) {
	if s.err == nil {
		s.err = &Diag{At: s.pos(off), Wrong: wrong}
	}
}

func say(format string, args ...any) words.Wrong { return words.Say(format, args...) }

// Characters.

func (s *scanner) controlCharacter(off int, r rune) {
	cure := "take it out"
	if r == '\r' {
		cure = "end each row with a newline"
	}
	s.fail(off, say("a control character (U+%04X) cannot stand in a line", r).With(cure))
}

func (s *scanner) wrongOperator(off int, typed, right string) {
	s.fail(off, say("`%s` is no operator here", typed).With("write `"+right+"`"))
}

func (s *scanner) strangeCharacter(off int, r rune) {
	switch r {
	case '“', '”', '„', '«', '»', '″', '‟':
		s.fail(off, say("the quote %c cannot be read", r).With("write the plain quote `\"`"))
	case '\'', '‘', '’', '‚', '`', '′':
		s.fail(off, say("the mark %c is not part of the language", r).With("texts stand in double quotes: `\"`"))
	case '‐', '‑', '‒', '–', '—':
		s.fail(off, say("the dash %c is no minus", r).With("write `-`"))
	case '²', '³', '¹':
		digit := map[rune]string{'¹': "1", '²': "2", '³': "3"}[r]
		s.fail(off, say("a raised digit is used only in a unit").With("write `^"+digit+"`"))
	case '√':
		s.fail(off, say("the sign √ is not part of the language").With("write `sqrt(…)`"))
	case '[', '{', ']', '}':
		s.fail(off, say("the bracket %c is not part of the language", r).With("write `(` and `)`"))
	case '°':
		s.fail(off, say("a unit needs a number").With("write a number before it, as in `20 degC` or `45 deg`"))
	default:
		s.fail(off, say("the character %c is not part of the language", r))
	}
}

// Texts and names.

func (s *scanner) noLetter(off int) {
	s.fail(off, say("a name begins with a letter").With("put a letter before the `_`"))
}

func (s *scanner) noPart(off int, before string) {
	if isDigit(s.at(off)) {
		s.fail(off, say("each part of a name begins with a letter").
			With("write `"+before+"_"+s.text[off:s.digits(off)]+"` for a name of its own"))
		return
	}
	s.fail(off, say("a name must follow the point directly").With("write no blanks round the point"))
}

// Units.

// noUnit says why what stands behind a number is not a unit of it.
func (s *scanner) noUnit(start, off int, d decimal, word string, spaced bool) {
	_, perr := units.Parse(word)
	err, ok := perr.(*units.Error)
	if !ok {
		err = &units.Error{Wrong: words.Say("%s is not a unit here", word)}
	}
	head := leadingWord(word)
	typed := s.text[start:off]
	switch {
	case !spaced && s.noTightUnit(start, off, d, word, head):
	case strings.HasPrefix(word, "%") && unitless[strings.TrimPrefix(head, "%")]:
		s.fail(off+1, say("%s cannot follow a number directly", head[1:]).With("put a blank before it"))
	case s.operatorBehindUnit(start, off, d, word, err):
	case s.calledOrMultiplied(start, off, d, word, head, spaced):
	case err.Symbol == "" && head != word:
		s.fail(off, say("%s", err.Message).With(err.Cure))
	default:
		cure := unitCure(err)
		if after := s.blanks(off + len(word)); s.at(after) == '=' && spaced {
			s.fail(off, say("an operator or a comma is missing before %s", word).
				With("put a comma between two settings"))
		}
		if spaced {
			times := "to multiply by a name write `" + strings.TrimSpace(typed) + " * " + head + "`"
			switch {
			case strings.HasSuffix(cure, "?"):
				times = cure + " To" + strings.TrimPrefix(times, "to")
			case cure != "":
				times = cure + "; " + times
			}
			cure = times
		}
		s.fail(off, say("%s", err.Message).With(cure))
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
			s.fail(off, say("%s is not a unit here", word).
				With("to multiply write `"+number+" * "+strings.TrimPrefix(rest, "*")+"`"))
		case 1:
			s.fail(off, say("%s is not a unit here", word).With("to divide write `"+number+" / "+rest[1:]+"`"))
		case 2:
			s.fail(off, say("%s is not a unit here", word).
				With("to raise the quantity write `("+number+")^"+strings.TrimPrefix(rest[1:], "(")+"`"))
		default:
			s.fail(off+end, say("an operator is missing before the bracket").
				With("to multiply write `"+number+" * "+rest+"`"))
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
		s.fail(off, say("the letter %s is no operator", word[:1]).
			With("to multiply write `"+d.text+" * "+s.text[next:end]+"`"))
	case len(head) < len(word) && word[len(head)] == '(':
		s.fail(off, say("an operator is missing before %s", head).With("to multiply write `"+d.text+" * "+word+"`"))
	default:
		return false
	}
	return true
}

func (s *scanner) unknownUnit(off int, word string) {
	_, err := units.Parse(word)
	e, ok := err.(*units.Error)
	switch {
	case word == date:
		s.fail(off, say("a date has no unit").With("write `"+date+"(\""+units.DateForm+"\")`; a column of dates has `| seen as date` for its head"))
	case !ok:
		s.fail(off, say("%s is not a unit here", word))
	default:
		s.fail(off, say("%s", e.Message).With(unitCure(e)))
	}
}

// unitCure is the cure of an error about a unit; units that may have been
// meant end in a question mark.
func unitCure(e *units.Error) string {
	if strings.HasSuffix(e.Cure, "?") {
		return "did you mean " + e.Cure
	}
	return e.Cure
}
