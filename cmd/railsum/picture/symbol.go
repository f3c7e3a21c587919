package picture

import (
	"fmt"
	"strings"
)

// A drawn symbol lies on a conductor that goes through its middle from left to right: a path, in pixels from that
// middle, and how far it reaches along the conductor. What it covers of the conductor is laid over with paper.
type drawnSymbol struct {
	half  float64 // along the conductor
	high  float64 // across it
	paths string
	open  bool // the conductor does not go through: paper under it
}

// symbols after IEC 60617 (general symbols of resistor, capacitor, inductor, diode, lamp, switch, fuse, ideal voltage
// source); a load and an input are plain boxes, a short is the zigzag arrow of a fault.
var symbols = map[Symbol]drawnSymbol{
	Source:    {16, 16, `<circle r="16"/><path d="M-16 0H16"/>`, false},
	Resistor:  {20, 8, `<rect x="-20" y="-8" width="40" height="16"/>`, true},
	Capacitor: {4, 14, `<path d="M-4 -14V14M4 -14V14"/>`, true},
	Coil:      {20, 8, `<path d="M-20 0a5 6 0 0 1 10 0a5 6 0 0 1 10 0a5 6 0 0 1 10 0a5 6 0 0 1 10 0"/>`, true},
	Diode:     {9, 9, `<path d="M-9 -9V9L9 0ZM9 -9V9"/>`, false},
	Lamp:      {14, 14, `<circle r="14"/><path d="M-10 -10L10 10M-10 10L10 -10"/>`, true},
	Switch:    {14, 14, `<circle cx="-14" r="2.5"/><circle cx="14" r="2.5"/><path d="M-12 -1L12 -13"/>`, true},
	Fuse:      {18, 7, `<rect x="-18" y="-7" width="36" height="14"/><path d="M-18 0H18"/>`, false},
	Terminals: {9, 4, `<circle cx="-9" r="4"/><circle cx="9" r="4"/>`, true},
	Load:      {20, 14, `<rect x="-20" y="-14" width="40" height="28"/>`, true},
	Input:     {20, 14, `<rect x="-20" y="-14" width="40" height="28"/><path d="M-8 -5L2 0L-8 5"/>`, true},
	Short:     {16, 9, `<path d="M-16 0L-4 -8L2 4L16 0M8 -5L16 0L9 6"/>`, true},
}

// symbol draws one at a point, upright on a vertical conductor, and tells how far it reaches sideways of the words that
// stand beside it.
func (b *board) symbol(s Symbol, x, y float64, vertical bool) float64 {
	d, known := symbols[s]
	if !known {
		return 0
	}
	turn := ""
	if vertical {
		turn = " rotate(90)"
	}
	under := ""
	if d.open {
		under = fmt.Sprintf(`<rect class="paper" x="%g" y="-2" width="%g" height="4"/>`, -d.half, 2*d.half)
	}
	fmt.Fprintf(&b.shapes, `<g class="symbol" transform="translate(%.2f %.2f)%s">%s%s</g>`, x, y, turn, under,
		strings.TrimSpace(d.paths))
	if vertical {
		b.top, b.low = min(b.top, y-d.half), max(b.low, y+d.half)
		return d.high
	}
	b.top, b.low = min(b.top, y-d.high), max(b.low, y+d.high)
	return d.half
}
