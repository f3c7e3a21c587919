package units

import (
	"errors"
	"fmt"
)

// The base quantities, in the order of a Dim's exponents.
const (
	length = iota
	mass
	duration
	current
	temperature
	light
	information
	bases
)

// baseUnits are the SI base units of a Dim's exponents (the bit for
// information), as they are written.
var baseUnits = [bases]string{"m", "kg", "s", "A", "K", "cd", "bit"}

// The bounds of an exponent.
const (
	maxExponent    = 24
	maxDenominator = 12
)

var errExponent = fmt.Errorf("an exponent would leave the range of %d, or be finer than a %dth", maxExponent,
	maxDenominator)

// exponent is num/(less+1) in lowest terms, so that its zero value is zero.
type exponent struct{ num, less int16 }

func (e exponent) ratio() (num, den int) { return int(e.num), int(e.less) + 1 }

// newExponent reduces num/den, den not zero; false if it is out of bounds.
func newExponent(num, den int) (exponent, bool) {
	if den < 0 {
		num, den = -num, -den
	}
	if g := gcd(abs(num), den); g > 1 {
		num, den = num/g, den/g
	}
	if den > maxDenominator || abs(num) > maxExponent*den {
		return exponent{}, false
	}
	return exponent{int16(num), int16(den - 1)}, true
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// Dim is a dimension: rational exponents over length, mass, time, current,
// temperature, luminous intensity and information. It is comparable; the zero
// Dim is a plain number.
type Dim struct {
	exp    [bases]exponent
	beyond bool
}

// beyondDim stands for every dimension out of bounds.
var beyondDim = Dim{beyond: true}

// Beyond says that an exponent has left its bounds in a product or quotient.
// All such dimensions are one, so two that are equal need not be of the same
// kind: whoever multiplies must look.
func (d Dim) Beyond() bool { return d.beyond }

// IsPlain says that the dimension is that of a plain number.
func (d Dim) IsPlain() bool { return d == Dim{} }

// Mul is the dimension of a product.
func (d Dim) Mul(e Dim) Dim { return d.join(e, 1) }

// Div is the dimension of a quotient.
func (d Dim) Div(e Dim) Dim { return d.join(e, -1) }

func (d Dim) join(e Dim, sign int) Dim {
	if d.beyond || e.beyond {
		return beyondDim
	}
	for i := range d.exp {
		if e.exp[i] == (exponent{}) {
			continue
		}
		an, ad := d.exp[i].ratio()
		bn, bd := e.exp[i].ratio()
		sum, ok := newExponent(an*bd+sign*bn*ad, ad*bd)
		if !ok {
			return beyondDim
		}
		d.exp[i] = sum
	}
	return d
}

// Pow is the dimension of a power with the exponent num/den. It fails if an
// exponent would leave |n| <= 24 or its denominator 12.
func (d Dim) Pow(num, den int) (Dim, error) {
	switch {
	case den == 0:
		return Dim{}, errors.New("an exponent is divided by nothing")
	case d.beyond:
		return beyondDim, errExponent
	case d.IsPlain() || num == 0:
		return Dim{}, nil
	}
	const far = 1 << 16 // no exponent so far out can come back in
	if num < -far || num > far || den < -far || den > far {
		return beyondDim, errExponent
	}
	for i := range d.exp {
		n, m := d.exp[i].ratio()
		e, ok := newExponent(n*num, m*den)
		if !ok {
			return beyondDim, errExponent
		}
		d.exp[i] = e
	}
	return d, nil
}

// Length gives the exponent of length. Only says that the dimension holds
// nothing but length and time: lengths, areas, volumes, speeds.
func (d Dim) Length() (num, den int, only bool) {
	num, den = d.exp[length].ratio()
	rest := d
	rest.exp[length], rest.exp[duration] = exponent{}, exponent{}
	return num, den, rest.IsPlain()
}

// Holds reports whether a base unit has a part in the dimension: A in that of a
// volt.
func (d Dim) Holds(base string) bool {
	for i, u := range baseUnits {
		if u == base {
			return d.exp[i] != exponent{}
		}
	}
	return false
}

// String is a unit of the dimension in file form: "V", "m/s2", "ohm/m". It is
// empty for a plain number.
func (d Dim) String() string {
	if d.IsPlain() || d.beyond {
		return ""
	}
	return d.unit().String()
}

// Words names the dimension for a message: "a voltage (V)", "a plain number",
// "a quantity in kg*m/s3".
func (d Dim) Words() string {
	switch {
	case d.IsPlain():
		return "a plain number"
	case d.beyond:
		return "a quantity beyond all units"
	}
	if q := quantityOf(d); q != nil {
		return q.name + " (" + d.String() + ")"
	}
	return "a quantity in " + d.String()
}
