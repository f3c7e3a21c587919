package units

import (
	"math"
	"math/big"
	"unique"

	"railsum/units/words"
)

// Unit is one unit as written, simple or compound. The zero Unit is "no unit",
// that of a plain number. It is immutable, cheap to copy and comparable:
// units that are written alike are equal.
type Unit struct{ h unique.Handle[spec] }

// spec is what a unit is. Units with the same file form have the same spec.
type spec struct {
	file, shown string
	dim         Dim
	scale       float64 // nearest to the factor to SI
	num, den    float64 // the factor as a quotient of exact floats, or scale and 1
	offset      offset
	share       bool
	turns       bool // Hz or rpm is in it
	angle       bool // rad or deg is in it
	exact       bool
	base        int // of the digits that plain numbers are written with, see Digits
}

// offset is where a temperature scale has its zero.
type offset uint8

const (
	noOffset   offset = iota
	celsius           // 0 degC is 273.15 K
	fahrenheit        // 0 degF is 459.67 degrees above the absolute zero
)

// degrees is the absolute zero's distance below the scale's zero, in degrees
// of the scale.
func (o offset) degrees() float64 {
	switch o {
	case celsius:
		return 273.15
	case fahrenheit:
		return 459.67
	}
	return 0
}

// none is the zero Unit's spec.
var none = spec{scale: 1, num: 1, den: 1, exact: true}

func (u Unit) spec() spec {
	if u.IsZero() {
		return none
	}
	return u.h.Value()
}

// IsZero says that there is not a unit.
func (u Unit) IsZero() bool { return u == Unit{} }

// Dim is the unit's dimension.
func (u Unit) Dim() Dim { return u.spec().dim }

// Point says that the unit is degC or degF alone: a number in it is a
// temperature on a scale, not a difference.
func (u Unit) Point() bool { return u.spec().offset != noOffset }

// Percent says that the unit is a share: %, ‰ or ppm alone.
func (u Unit) Percent() bool { return u.spec().share }

// Exact says that the factor to SI is exact; if not it is right to thirty
// digits or more, but for roots other than square ones.
func (u Unit) Exact() bool { return u.spec().exact }

// Scale is the factor to SI: 0.0254 for the inch. Offsets are not in it.
func (u Unit) Scale() float64 { return u.spec().scale }

// String is the file form, in ASCII: "mm2", "ohm", "uF", "degC", "N*m".
func (u Unit) String() string { return u.spec().file }

// Shown is the form for display: "mm²", "Ω", "µF", "°C", "N·m".
func (u Unit) Shown() string { return u.spec().shown }

// SI gives the number x, written in this unit, in SI: kelvin for a temperature
// point, a fraction for a percentage. It is correctly rounded when the unit is
// exact. A number too large to hold gives an infinity.
func (u Unit) SI(x *big.Rat) float64 {
	y := new(big.Rat).Set(x)
	if o := u.spec().offset; o != noOffset {
		y.Add(y, big.NewRat(int64(math.Round(100*o.degrees())), 100))
	}
	if !u.IsZero() {
		y.Mul(y, u.factor())
	}
	f, _ := y.Float64()
	return f
}

// FromSI is the inverse of SI, for showing a value.
func (u Unit) FromSI(x float64) float64 {
	s := u.spec()
	y := x * s.den / s.num
	if math.IsInf(y, 0) {
		y = x / s.scale
	}
	return y - s.offset.degrees()
}

// factor is the exact factor to SI, or the best known.
func (u Unit) factor() *big.Rat {
	if e, err := lookup(u.String()); err == nil {
		return e.factor
	}
	return new(big.Rat).SetFloat64(u.Scale()) // not reached: a file form parses
}

// The bounds of a unit's factor to SI. They leave room for the number.
const (
	leastScale = 1e-150
	mostScale  = 1e150
)

// newUnit makes the unit of a product of factors.
func newUnit(fs factors) (entry, *Error) {
	fs = fs.gathered()
	s := spec{exact: true}
	scale := big.NewRat(1, 1)
	for _, f := range fs {
		d, err := f.sym.dim().Pow(f.num, f.den)
		if err != nil {
			return entry{}, &Error{Wrong: words.Say("%s has too high or too fine an exponent", f.render(fileForm)).
				With("exponents go to 24, and down to twelfths")}
		}
		if s.dim = s.dim.Mul(d); s.dim.beyond {
			return entry{}, &Error{Wrong: words.Say("the exponents in this unit add up to more than 24")}
		}
		p, exact := power(f.sym.factor(), f.num, f.den)
		scale.Mul(scale, p)
		s.exact = s.exact && exact && !f.sym.inexact()
		s.turns = s.turns || f.sym.kind == turns
		s.angle = s.angle || f.sym.kind == angle
	}
	if s.file, s.shown = fs.render(fileForm), fs.render(shownForm); max(len(s.file), len(s.shown)) > MaxLength {
		return entry{}, tooLong() // else it would not parse back
	}
	s.scale, _ = scale.Float64()
	if s.scale < leastScale || s.scale > mostScale {
		return entry{}, &Error{Wrong: words.Say("this unit is too large or too small to compute with")}
	}
	s.num, s.den = s.scale, 1
	n, nok := new(big.Rat).SetInt(scale.Num()).Float64()
	d, dok := new(big.Rat).SetInt(scale.Denom()).Float64()
	if nok && dok {
		s.num, s.den = n, d
	}
	if len(fs) == 1 && fs[0].num == 1 && fs[0].den == 1 {
		s.offset, s.share = fs[0].sym.offset, fs[0].sym.kind == share
	}
	return entry{Unit{unique.Make(s)}, scale}, nil
}
