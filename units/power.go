package units

import (
	"math"
	"math/big"
)

// power raises a positive factor to num/den; false if the result is not exact.
func power(x *big.Rat, num, den int) (*big.Rat, bool) {
	x, exact := root(x, den) // first: the numbers stay small
	y := big.NewRat(1, 1)
	for range abs(num) {
		y.Mul(y, x)
	}
	if num < 0 {
		y.Inv(y)
	}
	return y, exact
}

// root is the nth root of a positive x: exact if it is rational, else right to
// 64 digits for a square root and to those of a float64 for others.
func root(x *big.Rat, n int) (*big.Rat, bool) {
	if n == 1 {
		return x, true
	}
	a, aok := intRoot(x.Num(), n)
	b, bok := intRoot(x.Denom(), n)
	if aok && bok {
		return new(big.Rat).SetFrac(a, b), true
	}
	r := new(big.Rat)
	if n == 2 {
		f := new(big.Float).SetPrec(220).SetRat(x)
		f.Sqrt(f).Rat(r)
		return r, false
	}
	f, _ := x.Float64()
	return r.SetFloat64(math.Pow(f, 1/float64(n))), false
}

// intRoot is the whole nth root of x, by halving; false if there is none.
func intRoot(x *big.Int, n int) (*big.Int, bool) {
	lo, hi := big.NewInt(1), new(big.Int).Lsh(big.NewInt(1), uint(x.BitLen()/n+1))
	e := big.NewInt(int64(n))
	for lo.Cmp(hi) <= 0 {
		mid := new(big.Int).Add(lo, hi)
		mid.Rsh(mid, 1)
		switch new(big.Int).Exp(mid, e, nil).Cmp(x) {
		case 0:
			return mid, true
		case -1:
			lo = mid.Add(mid, big.NewInt(1))
		default:
			hi = mid.Sub(mid, big.NewInt(1))
		}
	}
	return nil, false
}
