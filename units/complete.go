package units

import (
	"slices"
	"strings"
)

// compounds are the units of more than one symbol that the job knows well;
// others are completed symbol by symbol.
var compounds = strings.Fields("mm2 cm2 m2 in2 ft2 mm3 m3 km/h m/s mm/s m/s2 rad/s ohm/m ohm/km mohm/m A/mm2 W/m W/K K/W " +
	"V/m N*m J/kg kg/m3 g/cm3 %/K ppm/K")

// Complete gives what a word that is the beginning of a unit, or of the last
// symbol of one, may become: in place of that last symbol, which it gives too.
// Of km/M it is M.
func Complete(word string) (all []string, last string) {
	last = word[strings.LastIndexAny(word, "*/(")+1:]
	for _, c := range compounds {
		if strings.HasPrefix(c, word) {
			all = append(all, c[len(word)-len(last):])
		}
	}
	for _, i := range All() {
		for _, symbol := range append([]string{i.Unit.String()}, i.Also...) {
			if strings.HasPrefix(symbol, last) {
				all = append(all, symbol)
				break
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all), last
}
