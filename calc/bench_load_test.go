package calc_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"railsum/library"
)

// What opening a notebook costs; B/op is what the checked and computed lines
// take, for nothing of it is let go.

func repeated(n int, line func(i int) string) string {
	var s strings.Builder
	for i := range n {
		s.WriteString(line(i) + "\n")
	}
	return s.String()
}

// BenchmarkPlaced300 opens a notebook with 300 placed sheets: one sheet 300
// times, and every shipped sheet in turn.
func BenchmarkPlaced300(b *testing.B) {
	names := library.Shipped().SheetNames()
	for name, text := range map[string]string{
		"drop": repeated(300, func(i int) string { return fmt.Sprintf("use drop for d%d with length = %d m", i, i%20+1) }),
		"all":  repeated(300, func(i int) string { return fmt.Sprintf("use %s for d%d", names[i%len(names)], i) }),
		"each": repeated(len(names), func(i int) string { return fmt.Sprintf("use %s for d%d", names[i], i) }),
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				openText(text)
			}
		})
	}
}

// BenchmarkPlaced20000 opens the largest notebook of placed sheets.
func BenchmarkPlaced20000(b *testing.B) {
	text := repeated(20_000, func(i int) string { return fmt.Sprintf("use loop for d%d with length = %d m", i, i%30+1) })
	b.ReportAllocs()
	for b.Loop() {
		openText(text)
	}
}

// BenchmarkStudies100 answers 100 searches on a chain of 2,000 lines.
func BenchmarkStudies100(b *testing.B) {
	text := manyLines(1_900) + repeated(100, func(i int) string { return fmt.Sprintf("find v0 so v%d = %d V", 1_800+i, 20+i) })
	b.ReportAllocs()
	for b.Loop() {
		book := openText(text)
		for i := range book.Lines() {
			if _, err := book.AnswerStudied(context.Background(), i); err != nil {
				b.Fatal(err)
			}
		}
	}
}
