package typeface

import "strings"

// Letters are those that the subsets hold, as far as the font has them: what the units, the sheets and most languages
// written in Latin letters need. Any other letter of a user's own text is left to a font of the reader's machine.
func Letters() []rune {
	var all []rune
	for _, span := range [][2]rune{{' ', '~'}, {0xA0, 0xFF}} {
		for r := span[0]; r <= span[1]; r++ {
			all = append(all, r)
		}
	}
	for _, r := range "ĄąĆćČčĎďĘęĚěĞğİıŁłŃńŇňŐőŒœŘřŚśŞşŠšŤťŮůŰűŹźŻżŽž" +
		"ΔΩαβηθλμπρφωΩ∆‐–—‘’‚“”„•…′″⁄€←↑→↓⅓⅔⅛⅜⅝⅞−√∞∑≈≠≤≥" {
		if !strings.ContainsRune(string(all), r) {
			all = append(all, r)
		}
	}
	return all
}
