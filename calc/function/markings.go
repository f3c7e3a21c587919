package function

import (
	"fmt"
	"strconv"
	"strings"

	"railsum/calc/types"
)

// markings is what is printed on a part.
func markings() []*Function {
	return []*Function{{
		Name: "marked", Args: "marked(text)", Group: "the trade",
		Meaning: "the value that is printed on a part, with its tolerance if a letter gives it. A letter stands for the point: R K M G for ohms (and L for thousandths), p n u m F for farads, so 4K7J is 4.7 kohm +- 5 %. " +
			"Three figures are a capacitor's code in picofarads, two figures and the number of noughts: 104 is 100 nF. " +
			"A chip resistor may be marked with the same three figures, and nothing on it tells: for one of 100 kohm write 100k",
		Source:  "IEC 60062:2016 clauses 4 and 5; the three figures from memory",
		Example: `marked("104")`, Answer: "100 nF",
		takes: arity{1, 1}, rule: markedRule,
		One: func(w *World, x float64) (float64, Fault) {
			m, err := readMarking(w.Text(x))
			if err != nil {
				return 0, OutOfDomain
			}
			return m.value, Sound
		},
		Tolerance: func(args []Arg) (float64, bool) {
			if len(args) != 1 {
				return 0, false
			}
			text, ok := bareText(args[0].Expr)
			if !ok {
				return 0, false
			}
			m, err := readMarking(text)
			return m.tolerance, err == nil && m.tolerance > 0
		},
	}}
}

// marking is what a marking says.
type marking struct {
	value     float64
	unit      string  // ohm or F
	tolerance float64 // as a fraction, 0 if not said
}

// The letters stand here and not in a table of the library, since what a
// marking is of must be known before anything is looked up. A test holds them
// to the tables.

// pointLetters stand for the decimal point: the unit and the power of ten.
var pointLetters = map[byte]struct {
	unit  string
	power int
}{
	'L': {"ohm", -3}, 'R': {"ohm", 0}, 'K': {"ohm", 3}, 'M': {"ohm", 6}, 'G': {"ohm", 9},
	'p': {"F", -12}, 'n': {"F", -9}, 'u': {"F", -6}, 'm': {"F", -3}, 'F': {"F", 0},
}

// toleranceLetters are in per cent.
var toleranceLetters = map[byte]float64{
	'L': 0.01, 'P': 0.02, 'W': 0.05, 'B': 0.1, 'C': 0.25, 'D': 0.5, 'F': 1, 'G': 2, 'J': 5, 'K': 10, 'M': 20,
}

// smallTolerance are in picofarads, for capacitors below 10 pF (IEC 60062,
// from memory).
var smallTolerance = map[byte]float64{'B': 0.1, 'C': 0.25, 'D': 0.5, 'F': 1, 'G': 2}

func markedRule(f *Function, args []Arg) (types.Type, *TypeError) {
	text, ok := bareText(args[0].Expr)
	if !ok {
		cure := "write what is printed on the part, as in `marked(\"4K7J\")`"
		if said := said(args[0].Expr, ""); said != "" && args[0].Kind == types.Number {
			cure = fmt.Sprintf("write `marked(%s)`", quoted(strings.ReplaceAll(said, " ", "")))
		}
		return wrong(0, say("marked reads a text in double quotes, for its letters tell ohms from farads").With(cure))
	}
	m, err := readMarking(text)
	if err != nil {
		return types.Type{}, err
	}
	return of(m.unit), nil
}

// readMarking reads what is printed on a part.
func readMarking(text string) (marking, *TypeError) {
	code := strings.NewReplacer("µ", "u", "μ", "u", "k", "K").Replace(strings.TrimSpace(text))
	digits := countDigits(code)
	rest := code[digits:]
	switch {
	case len(code) > 12 || code == "":
		return unread(text)
	case rest == "":
		return figuresAlone(code)
	case len(rest) == 1 && digits == 3 && toleranceLetters[rest[0]] > 0:
		return threeAndLetter(code)
	}
	point, ok := pointLetters[rest[0]]
	after := countDigits(rest[1:])
	if !ok || digits+after == 0 || digits > 4 || after > 4 || len(rest) > after+2 {
		return unread(text)
	}
	value, err := strconv.ParseFloat(fmt.Sprintf("%s.%se%d", "0"+code[:digits], rest[1:1+after], point.power), 64)
	if err != nil {
		return unread(text)
	}
	m := marking{value: value, unit: point.unit}
	if letter := rest[1+after:]; letter != "" {
		switch {
		case toleranceLetters[letter[0]] == 0:
			return noTolerance(code, letter)
		case letter == "F" && m.unit == "F":
			return faradOrTolerance(code)
		}
		m.tolerate(letter[0])
	}
	return m, nil
}

func countDigits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}

// figuresAlone reads figures with no letter, of which three are a capacitor's.
func figuresAlone(code string) (marking, *TypeError) {
	if len(code) != 3 {
		cure := fmt.Sprintf("write what it is: `%s ohm` or `%s pF`", code, code)
		if len(code) == 4 {
			cure = fmt.Sprintf("on a resistor it is `%s%s ohm`", code[:3], strings.Repeat("0", int(code[3]-'0')))
		}
		_, err := wrong(0, say("%s does not say of what it is the value: three figures are a capacitor's, others need a letter", code).
			With(cure))
		return marking{}, err
	}
	if code[:2] == "00" {
		_, err := wrong(0, say("%s is nothing, and marks no capacitor", code).With("a link is `0 ohm`"))
		return marking{}, err
	}
	// The last figure counts noughts, but 8 and 9 are for values below 10 pF.
	power := int(code[2] - '0')
	if power >= 8 {
		power -= 10
	}
	value, err := strconv.ParseFloat(fmt.Sprintf("%se%d", code[:2], power-12), 64)
	if err != nil {
		return unread(code)
	}
	return marking{value: value, unit: "F"}, nil
}

// threeAndLetter reads three figures and a letter. 104J is a capacitor's code
// with its tolerance and 470K is 470 kohm; 104K may be either.
func threeAndLetter(code string) (marking, *TypeError) {
	letter := code[3]
	m, err := figuresAlone(code[:3])
	point, isPoint := pointLetters[letter]
	switch {
	case !isPoint:
		if err == nil {
			m.tolerate(letter)
		}
		return m, err
	case code[2] == '0' && (letter == 'K' || letter == 'M'):
		value, _ := strconv.ParseFloat(fmt.Sprintf("%se%d", code[:3], point.power), 64)
		return marking{value: value, unit: point.unit}, nil
	case err != nil:
		return m, err
	}
	other := fmt.Sprintf("%s %s", code[:3],
		map[byte]string{'L': "mohm", 'K': "kohm", 'M': "Mohm", 'G': "Gohm", 'F': "F"}[letter])
	_, err = wrong(0, say("%s may be %s, or a capacitor marked %s with a tolerance of %g %%", code, other, code[:3],
		toleranceLetters[letter]).
		With(fmt.Sprintf("write `%s`, or `marked(%q)` for the capacitor", other, code[:3])))
	return marking{}, err
}

func (m *marking) tolerate(letter byte) {
	m.tolerance = toleranceLetters[letter] / 100
	if pF, ok := smallTolerance[letter]; ok && m.unit == "F" && m.value < 10e-12 {
		m.tolerance = 0
		if m.value > 0 {
			m.tolerance = pF * 1e-12 / m.value
		}
	}
}

func noTolerance(code, letter string) (marking, *TypeError) {
	_, err := wrong(0, say("%q is no letter for a tolerance that is the same both ways (B C D F G J K L M P W)", letter).
		With(fmt.Sprintf("without it write `marked(%q)`", strings.TrimSuffix(code, letter))))
	return marking{}, err
}

// faradOrTolerance refuses 100nF: by the letter code the F is 1 %, and nobody
// who types it means that.
func faradOrTolerance(code string) (marking, *TypeError) {
	value := strings.TrimSuffix(code, "F")
	_, err := wrong(0, say("the F of %s may be farads, or a tolerance of 1 %%", code).
		With(fmt.Sprintf("write `marked(%q)`, and `+- 1 %%` after it if it is one", value)))
	return marking{}, err
}

func unread(text string) (marking, *TypeError) {
	_, err := wrong(0, say("%q is no marking of a resistor or capacitor that can be read", text).
		With("markings are like 4K7, 4K7J, R47, 100n and 104"))
	return marking{}, err
}
