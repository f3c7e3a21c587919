package guide

import (
	"math/big"
	"slices"
	"strconv"
	"strings"

	"railsum/units"
)

// unitPages lists the units of the closed list.
func unitPages() []page {
	infos := units.All()
	all := make([]page, 0, len(infos))
	for _, info := range infos {
		all = append(all, page{
			name: info.Unit.String(), kind: "unit", meaning: info.Name,
			also:  kindOf(info.Unit),
			write: func(w *writer) { writeUnit(w, info) },
		})
	}
	return all
}

// unitPage is the page of a unit in any spelling, simple or compound; false if
// it is none.
func unitPage(symbol string) (page, bool) {
	u, err := units.Parse(symbol)
	if err != nil || u.IsZero() {
		return page{}, false
	}
	info := units.Info{Unit: u, Exact: true}
	for _, i := range units.All() {
		if i.Unit == u || slices.Contains(i.Also, symbol) {
			info = i
			break
		}
	}
	return page{name: symbol, kind: "unit", write: func(w *writer) { writeUnit(w, info) }}, true
}

func kindOf(u units.Unit) string {
	switch {
	case u.Point():
		return "a temperature"
	case u.Percent():
		return "a share"
	}
	return u.Dim().Words()
}

// writeUnit writes what a unit measures, its size and its spellings.
func writeUnit(w *writer, i units.Info) {
	title := i.Unit.String() + ": "
	if i.Name != "" {
		title += i.Name + ", "
	}
	w.line(title + "a unit of " + withoutArticle(kindOf(i.Unit)))
	w.block("size", sizes(i))
	if len(i.Also) > 0 {
		w.block("also written", []string{strings.Join(i.Also, ", ")})
	}
	if i.Source != "" {
		w.block("sources", []string{i.Source})
	}
}

// sizes says what one of the unit is in base units, with all its digits.
func sizes(i units.Info) []string {
	u := i.Unit
	if u.Point() {
		return []string{
			"0 " + u.String() + " is " + digits(u.SI(new(big.Rat))) + " K above the lowest temperature there is",
			"the difference of two temperatures is in K",
		}
	}
	size := "1 " + u.String() + " = " + digits(u.SI(big.NewRat(1, 1)))
	if base := u.Dim().String(); base != "" {
		size += " " + base
	}
	if !i.Exact {
		size += ", rounded"
	}
	return []string{size}
}

func digits(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func withoutArticle(words string) string {
	return strings.TrimPrefix(strings.TrimPrefix(words, "a "), "an ")
}
