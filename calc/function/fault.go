package function

import "railsum/units/words"

// cure says what a writer can do about a fault, empty if nothing general can
// be said.
func (f Fault) cure() string {
	switch f {
	case ByNothing, EvenRoot, BadLog, OutOfDomain:
		return "test for it first, as in `if x > 0 then … else …`"
	case Overflow:
		return "check the units and the powers of ten"
	case NoMatch:
		return "compare the key with the table's rows"
	case NoRows:
		return "give the table a row, or test for it with count"
	case BadColours:
		return "read from the end away from gold or silver; the colours and their places are in the table colours"
	case NoColours:
		return "take a value of a series with preferred first, and a tolerance of the colour code"
	case NoDate:
		return "add whole days, as in `ceil(…, 1 day)`"
	case NotWhole:
		return "round it, as in `floor(x)` or `ceil(x)`"
	}
	return ""
}

// Wrong is the fault in words, with what a writer can do about it.
func (f Fault) Wrong() words.Wrong { return words.Wrong{Message: f.Words(), Cure: f.cure()} }
