package units

import (
	"math/big"
	"testing"
)

func BenchmarkFirstUse(b *testing.B) { // what the first unit of a process costs
	for b.Loop() {
		makeList()
	}
}

func BenchmarkParseKnown(b *testing.B) {
	for b.Loop() {
		_, _ = Parse("ohm/km")
	}
}

func BenchmarkParseNew(b *testing.B) {
	for b.Loop() {
		_, _ = read("A*sqrt(s)/mm2")
	}
}

func BenchmarkSI(b *testing.B) {
	u, x := mustParse(b, "mm2"), big.NewRat(3, 2)
	for b.Loop() {
		u.SI(x)
	}
}

func BenchmarkChoose(b *testing.B) {
	d := mustParse(b, "V").Dim()
	for b.Loop() {
		Choose(d, []float64{0.75}, nil)
	}
}

func BenchmarkFormat(b *testing.B) {
	for b.Loop() {
		Format(287.35632)
	}
}
