package picture

import (
	"fmt"
	"math"
	"strings"
)

// A Plan is lines and arcs in one plane, at one scale.
type Plan struct {
	Title string
	Axis  Axis
	Lines []Line
}

// A Line goes from one point to another, in SI, y upward. Bow is the height of the arc over that chord, to the left of
// the way from the one to the other if positive; 0 is a straight line.
type Line struct {
	Label          string
	X, Y, ToX, ToY float64
	Bow            float64
	Look           Look
}

// A laid plan: what can be drawn of it, its corners, and by how much its heights are stretched.
type laid struct {
	lines          []Line
	x0, y0, x1, y1 float64
	stretch        float64
	left           int
}

// stretches are by how much a flat plan may be stretched upward.
var stretches = []float64{1, 2, 5, 10, 20, 50}

// lay leaves out the lines that have no ends and finds the corners of the rest.
func (p Plan) lay() laid {
	l := laid{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1), stretch: 1}
	bowed := false
	for _, line := range p.Lines {
		if !finite(line.X, line.Y, line.ToX, line.ToY, line.Bow) {
			continue
		}
		if len(l.lines) == most {
			l.left++
			continue
		}
		if line.Look == "" {
			line.Look = Rail
		}
		l.lines = append(l.lines, line)
		bowed = bowed || line.Bow != 0
		for _, at := range line.points() {
			l.x0, l.x1 = min(l.x0, at[0]), max(l.x1, at[0])
			l.y0, l.y1 = min(l.y0, at[1]), max(l.y1, at[1])
		}
	}
	if high := l.y1 - l.y0; !bowed && high > 0 {
		for _, s := range stretches {
			l.stretch = s
			if high*s*12 >= l.x1-l.x0 {
				break
			}
		}
	}
	return l
}

// steps is into how many straight pieces an arc is cut where points along it are needed.
const steps = 48

// points are places along a line: its two ends, or points along its arc.
func (l Line) points() [][2]float64 {
	if l.Bow == 0 {
		return [][2]float64{{l.X, l.Y}, {l.ToX, l.ToY}}
	}
	cx, cy, radius, from, sweep := l.arc()
	at := make([][2]float64, steps+1)
	for i := range at {
		sin, cos := math.Sincos(from + sweep*float64(i)/steps)
		at[i] = [2]float64{cx + radius*cos, cy + radius*sin}
	}
	return at
}

// arc is the circle that a bowed line lies on, the angle at which it begins and the angle it goes through, which is
// negative clockwise. From the chord c and its height h the radius is (c^2/4 + h^2) / (2 h).
func (l Line) arc() (cx, cy, radius, from, sweep float64) {
	dx, dy := l.ToX-l.X, l.ToY-l.Y
	chord := math.Hypot(dx, dy)
	h := math.Abs(l.Bow)
	radius = (chord*chord/4 + h*h) / (2 * h)
	side := math.Copysign(1, l.Bow)
	nx, ny := 0.0, 1.0 // to the left of the chord
	if chord > 0 {
		nx, ny = -dy/chord, dx/chord
	}
	cx = (l.X+l.ToX)/2 + side*nx*(h-radius)
	cy = (l.Y+l.ToY)/2 + side*ny*(h-radius)
	from = math.Atan2(l.Y-cy, l.X-cx)
	half := math.Asin(min(1, chord/2/radius))
	if h > radius {
		half = math.Pi - half
	}
	return cx, cy, radius, from, -side * 2 * half
}

// Empty tells whether there is nothing to draw.
func (p Plan) Empty() bool {
	l := p.lay()
	return len(l.lines) == 0 || !(l.x1 > l.x0 || l.y1 > l.y0)
}

// Caption is the title, and by how much heights are stretched.
func (p Plan) Caption() string {
	caption := p.Title
	if l := p.lay(); l.stretch > 1 {
		caption = strings.TrimPrefix(caption+fmt.Sprintf(", heights drawn %g times", l.stretch), ", ")
	}
	return caption
}

// Sentence tells each line with its length, an arc with its radius.
func (p Plan) Sentence() string {
	l := p.lay()
	var parts []string
	for _, line := range l.lines {
		parts = append(parts, p.told(line))
	}
	if l.left > 0 {
		parts = append(parts, more(l.left))
	}
	return sentence(p.Caption(), parts)
}

func (p Plan) told(line Line) string {
	if line.Bow != 0 {
		_, _, radius, _, _ := line.arc()
		return words(line.Label, "an arc of radius "+p.Axis.value(radius))
	}
	return words(line.Label, p.Axis.value(math.Hypot(line.ToX-line.X, line.ToY-line.Y)))
}

// planHeight is how high a plan may become on a page.
const planHeight = 380.0

// SVG draws the lines, each with its name and measure beside its middle.
func (p Plan) SVG(wide int, id string) string {
	l := p.lay()
	b := newBoard(wide, id)
	if len(l.lines) == 0 {
		return b.finish("plan", p.Caption(), p.Sentence())
	}
	margin := min(120, b.wide*0.2)
	scale := math.Inf(1)
	if l.x1 > l.x0 {
		scale = (b.wide - 2*margin) / (l.x1 - l.x0)
	}
	if l.y1 > l.y0 {
		scale = min(scale, planHeight/((l.y1-l.y0)*l.stretch))
	}
	left := (b.wide - (l.x1-l.x0)*scale) / 2
	place := func(at [2]float64) (x, y float64) {
		return left + (at[0]-l.x0)*scale, (l.y1 - at[1]) * scale * l.stretch
	}
	for _, line := range l.lines {
		p.draw(b, line, place, scale)
	}
	for _, line := range l.lines {
		p.name(b, line, place)
	}
	if l.left > 0 {
		b.key = append(b.key, keyed{text: more(l.left)})
	}
	return b.finish("plan", p.Caption(), p.Sentence())
}

// draw draws one line and keeps the room along it, so that no name stands on it.
func (p Plan) draw(b *board, line Line, place func([2]float64) (x, y float64), scale float64) {
	points := line.points()
	x0, y0 := place(points[0])
	x1, y1 := place(points[len(points)-1])
	class := "line " + string(line.Look)
	if line.Bow != 0 {
		_, _, radius, _, sweep := line.arc()
		large, way := 0, 0
		if math.Abs(sweep) > math.Pi {
			large = 1
		}
		if sweep < 0 {
			way = 1
		}
		b.shape("path", class, `d="M%.2f %.2f A%.2f %.2f 0 %d %d %.2f %.2f"`, x0, y0, radius*scale, radius*scale,
			large, way, x1, y1)
	} else {
		b.line(class, x0, y0, x1, y1)
		if line.Look == Measure {
			length := math.Hypot(x1-x0, y1-y0)
			if length > 0 {
				nx, ny := -(y1-y0)/length*5, (x1-x0)/length*5
				b.line(class, x0-nx, y0-ny, x0+nx, y0+ny)
				b.line(class, x1-nx, y1-ny, x1+nx, y1+ny)
			}
		}
	}
	for i := 1; i < len(points); i++ { // short pieces, so that the room of a slanting line is not its whole rectangle
		ax, ay := place(points[i-1])
		bx, by := place(points[i])
		pieces := int(math.Hypot(bx-ax, by-ay)/8) + 1
		for k := range pieces {
			f, g := float64(k)/float64(pieces), float64(k+1)/float64(pieces)
			px, py, qx, qy := ax+(bx-ax)*f, ay+(by-ay)*f, ax+(bx-ax)*g, ay+(by-ay)*g
			b.take(rect{min(px, qx) - 2, min(py, qy) - 2, max(px, qx) + 2, max(py, qy) + 2})
		}
	}
}

// name writes what a line is at the first place along it where there is room, else into the key.
func (p Plan) name(b *board, line Line, place func([2]float64) (x, y float64)) {
	text := p.told(line)
	if line.Bow == 0 && line.Look != Measure {
		text = line.Label
	}
	points := line.points()
	for _, f := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
		var at [2]float64
		if len(points) == 2 {
			for i := range at {
				at[i] = points[0][i] + (points[1][i]-points[0][i])*f
			}
		} else {
			at = points[int(f*steps)]
		}
		x, y := place(at)
		lines := []string{text}
		half := width(text, false)/2 + edge
		for _, d := range [][2]float64{{0, -13}, {0, 13}, {half + 5, 0}, {-half - 5, 0}, {half, -13}, {-half, -13},
			{half, 13}, {-half, 13}} {
			if b.try("lab", lines, false, [2]float64{x + d[0], y + d[1]}) {
				return
			}
		}
	}
	letter := []string{b.letter(p.told(line))}
	x, y := place(points[len(points)/2])
	b.try("b", letter, false, [2]float64{x, y - 12}, [2]float64{x, y + 12}, [2]float64{x + 10, y}, [2]float64{x - 10, y})
}

// planRows is how many rows a plan has in text.
const planRows = 10

// Text draws the lines on a grid and lists their names and measures below, by letter.
func (p Plan) Text(wide int) []string {
	l := p.lay()
	out := wrapColumns(p.Caption(), wide)
	if len(l.lines) == 0 {
		return out
	}
	across := float64(min(wide, 64) - 1)
	dx, dy := l.x1-l.x0, (l.y1-l.y0)*l.stretch
	scale := math.Inf(1) // columns for a metre; a row is as high as two columns are wide
	if dx > 0 {
		scale = across / dx
	}
	if dy > 0 {
		scale = min(scale, 2*(planRows-1)/dy)
	}
	c := newCanvas(wide, int(math.Round(dy*scale/2))+1)
	cell := func(at [2]float64) (x, y int) {
		return int(math.Round((at[0] - l.x0) * scale)), int(math.Round((l.y1 - at[1]) * l.stretch * scale / 2))
	}
	for _, line := range l.lines {
		points := line.points()
		for i := 1; i < len(points); i++ {
			c.stroke(points[i-1], points[i], line.Look, cell)
		}
	}
	var key []string
	for i, line := range l.lines {
		letter := string(rune('a' + i))
		points := line.points()
		at := points[len(points)/2]
		if len(points) == 2 {
			at = [2]float64{(line.X + line.ToX) / 2, (line.Y + line.ToY) / 2}
		}
		x, y := cell(at)
		c.put(x, y, letter)
		key = append(key, letter+" "+p.told(line))
	}
	if l.left > 0 {
		key = append(key, more(l.left))
	}
	return append(append(out, c.lines()...), fold(key, wide)...)
}

// stroke draws a straight piece with the character that leans as it does.
func (c *canvas) stroke(from, to [2]float64, look Look, cell func([2]float64) (x, y int)) {
	x0, y0 := cell(from)
	x1, y1 := cell(to)
	n := max(abs(x1-x0), abs(y1-y0), 1)
	r := "-"
	switch slope := float64(y1-y0) * 2; {
	case look == Measure || look == Thin:
		r = "."
	case math.Abs(slope) < math.Abs(float64(x1-x0))*0.5:
	case (y1 > y0) == (x1 > x0) && x1 != x0:
		r = "\\"
	case x1 != x0:
		r = "/"
	default:
		r = "|"
	}
	for i := range n + 1 {
		x, y := x0+(x1-x0)*i/n, y0+(y1-y0)*i/n
		if c.free(x, x+1, y) || r != "." {
			c.put(x, y, r)
		}
	}
}

func abs(n int) int { return max(n, -n) }
