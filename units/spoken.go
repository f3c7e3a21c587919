package units

import (
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// Spoken gives the symbols that a word may stand for when it is written as it is
// said ("volts", "Amps", "metres"), shortened as people do ("hrs", "kph") or in
// another case ("UF", "mah"). None of them is a guess at a slip; where there is
// more than one, only the writer can say which. Nothing is spoken that Parse
// reads. Sure is false where the case that was typed speaks against the symbol,
// as MA does against mA.
func Spoken(word string) (found []string, sure bool) {
	if word == "" || len(word) > MaxLength {
		return nil, false
	}
	l := symbols()
	w := fold.Replace(word)
	if l.meaning[w] != nil {
		return nil, false
	}
	if w == "Nm" || w == "Ncm" { // in its own case a torque and nothing else
		return []string{"N*" + w[1:]}, true
	}
	low := strings.ToLower(w)
	if m := spokenWords()[low]; m != nil {
		return m, true
	}
	if utf8.RuneCountInString(w) == 1 {
		// A single letter is a prefix, a code or a unit; these three are nothing else.
		if strings.Contains("vaw", w) {
			return []string{strings.ToUpper(w)}, true
		}
		return nil, false
	}
	sure = true
	for _, s := range l.all {
		if !strings.EqualFold(w, s.file) || slices.Contains(found, s.file) {
			continue
		}
		found = append(found, s.file)
		// The letter m is milli and M is mega wherever either can be.
		if (w[0] == 'm') != (s.file[0] == 'm') && low[0] == 'm' && s.prefix != "" {
			sure = false
		}
	}
	if len(found) == 0 {
		return nil, false
	}
	return found, sure && len(found) == 1
}

// spokenWords is the table below with the names of all symbols, by their
// spelling in small letters.
var spokenWords = sync.OnceValue(func() map[string][]string {
	m := map[string][]string{}
	add := func(word, symbol string) {
		if !slices.Contains(m[word], symbol) {
			m[word] = append(m[word], symbol)
		}
	}
	for _, s := range symbols().all {
		name, more, _ := strings.Cut(s.name, " ")
		if more != "" && !strings.HasPrefix(more, "(") || s.kind == degrees || strings.Contains(name, "-") {
			continue
		}
		for _, n := range []string{name, strings.Replace(name, "metre", "meter", 1),
			strings.Replace(name, "litre", "liter", 1)} {
			n = strings.ToLower(prefixNames[s.prefix] + n)
			add(n, s.file)
			add(n+"s", s.file)
			add(n+"es", s.file)
		}
		if s.symbol == "A" {
			add(prefixNames[s.prefix]+"amp", s.file)
			add(prefixNames[s.prefix]+"amps", s.file)
		}
	}
	for word, meant := range shortWords {
		m[word] = strings.Fields(meant)
	}
	return m
})

// shortWords are the short and the irregular words for symbols, in small
// letters. Several symbols stand apart by blanks.
var shortWords = map[string]string{
	"mil": "thou mm", "mils": "thou mm",
	"feet": "ft", "yds": "yd", "mi": "mile", "ins": "in", "micron": "um", "microns": "um", "sqmm": "mm2", "qmm": "mm2",
	"sqin": "in2",
	"sec":  "s", "secs": "s", "msec": "ms", "usec": "us", "mins": "min", "hr": "h", "hrs": "h",
	"kmh": "km/h", "kmph": "km/h", "kph": "km/h", "fps": "ft/s",
	"lbs": "lb", "gm": "g", "gms": "g", "kilo": "kg", "kilos": "kg",
	"celsius": "degC", "centigrade": "degC", "fahrenheit": "degF", "degree": "deg degC degF", "degrees": "deg degC degF",
	"percent": "%", "pct": "%", "promille": "permille", "vdc": "V", "vac": "V", "vrms": "V",
	"kilohm": "kohm", "kilohms": "kohm", "kohms": "kohm", "megohm": "Mohm", "megohms": "Mohm", "hertz": "Hz",
	"siemens": "S", "lux": "lx",
	"nm": "nm N*m",
	// Old parts write the milli of today for micro, and no part has a megafarad.
	"mf": "uF mF", "mfd": "uF mF",
	"c": "degC As", "f": "degF F", // a letter alone is a scale of temperature or a unit
}

// SpokenWords lists the words that Spoken knows, in small letters.
func SpokenWords() []string { return spokenList() }

var spokenList = sync.OnceValue(func() []string { return slices.Sorted(maps.Keys(spokenWords())) })

// NamesDimension reports whether a word says of a value no more than its dimension:
// the name of a quantity (voltage) or of a unit (volts).
func NamesDimension(word string) bool {
	for i := range quantities {
		if _, name, _ := strings.Cut(quantities[i].name, " "); name == word {
			return true
		}
	}
	found, _ := Spoken(word)
	return len(found) > 0
}
