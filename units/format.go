package units

import (
	"math"
	"strconv"
)

// figures is how many significant digits are shown.
const figures = 4

// carried is how many digits a float64 is good for after a few operations:
// what lies beyond is dirt and must not decide a rounding.
const carried = 15

// The range of magnitudes written without a power of ten.
const (
	leastPlain = 1e-9
	mostPlain  = 1e15
)

// Format writes a number with four significant digits and no trailing zeros.
// Digits left of the point are never rounded away, so a whole number is
// written in full. Beyond 1e-9 and 1e15 it writes 1.234e-12. Halves round away
// from nothing, as one does by hand. What is no number is written "?".
func Format(x float64) string { return string(AppendFormat(nil, x)) }

// AppendFormat is Format that appends to a buffer.
func AppendFormat(b []byte, x float64) []byte {
	if x-x != 0 {
		return append(b, '?')
	}
	if x == 0 {
		return append(b, '0')
	}
	if x < 0 {
		b, x = append(b, '-'), -x
	}
	var buf [carried + 10]byte
	digits, exp := decimal(buf[:0], x)
	if x < leastPlain || x >= mostPlain {
		digits, exp = rounded(digits, exp, figures)
		b = append(appendPoint(b, digits, 0), 'e')
		return strconv.AppendInt(b, int64(exp), 10)
	}
	digits, exp = rounded(digits, exp, max(figures, exp+1))
	return appendPoint(b, digits, exp)
}

// decimal gives the digits of x > 0 that are carried, in the buffer, and the
// power of ten of the first.
func decimal(buf []byte, x float64) (digits []byte, exp int) {
	d := strconv.AppendFloat(buf, x, 'e', carried-1, 64) // d.dddde±dd
	for _, c := range d[carried+3:] {
		exp = 10*exp + int(c-'0')
	}
	if d[carried+2] == '-' {
		exp = -exp
	}
	copy(d[1:], d[2:carried+1])
	return d[:carried], exp
}

// rounded rounds digits to n places and trims trailing zeros.
func rounded(d []byte, exp, n int) ([]byte, int) {
	if n < len(d) {
		up := d[n] >= '5'
		d = d[:n]
		for i := n - 1; up && i >= 0; i-- {
			if d[i]++; d[i] <= '9' {
				up = false
			} else {
				d[i] = '0'
			}
		}
		if up { // all were nines
			d[0], exp = '1', exp+1
		}
	}
	for len(d) > 1 && d[len(d)-1] == '0' {
		d = d[:len(d)-1]
	}
	return d, exp
}

// appendPoint appends digits of which the first has the given power of ten.
func appendPoint(b, digits []byte, exp int) []byte {
	if exp < 0 {
		b = append(b, "0."...)
	}
	for i := exp + 1; i < 0; i++ {
		b = append(b, '0')
	}
	for i, c := range digits {
		if i == exp+1 && i > 0 {
			b = append(b, '.')
		}
		b = append(b, c)
	}
	for i := len(digits); i <= exp; i++ {
		b = append(b, '0')
	}
	return b
}

// AppendFull appends a number with all the digits that tell it from every other,
// as strconv does in its form 'g', in two thirds of the time: strconv lays digits
// out around a point one by one, and moving the point is a copy.
func AppendFull(b []byte, x float64) []byte {
	if size := math.Abs(x); !(size >= 1e-4 && size < 1e6) {
		return strconv.AppendFloat(b, x, 'g', -1, 64)
	}
	first := len(b)
	if x < 0 {
		first++
	}
	b = strconv.AppendFloat(b, x, 'e', -1, 64) // d.ddde±0d
	exp, below := int(b[len(b)-1]-'0'), b[len(b)-3] == '-'
	b = b[:len(b)-4]
	rest := first + 2 // the digits behind the point
	switch {
	case exp == 0:
	case below:
		zeros := "0.0000"[:exp+1]
		digits := [24]byte{b[first]}
		n := 1
		if rest < len(b) {
			n += copy(digits[1:], b[rest:])
		}
		b = append(append(b[:first], zeros...), digits[:n]...)
	default:
		for len(b) < rest+exp { // a point and zeros that are missing
			b = append(b, '0')
		}
		copy(b[first+1:], b[rest:rest+exp])
		if b[first+1+exp] = '.'; len(b) == rest+exp {
			b = b[:len(b)-1]
		}
	}
	return b
}
