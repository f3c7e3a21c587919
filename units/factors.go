package units

import (
	"strconv"
	"strings"
)

// factor is a symbol with its exponent num/den in lowest terms, not zero.
type factor struct {
	sym      *symbol
	num, den int
}

// factors is a product, in the order in which it was written: those below a
// "/" have exponents below zero.
type factors []factor

func (fs factors) inverse() factors {
	for i := range fs {
		fs[i].num = -fs[i].num
	}
	return fs
}

func (fs factors) root() factors {
	for i, f := range fs {
		if f.num%2 == 0 {
			fs[i].num /= 2
		} else {
			fs[i].den *= 2
		}
	}
	return fs
}

// form is a way to write units.
type form int

const (
	fileForm  form = iota // ASCII
	shownForm             // for reading
)

// render writes the product so that it parses back, also behind a number:
// A*sqrt(s)/mm2, and m^-1 where there is nothing to divide, since a 1 there
// would look like a number of its own.
func (fs factors) render(to form) string {
	if f, ok := fs.repeated(); ok && to == fileForm {
		return strings.TrimPrefix(strings.Repeat("*"+f.sym.file, f.num), "*")
	}
	var above, below, inverse []string
	for _, f := range fs {
		if f.num > 0 {
			above = append(above, f.render(to))
			continue
		}
		inverse = append(inverse, f.render(to))
		f.num = -f.num
		below = append(below, f.render(to))
	}
	times := "*"
	if to == shownForm {
		times = "·"
	}
	s := strings.Join(above, times)
	switch {
	case s == "":
		return strings.Join(inverse, times)
	case len(below) == 0:
		return s
	case len(below) == 1:
		return s + "/" + below[0]
	}
	return s + "/(" + strings.Join(below, times) + ")"
}

// repeated is the power of a symbol that stands alone and that nobody measures
// squared. It is written A*A where A^2 behind a number would look like a power
// of the whole quantity; lengths have areas and volumes.
func (fs factors) repeated() (factor, bool) {
	if len(fs) != 1 || fs[0].num < 2 || fs[0].num > maxFactors || fs[0].den != 1 || fs[0].sym.kind == measure ||
		fs[0].sym.kind == second {
		return factor{}, false
	}
	return fs[0], true
}

// gathered is the power that a product of nothing but one such symbol is.
func (fs factors) gathered() factors {
	sum := factor{sym: fs[0].sym, den: 1}
	for _, f := range fs {
		if f.sym != sum.sym || f.num < 1 || f.den != 1 {
			return fs
		}
		sum.num += f.num
	}
	if _, ok := (factors{sum}).repeated(); ok {
		return factors{sum}
	}
	return fs
}

// render writes one factor.
func (f factor) render(to form) string {
	s := f.sym.file
	if to == shownForm {
		s = f.sym.shown
	}
	switch {
	case f.num == 1 && f.den == 1:
		return s
	case f.num == 1 && f.den == 2:
		return "sqrt(" + s + ")"
	case f.den > 1:
		return s + "^(" + strconv.Itoa(f.num) + "/" + strconv.Itoa(f.den) + ")"
	case to == shownForm:
		return s + raisedForm.Replace(strconv.Itoa(f.num))
	case f.sym.kind == measure && (f.num == 2 || f.num == 3), f.sym.kind == second && f.num == 2:
		return s + strconv.Itoa(f.num)
	}
	return s + "^" + strconv.Itoa(f.num)
}

var raisedForm = strings.NewReplacer("0", "⁰", "1", "¹", "2", "²", "3", "³", "4", "⁴", "5", "⁵", "6", "⁶", "7", "⁷",
	"8", "⁸", "9", "⁹", "-", "⁻")
