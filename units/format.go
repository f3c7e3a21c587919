package units

import (
	"math"
	"strconv"
	"strings"
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
func Format(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "?"
	}
	if x == 0 {
		return "0"
	}
	sign := ""
	if x < 0 {
		sign, x = "-", -x
	}
	if x < leastPlain || x >= mostPlain {
		digits, exp := rounded(x, figures)
		return sign + point(digits, 1) + "e" + strconv.Itoa(exp)
	}
	_, exp := rounded(x, carried)
	digits, exp := rounded(x, max(figures, exp+1))
	if exp < 0 {
		return sign + point(strings.Repeat("0", -exp)+digits, 1)
	}
	return sign + point(digits+strings.Repeat("0", max(0, exp+1-len(digits))), exp+1)
}

// rounded gives the digits of x > 0 to n places, trailing zeros trimmed, and
// the power of ten of the first.
func rounded(x float64, n int) (digits string, exp int) {
	s := strconv.FormatFloat(x, 'e', carried-1, 64)
	m, e, _ := strings.Cut(s, "e")
	exp, _ = strconv.Atoi(e)
	d := []byte(m[:1] + m[2:])
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
		if up {
			d, exp = append([]byte{'1'}, d...), exp+1
		}
	}
	return strings.TrimRight(string(d), "0"), exp
}

// point puts the point after the first n digits, if any follow.
func point(digits string, n int) string {
	if len(digits) <= n {
		return digits
	}
	return digits[:n] + "." + digits[n:]
}
