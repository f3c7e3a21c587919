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

// BenchmarkShow is one answer in SI shown in its unit, in a buffer.
func BenchmarkShow(b *testing.B) {
	u, buf := mustParse(b, "mm2"), make([]byte, 0, 64)
	b.ReportAllocs()
	for b.Loop() {
		buf = append(AppendFormat(buf[:0], u.FromSI(1.27e-6)), u.Shown()...)
	}
}

// A number shown makes nothing on the heap.
func TestShowAllocates(t *testing.T) {
	buf := make([]byte, 0, 64)
	for _, name := range []string{"mm2", "degF", "%", "km/h"} {
		u := mustParse(t, name)
		if n := testing.AllocsPerRun(100, func() { buf = append(AppendFormat(buf[:0], u.FromSI(287.35632)), u.Shown()...) }); n != 0 {
			t.Errorf("%s: %v objects", name, n)
		}
	}
}
