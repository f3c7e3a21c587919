package syntax

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Respell gives the rows of a line with other names at some places of it. Every
// other character stays as it was typed.
func Respell(l *Line, names map[Pos]string) []string {
	rows := strings.Split(l.Raw, "\n")
	places := make([]Pos, 0, len(names))
	for p := range names {
		places = append(places, p)
	}
	// From the last to the first, so that those before stay where they are.
	slices.SortFunc(places, func(a, b Pos) int {
		if a.Row != b.Row {
			return b.Row - a.Row
		}
		return b.Col - a.Col
	})
	for _, p := range places {
		row := rows[p.Row-l.Row]
		begin := ByteAt(row, p.Col)
		end := begin
		if strings.HasPrefix(row[begin:], `"`) {
			end = begin + 1 + strings.IndexByte(row[begin+1:], '"') + 1
		} else {
			for end < len(row) {
				r, size := utf8.DecodeRuneInString(row[end:])
				if r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) {
					break
				}
				end += size
			}
		}
		rows[p.Row-l.Row] = row[:begin] + names[p] + row[end:]
	}
	return rows
}

// ByteAt is the byte that a column, counted in runes from 1, begins at.
func ByteAt(row string, col int) int {
	for i := range row {
		if col--; col == 0 {
			return i
		}
	}
	return len(row)
}
