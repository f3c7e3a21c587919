package units

import (
	"math"
	"strconv"
	"strings"
	"unique"
)

// maxWhole is the first whole number beyond which a float64 does not hold all.
const maxWhole = 1 << 53

// writing makes a unit of plain numbers that are written with digits to a base.
func writing(name string, base int) Unit {
	return Unit{unique.Make(spec{file: name, shown: name, scale: 1, num: 1, den: 1, exact: true, base: base})}
}

var (
	allDigits = writing("", 10)
	digitsOf  = map[string]Unit{"bits": writing("bits", 2), "hex": writing("hex", 16)}
)

// Digits gives a way of writing whole numbers as if it were a unit: "bits" as in
// 0b00110111, "hex" as in 0x37, both in whole bytes. It is chosen with `as` and
// never stands behind a number, so Parse does not know it.
func Digits(word string) (u Unit, ok bool) {
	u, ok = digitsOf[word]
	return u, ok
}

// AllDigits writes whole numbers up to 2^53 in full.
func AllDigits() Unit { return allDigits }

// Base is the base of the digits that numbers are written with, if that is what
// the unit says, else 0.
func (u Unit) Base() int { return u.spec().base }

// Follows says that the unit stands behind its number.
func (u Unit) Follows() bool { return !u.IsZero() && u.Base() == 0 }

// Holds says that a number in SI can be written in the unit: with bits and hex
// the whole numbers from 0 to 2^53, with another unit what is not too large for it.
func (u Unit) Holds(si float64) bool {
	if base := u.Base(); base != 0 && base != 10 {
		return hasDigits(si)
	}
	y := u.FromSI(si)
	return y-y == 0
}

func hasDigits(x float64) bool { return x >= 0 && x <= maxWhole && x == math.Trunc(x) }

// Format writes a number in SI in the unit and without it, as the function Format
// does, or with the digits that the unit stands for.
func (u Unit) Format(si float64) string {
	base := u.Base()
	if base == 0 || !hasDigits(si) {
		return Format(u.FromSI(si))
	}
	s := strconv.FormatUint(uint64(si), base)
	byteful := map[int]int{2: 8, 16: 2}[base] // the digits of a byte
	if byteful == 0 {
		return s
	}
	if rest := len(s) % byteful; rest != 0 {
		s = strings.Repeat("0", byteful-rest) + s
	}
	return map[int]string{2: "0b", 16: "0x"}[base] + strings.ToUpper(s)
}
