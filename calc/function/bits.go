package function

import (
	"math"
	mathbits "math/bits"

	"railsum/calc/types"
)

// bits works on the whole numbers from 0 up to 2^53, all of which a float holds.
func bits() []*Function {
	return []*Function{
		{
			Name: "bit_and", Args: "bit_and(a, b)", Group: "bits",
			Meaning: "the bits that are set in both of two whole numbers",
			Example: "bit_and(0b11101, 0b00110)", Answer: "4",
			takes: arity{2, 2}, whole: -1, rule: wholes,
			Two: onBits(func(a, b uint64) (uint64, Fault) { return a & b, Sound }),
		},
		{
			Name: "bit_or", Args: "bit_or(a, b)", Group: "bits",
			Meaning: "the bits that are set in either of two whole numbers",
			Example: "bit_or(2, 4)", Answer: "6",
			takes: arity{2, 2}, whole: -1, rule: wholes,
			Two: onBits(func(a, b uint64) (uint64, Fault) { return a | b, Sound }),
		},
		{
			Name: "bit_xor", Args: "bit_xor(a, b)", Group: "bits",
			Meaning: "the bits that are set in one of two whole numbers and not in the other",
			Example: "bit_xor(6, 3)", Answer: "5",
			takes: arity{2, 2}, whole: -1, rule: wholes,
			Two: onBits(func(a, b uint64) (uint64, Fault) { return a ^ b, Sound }),
		},
		{
			Name: "bit", Args: "bit(x, n)", Group: "bits",
			Meaning: "yes if bit n of a whole number is set, the rightmost being bit 0; as a number it is `if bit(x, n) then 1 else 0`",
			Example: "bit(0b00100110, 5)", Answer: "yes",
			takes: arity{2, 2}, whole: -1,
			rule: func(f *Function, args []Arg) (types.Type, *TypeError) {
				_, err := wholes(f, args)
				return types.Type{Kind: types.Truth}, err
			},
			Two: onBits(func(x, n uint64) (uint64, Fault) { return x >> n & 1, Sound }),
		},
		{
			Name: "bit_count", Args: "bit_count(x)", Group: "bits",
			Meaning: "how many bits of a whole number are set: the ones of a byte; its zeros are 8 less these",
			Example: "bit_count(0b11101)", Answer: "4",
			takes: arity{1, 1}, whole: -1, rule: wholes,
			One: func(w *World, x float64) (float64, Fault) {
				return onBits(func(x, _ uint64) (uint64, Fault) { return uint64(mathbits.OnesCount64(x)), Sound })(w, x, 0)
			},
		},
		{
			Name: "shift_left", Args: "shift_left(a, n)", Group: "bits",
			Meaning: "a whole number with its bits n places further left: times 2, n times",
			Example: "shift_left(3, 4)", Answer: "48",
			takes: arity{2, 2}, whole: -1, rule: wholes,
			Two: onBits(func(a, n uint64) (uint64, Fault) {
				if a != 0 && (n > 53 || a > maxBits>>n) {
					return 0, Overflow
				}
				return a << n, Sound
			}),
		},
		{
			Name: "shift_right", Args: "shift_right(a, n)", Group: "bits",
			Meaning: "a whole number with its bits n places further right: divided by 2, n times, and rounded down",
			Example: "shift_right(1000, 8)", Answer: "3",
			takes: arity{2, 2}, whole: -1, rule: wholes,
			Two: onBits(func(a, n uint64) (uint64, Fault) { return a >> n, Sound }),
		},
	}
}

// maxBits is the largest number of 53 bits: a float holds all up to here.
const maxBits = 1<<53 - 1

func wholes(f *Function, args []Arg) (types.Type, *TypeError) {
	for i, a := range args {
		if v, text, ok := literal(a.Expr); ok && (v < 0 || v > maxBits || v != math.Trunc(v)) {
			return wrong(i, say("%s takes whole numbers from 0 up to 2^53, not %s", f.Name, text))
		}
	}
	return plain(f, args)
}

func onBits(op func(a, b uint64) (uint64, Fault)) func(*World, float64, float64) (float64, Fault) {
	return func(_ *World, x, y float64) (float64, Fault) {
		a, aok := whole(x)
		b, bok := whole(y)
		if !aok || !bok || a < 0 || b < 0 || a > maxBits || b > maxBits {
			return 0, OutOfDomain
		}
		v, fault := op(uint64(a), uint64(b))
		return float64(v), fault
	}
}
