package units

// Link is a unit that can stand in a mixed length, weight, time or angle, the larger
// before the lesser: 2 ft 6 in.
type Link struct {
	Least Unit   // the least unit of its kind
	Base  int64  // how many of that it is
	Next  string // the unit that follows it, empty for the least
}

var links = map[string]Link{
	"mile": {Base: 63360, Next: "yd"}, "yd": {Base: 36, Next: "ft"}, "ft": {Base: 12, Next: "in"}, "in": {Base: 1},
	"lb": {Base: 16, Next: "oz"}, "oz": {Base: 1},
	"h": {Base: 3600, Next: "min"}, "min": {Base: 60, Next: "s"}, "s": {Base: 1},
	"deg": {Base: 60, Next: "arcmin"}, "arcmin": {Base: 1},
}

// Mixed gives the Link that a symbol is, if it is one.
func Mixed(symbol string) (Link, bool) {
	l, ok := links[symbol]
	if !ok {
		return Link{}, false
	}
	for links[symbol].Next != "" {
		symbol = links[symbol].Next
	}
	l.Least = Known(symbol)
	return l, true
}
