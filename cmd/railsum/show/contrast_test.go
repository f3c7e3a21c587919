package show

import (
	"math"
	"testing"

	"github.com/fatih/color"
)

// The two usual palettes of 16 colours: that of the graphics adapters of personal
// computers and that of the X terminal emulator, each in the order of the SGR
// parameters 30 to 37 and 90 to 97.
var palettes = map[string][16][3]float64{
	"adapter": {{0, 0, 0}, {170, 0, 0}, {0, 170, 0}, {170, 85, 0}, {0, 0, 170}, {170, 0, 170}, {0, 170, 170}, {170, 170, 170},
		{85, 85, 85}, {255, 85, 85}, {85, 255, 85}, {255, 255, 85}, {85, 85, 255}, {255, 85, 255}, {85, 255, 255}, {255, 255, 255}},
	"emulator": {{0, 0, 0}, {205, 0, 0}, {0, 205, 0}, {205, 205, 0}, {0, 0, 238}, {205, 0, 205}, {0, 205, 205}, {229, 229, 229},
		{127, 127, 127}, {255, 0, 0}, {0, 255, 0}, {255, 255, 0}, {92, 92, 255}, {255, 0, 255}, {0, 255, 255}, {255, 255, 255}},
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(c [3]float64) float64 {
	l := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		x := c[i] / 255
		if x <= 0.03928 {
			x /= 12.92
		} else {
			x = math.Pow((x+0.055)/1.055, 2.4)
		}
		l += weight * x
	}
	return l
}

// contrast is the lesser of the two contrasts that a colour has, on black and on
// white (WCAG 2.1).
func contrast(c [3]float64) float64 {
	l := luminance(c)
	return math.Min((l+0.05)/0.05, 1.05/(l+0.05))
}

// cube is a colour of the 6 by 6 by 6 cube of 256 colours.
func cube(n int) [3]float64 {
	levels := [6]float64{0, 95, 135, 175, 215, 255}
	n -= 16
	return [3]float64{levels[n/36], levels[n/6%6], levels[n%6]}
}

// TestContrast holds the colours of verdicts to a contrast of 3 to 1, as bold
// words need it, and of 4.5 to 1 where there are 256 colours (WCAG 2.1, 1.4.3).
func TestContrast(t *testing.T) {
	few, rich := verdictColours(false), verdictColours(true)
	for name, attributes := range map[string][]color.Attribute{"clear": few.good, "caution": few.warn, "danger": few.bad, "no verdict": few.none} {
		for _, a := range attributes {
			i := int(a) - 30
			if a >= 90 {
				i = int(a) - 90 + 8
			}
			for palette, colours := range palettes {
				if a != color.Bold {
					if c := contrast(colours[i]); c < 3 {
						t.Errorf("%s in the palette %s: %.2f to 1", name, palette, c)
					}
				}
			}
		}
		if attributes[len(attributes)-1] != color.Bold {
			t.Errorf("%s is not bold", name)
		}
	}
	for name, attributes := range map[string][]color.Attribute{"clear": rich.good, "caution": rich.warn, "danger": rich.bad, "no verdict": rich.none} {
		if c := contrast(cube(int(attributes[2]))); c < 4.5 {
			t.Errorf("%s of 256 colours: %.2f to 1", name, c)
		}
	}
}
