//go:build ignore

// generate makes the subsets of the typefaces and the table of their widths.
package main

import (
	"log"
	"os"

	"railsum/cmd/railsum/typeface"
	"railsum/cmd/railsum/typeface/subset"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

func main() {
	for name, ttf := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF} {
		font, err := subset.Make(ttf, typeface.Letters())
		if err != nil {
			log.Fatal(err)
		}
		for file, data := range map[string][]byte{name + ".woff": font.WOFF, name + ".tsv": font.Table()} {
			if err := os.WriteFile(file, data, 0o644); err != nil {
				log.Fatal(err)
			}
		}
	}
}
