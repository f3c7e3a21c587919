// Package typeface holds the letters of printed pages: subsets of two fonts, and how wide each letter is, so that a
// drawing made here fits its words in every browser.
//
// The fonts and the terms under which they are passed on stand in LICENSE.txt, and the notice that those terms ask for
// is part of Faces.
package typeface

import (
	_ "embed"
	"encoding/base64"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

//go:generate go run generate.go

var (
	//go:embed regular.woff
	regularFont []byte
	//go:embed bold.woff
	boldFont []byte
	//go:embed regular.tsv
	regularWidths string
	//go:embed bold.tsv
	boldWidths string
	//go:embed LICENSE.txt
	license string
)

// Name is the family by which a style sheet calls the faces.
const Name = "Railsum"

// Faces is CSS that brings the two faces with a page: their licence as a comment and the fonts themselves.
var Faces = sync.OnceValue(func() string {
	var b strings.Builder
	fmt.Fprintf(&b, "/*\n%s*/\n", license)
	face(&b, 400, regularFont)
	face(&b, 700, boldFont)
	return b.String()
})

func face(b *strings.Builder, weight int, font []byte) {
	fmt.Fprintf(b, "@font-face{font-family:%s;font-weight:%d;src:url(data:font/woff;base64,%s) format(\"woff\")}\n",
		Name, weight, base64.StdEncoding.EncodeToString(font))
}

// Width is how wide text is in the regular or the bold face, in ems; times the font size it is a length. A letter
// that the face has not counts as one em, a mark that combines with the letter before it as nothing.
func Width(text string, bold bool) float64 {
	widths := regular()
	if bold {
		widths = heavy()
	}
	var sum float64
	for _, r := range text {
		w, known := widths[r]
		switch {
		case known:
			sum += w
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		default:
			sum++
		}
	}
	return sum
}

var (
	regular = sync.OnceValue(func() map[rune]float64 { return widths(regularWidths) })
	heavy   = sync.OnceValue(func() map[rune]float64 { return widths(boldWidths) })
)

// widths reads a table as subset.Font.Table writes it.
func widths(table string) map[rune]float64 {
	letters := map[rune]float64{}
	em := 1.0
	for row := range strings.Lines(table) {
		key, value, _ := strings.Cut(strings.TrimSuffix(row, "\n"), "\t")
		n, err := strconv.ParseFloat(value, 64)
		if err != nil {
			panic("typeface: " + err.Error())
		}
		if key == "em" {
			em = n
			continue
		}
		code, err := strconv.ParseInt(key, 16, 32)
		if err != nil {
			panic("typeface: " + err.Error())
		}
		letters[rune(code)] = n / em
	}
	return letters
}
