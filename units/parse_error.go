package units

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"railsum/units/words"
)

// Error is why a text is not a unit.
type Error struct {
	words.Wrong
	Symbol string // the word that is not on the list, if that is what is wrong
}

// twoReadings refuses a second factor after a "/": W/m*K.
func (p *parser) twoReadings(head string, below factors) *Error {
	if !strings.HasPrefix(p.rest, "/") && !p.times() {
		return nil
	}
	slash := p.take("/")
	more, err := p.product()
	if err != nil {
		return err
	}
	b, m := below.render(fileForm), more.render(fileForm)
	e := &Error{Wrong: words.Say("%s can be read in two ways", p.text()).
		With("write " + head + "/(" + b + "*" + m + ")")}
	switch {
	case slash:
		e.Cure += ", with one / only"
	case head == "1":
		e.Cure += " or " + m + "/" + b
	default:
		e.Cure += " or " + head + "*" + m + "/" + b
	}
	return e
}

func tooLong() *Error {
	return &Error{Wrong: words.Say("this unit is longer than %s characters", strconv.Itoa(MaxLength)).
		With("take it apart and calculate")}
}

// noPowers is the error for a power or a root of degC, degF, %, ‰ or ppm.
func noPowers(s *symbol, word string) *Error {
	e := &Error{Wrong: words.Say("%s has no powers and no roots", word)}
	if s.kind == degrees {
		e.Cure = "write K in place of " + word
	}
	return e
}

// stray is the error at the first character that cannot stand where it does.
func (p *parser) stray() *Error {
	if p.src == "" {
		return &Error{Wrong: words.Say("a unit is missing")}
	}
	if strings.ContainsFunc(p.src, unicode.IsSpace) {
		return &Error{Wrong: words.Say("units are one word").With(joined(strings.Fields(p.src)))}
	}
	if p.rest == "" {
		return &Error{Wrong: words.Say("%s is not finished", p.text()).With("a unit must follow its last sign")}
	}
	r, _ := utf8.DecodeRuneInString(p.rest)
	switch {
	case r == '(':
		return &Error{Wrong: words.Say("brackets in a unit are used only directly after /").With("as in W/(m*K)")}
	case r == ')':
		return &Error{Wrong: words.Say("a bracket in %s was not opened", p.text())}
	case r == '/':
		return &Error{Wrong: words.Say("%s has a / too many", p.text()).With("as in kg/(m*s2), with one / only")}
	}
	return &Error{Wrong: words.Say("%s cannot stand here in a unit", strconv.QuoteRune(r))}
}

// open is the error for a bracket without its end.
func (p *parser) open() *Error {
	return &Error{Wrong: words.Say("the bracket in %s is not closed", p.text()).
		With("write " + p.text() + strings.Repeat(")", strings.Count(p.src, "(")-strings.Count(p.src, ")")))}
}

// text is the source made safe to print.
func (p *parser) text() string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, p.src)
}

// joined advises on a compound written with blanks.
func joined(words []string) string {
	if len(words) > maxFactors {
		return ""
	}
	for _, sep := range []string{"", "*"} {
		if s := strings.Join(words, sep); len(s) <= MaxLength {
			if _, err := read(s); err == nil {
				return "write " + s
			}
		}
	}
	return "write * or / between its parts, as in N*m"
}

// unknown is the error for a word that is not on the list.
func (p *parser) unknown(word string) *Error {
	e := &Error{Symbol: word, Wrong: words.Say("%s is not a unit here", word)}
	if strings.ContainsFunc(p.src, unicode.IsSpace) {
		return p.stray()
	}
	if a, ok := advice[word]; ok {
		e.Cure = a
		return e
	}
	before := p.src[:len(p.src)-len(p.rest)]
	after := p.rest[len(word):]
	var whole []string
	for _, n := range nearSymbols(word) {
		if s := before + n + after; parses(s) {
			whole = append(whole, s)
		}
	}
	if len(whole) > 0 {
		e.Cure = words.Or(whole) + "?"
	}
	return e
}
