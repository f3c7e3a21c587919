package units

import (
	"math/big"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"railsum/units/words"
)

// MaxLength is how many bytes a unit may take.
const MaxLength = 128

// maxFactors is how many symbols a compound may hold.
const maxFactors = 12

// entry is a unit with its factor to SI, which nobody may change.
type entry struct {
	Unit
	factor *big.Rat
}

// cache holds the units met so far, by spelling, and what is wrong with words that
// are none: to say what may have been meant takes far longer than to read one. Both
// are emptied when full: a stranger's file must not fill the memory.
var cache = struct {
	sync.RWMutex
	units map[string]entry
	wrong map[string]Error
}{units: make(map[string]entry), wrong: make(map[string]Error)}

const cacheSize = 4096

// Parse reads a unit: "km/h", "mm²", "A*sqrt(s)/mm2", "%", "degC". The error
// is an *Error.
func Parse(s string) (Unit, error) {
	e, err := lookup(s)
	if err != nil {
		return Unit{}, err
	}
	return e.Unit, nil
}

func lookup(s string) (entry, *Error) {
	cache.RLock()
	e, ok := cache.units[s]
	wrong, none := cache.wrong[s]
	cache.RUnlock()
	switch {
	case ok:
		return e, nil
	case none:
		return entry{}, &wrong
	}
	e, err := read(s)
	if len(s) > MaxLength {
		return entry{}, err
	}
	cache.Lock()
	defer cache.Unlock()
	if err != nil {
		if len(cache.wrong) >= cacheSize {
			clear(cache.wrong)
		}
		cache.wrong[strings.Clone(s)] = *err
		return entry{}, err
	}
	if len(cache.units) >= cacheSize {
		clear(cache.units)
	}
	cache.units[strings.Clone(s)] = e
	return e, nil
}

// read parses without the cache.
func read(s string) (entry, *Error) {
	if len(s) > MaxLength {
		return entry{}, tooLong()
	}
	p := parser{src: s, rest: s}
	fs, err := p.unit()
	if err != nil {
		return entry{}, err
	}
	for _, f := range fs.gathered() { // %*% is a power, too
		if whole := f.den == 1 && (f.num == 1 || f.num == -1); !whole && (f.sym.kind == degrees || f.sym.kind == share) {
			return entry{}, noPowers(f.sym, f.sym.file)
		}
	}
	return newUnit(fs)
}

// parser reads a compound unit from the left:
//
//	unit    = product [ "/" divisor ] | "1/" divisor
//	divisor = factor | "(" product ")"
//	product = factor { "*" factor }
//	factor  = symbol [ power ] | "sqrt(" unit ")"
//	power   = "2" | "3" | superscripts | "^" [ "-" ] number | "^(" [ "-" ] whole "/" whole ")"
type parser struct {
	src, rest string
	inRoot    bool
}

// take consumes one of the texts given, if the rest begins with it.
func (p *parser) take(texts ...string) bool {
	for _, t := range texts {
		if strings.HasPrefix(p.rest, t) {
			p.rest = p.rest[len(t):]
			return true
		}
	}
	return false
}

func (p *parser) times() bool { return p.take("*", "·", "⋅") }

func (p *parser) unit() (factors, *Error) {
	var above factors
	start := len(p.src) - len(p.rest)
	if !strings.HasPrefix(p.rest, "1/") {
		var err *Error
		if above, err = p.product(); err != nil {
			return nil, err
		}
	} else {
		p.rest = p.rest[1:]
	}
	head := p.src[start : len(p.src)-len(p.rest)]
	if p.take("/") {
		below, err := p.divisor()
		if err != nil {
			return nil, err
		}
		if err := p.twoReadings(head, below); err != nil {
			return nil, err
		}
		above = append(above, below.inverse()...)
	}
	switch {
	case len(above) > maxFactors:
		return nil, &Error{Wrong: words.Say("this unit has more than %s parts", strconv.Itoa(maxFactors))}
	case p.inRoot && strings.HasPrefix(p.rest, ")"), p.rest == "":
		return above, nil
	}
	return nil, p.stray()
}

func (p *parser) divisor() (factors, *Error) {
	if !p.take("(") {
		return p.factor()
	}
	fs, err := p.product()
	if err != nil {
		return nil, err
	}
	if !p.take(")") {
		if p.rest != "" {
			return nil, p.stray()
		}
		return nil, p.open()
	}
	return fs, nil
}

func (p *parser) product() (factors, *Error) {
	var fs factors
	for {
		f, err := p.factor()
		if err != nil {
			return nil, err
		}
		if fs = append(fs, f...); !p.times() {
			return fs, nil
		}
		if len(fs) > maxFactors {
			return nil, &Error{Wrong: words.Say("this unit has more than %s parts", strconv.Itoa(maxFactors))}
		}
	}
}

func (p *parser) factor() (factors, *Error) {
	if p.inRoot && strings.HasPrefix(p.rest, "sqrt(") {
		return nil, &Error{Wrong: words.Say("a root inside a root is not a unit").With("as in sqrt(s) or s^0.5")}
	}
	if p.take("sqrt(") {
		p.inRoot = true
		fs, err := p.unit()
		p.inRoot = false
		if err != nil {
			return nil, err
		}
		if !p.take(")") {
			return nil, p.open()
		}
		for _, f := range fs {
			if f.sym.kind == degrees || f.sym.kind == share {
				return nil, noPowers(f.sym, f.sym.file)
			}
		}
		return fs.root(), nil
	}
	word := p.rest[:wordLength(p.rest)]
	if word == "" {
		return nil, p.stray()
	}
	s := find(word)
	if s == nil {
		return nil, p.unknown(word)
	}
	p.rest = p.rest[len(word):]
	num, den, err := p.power(s, word)
	if err != nil {
		return nil, err
	}
	return factors{{s, num, den}}, nil
}

// wordLength is how many bytes of s could be a symbol.
func wordLength(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && !strings.ContainsRune("°%‰\u2103\u2109", r) {
			return i
		}
	}
	return len(s)
}

// power reads the exponent after a symbol, 1 if there is none.
func (p *parser) power(s *symbol, word string) (num, den int, err *Error) {
	switch {
	case p.rest == "":
		return 1, 1, nil
	case raisedLength(p.rest) > 0:
		n := raisedLength(p.rest)
		raised := parser{src: p.src, rest: lowered.Replace(p.rest[:n])}
		if num, den, err = raised.exponent(word); err != nil {
			return 0, 0, err
		}
		if raised.rest != "" {
			return 0, 0, raised.stray()
		}
		p.rest = p.rest[n:]
	case p.take("^"):
		if num, den, err = p.exponent(word); err != nil {
			return 0, 0, err
		}
	default:
		n := digits(p.rest)
		if n == 0 {
			return 1, 1, nil
		}
		d := p.rest[:n]
		p.rest = p.rest[n:]
		if s.kind == measure && (d == "2" || d == "3") || s.kind == second && d == "2" {
			return int(d[0] - '0'), 1, nil
		}
		if d == "0" || d == "1" || s.kind == degrees || s.kind == share {
			return 0, 0, &Error{Wrong: words.Say("%s%s is not a unit here", word, d)}
		}
		return 0, 0, &Error{Wrong: words.Say("%s%s is not a unit here", word, d).
			With("if a power is meant, write " + word + "^" + d)}
	}
	if (s.kind == degrees || s.kind == share) && (num != -1 || den != 1) {
		return 0, 0, noPowers(s, word)
	}
	return num, den, nil
}

func digits(s string) int {
	n := 0
	for n < len(s) && '0' <= s[n] && s[n] <= '9' {
		n++
	}
	return n
}

// raisedLength is how many bytes of s are superscripts.
func raisedLength(s string) int {
	for i, r := range s {
		if !strings.ContainsRune(superscripts, r) {
			return i
		}
	}
	return len(s)
}

// superscripts are the signs of a power, in the order of their values.
const superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹⁻"

var lowered = strings.NewReplacer("⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸",
	"8", "⁹", "9", "⁻", "-")

// exponent reads what follows "^": 2, -1, 0.5, 1.5, (1/3).
func (p *parser) exponent(word string) (num, den int, err *Error) {
	bad := &Error{Wrong: words.Say("the power of %s is not a number", word).
		With("write it as " + word + "^2, " + word + "^0.5 or " + word + "^(1/3)")}
	bracket := p.take("(")
	minus := p.take("-", "−")
	if num, err = p.whole(bad); err != nil {
		return 0, 0, err
	}
	den = 1
	switch {
	case bracket:
		if !p.take("/") {
			return 0, 0, bad
		}
		if den, err = p.whole(bad); err != nil {
			return 0, 0, err
		}
		if !p.take(")") {
			return 0, 0, bad
		}
	case p.take(".5"):
		num, den = 2*num+1, 2
		if digits(p.rest) > 0 {
			return 0, 0, bad
		}
	case strings.HasPrefix(p.rest, "."):
		return 0, 0, bad
	}
	if e, ok := newExponent(num, max(den, 1)); !ok || num == 0 || den == 0 {
		return 0, 0, &Error{Wrong: words.Say("the power of %s is out of bounds", word).
			With("powers go to 24, and down to twelfths")}
	} else if num, den = e.ratio(); minus {
		num = -num
	}
	return num, den, nil
}

func (p *parser) whole(bad *Error) (int, *Error) {
	n := digits(p.rest)
	if n == 0 || n > 3 {
		return 0, bad
	}
	v, _ := strconv.Atoi(p.rest[:n])
	p.rest = p.rest[n:]
	return v, nil
}
