// Package marking reads what somebody answers to a question, with a unit and in
// whatever words the desk understands, and tells what is right and what is not.
//
// Not its business: what is asked, and how it looks.
package marking

import (
	"fmt"
	"strings"

	"railsum/calc"
	"railsum/calc/answer"
	"railsum/calc/hear"
	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units/words"
)

// Reader reads answers. The zero Reader knows no library.
type Reader struct {
	Library calc.Library
	index   *hear.Index
}

// Read gives the value of an answer, or says why it has none. Of two readings
// neither is taken.
func (r *Reader) Read(text string) (*answer.Value, *words.Wrong) {
	text = plainly(text)
	line, _ := syntax.ParseLine(text)
	book := calc.Open([]*syntax.Line{line}, r.Library)
	if hear.Listens(book, line) {
		if r.index == nil {
			r.index = hear.NewIndex(r.Library, nil)
		}
		h := hear.Beside(nil, r.Library, r.index).Hear(text)
		switch {
		case h.Line != nil:
			book = calc.Open([]*syntax.Line{h.Line}, r.Library)
		case len(h.Readings) == 1:
			w := words.Say("that cannot be read").With(fmt.Sprintf("did you mean %s?", h.Readings[0].Line))
			return nil, &w
		case len(h.Readings) > 0:
			w := words.Say("that can be read in two ways: %s", readings(h.Readings)).With("type the one that is meant")
			return nil, &w
		}
	}
	a := book.Answer(0)
	switch {
	case len(a.Errors) > 0:
		w := words.Say("%s", a.Errors[0].Message)
		return nil, &w
	case a.Value == nil || a.Value.Column() || !a.Value.Sound():
		w := words.Say("this is no value")
		return nil, &w
	}
	return a.Value, nil
}

// unsure are words that people put before what they mean.
var unsure = map[string]bool{"about": true, "around": true, "roughly": true, "approximately": true, "approx": true,
	"circa": true, "ca": true,
	"i": true, "think": true, "guess": true, "say": true, "maybe": true, "perhaps": true, "it": true, "its": true,
	"it's": true, "is": true,
	"that": true, "the": true, "answer": true, "so": true}

// plainly is an answer without what is said around it: about 5 mA, it is 5 mA?
func plainly(text string) string {
	text = strings.TrimRight(strings.TrimSpace(text), "?!. ")
	for {
		first, rest, more := strings.Cut(text, " ")
		if !more || !unsure[strings.ToLower(strings.TrimRight(first, ".,:"))] {
			return text
		}
		text = strings.TrimSpace(rest)
	}
}

func readings(all []hear.Reading) string {
	var lines []string
	for _, r := range all {
		lines = append(lines, r.Line)
	}
	return strings.Join(lines, " or ")
}

// number is the SI number of an answer, false if it has none.
func number(v *answer.Value) (float64, bool) {
	if v == nil || len(v.Numbers) != 1 || !v.Sound() || v.Type.Kind == types.Text || v.Fault(0) != "" {
		return 0, false
	}
	return v.Numbers[0], true
}

// Alike reports whether two values are of one dimension.
func Alike(a, b *answer.Value) bool { return a.Type.Scalar() == b.Type.Scalar() }

// Apart is how far a guess is from the answer, as a share of it; false if they
// cannot be compared.
func Apart(guess, right *answer.Value) (float64, bool) {
	g, ok := number(guess)
	r, and := number(right)
	if !ok || !and || !Alike(guess, right) || r == 0 {
		return 0, false
	}
	return abs(g-r) / abs(r), true
}

// slipped is how near to a slip an answer lies that was got by it.
const slipped = 0.01

// Slip is the usual mistake that an answer was got by, nil if by none.
func Slip(guess *answer.Value, slips []*answer.Slip) *answer.Slip {
	for _, s := range slips {
		g, ok := number(guess)
		w, and := number(s.Wrong)
		if ok && and && Alike(guess, s.Wrong) && abs(g-w) <= slipped*abs(w) {
			return s
		}
	}
	return nil
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
