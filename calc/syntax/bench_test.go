package syntax

import (
	"fmt"
	"strings"
	"testing"
)

// ordinary makes a notebook of so many lines of the usual kinds.
func ordinary(lines int) []byte {
	var b strings.Builder
	for i := range lines / 5 {
		fmt.Fprintf(&b, "track%d = %d.5 V +- 5 %%  # at the station\n", i, i%20)
		fmt.Fprintf(&b, "north%d.length = 9.%d m\n", i, i%100)
		fmt.Fprintf(&b, "lost%d = 2 * north%d.length * 13.3 ohm/km * sum(fleet.draw)\n", i, i)
		fmt.Fprintf(&b, "should lost%d <= 5 %% of track%d\n", i, i)
		fmt.Fprintf(&b, "if a%d > 3 A then 3k3 else 2 ft 6 in / (1 m - x) as mm2\n", i)
	}
	return []byte(b.String())
}

func BenchmarkParseFile(b *testing.B) {
	src := ordinary(10_000)
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		ParseFile(src)
	}
}

func BenchmarkFormat(b *testing.B) {
	f := ParseFile(ordinary(10_000))
	for b.Loop() {
		Format(f)
	}
}

func BenchmarkParseLine(b *testing.B) {
	for b.Loop() {
		ParseLine("lost = 2 * north.length * 13.3 ohm/km * sum(fleet.draw)")
	}
}
