package outline_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"railsum/cmd/railsum/outline"
	"railsum/cmd/railsum/picture"
	"railsum/units"
)

// floats are the numbers of some attributes.
func floats(t *testing.T, texts []string) []float64 {
	t.Helper()
	var all []float64
	for _, s := range texts {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, v)
	}
	return all
}

var planLine = regexp.MustCompile(`<line class="line \w+" x1="([-\d.]+)" y1="([-\d.]+)" x2="([-\d.]+)" y2="([-\d.]+)"|` +
	`<path class="line \w+" d="M([-\d.]+) ([-\d.]+) A([-\d.]+) [-\d.]+ 0 \d \d ([-\d.]+) ([-\d.]+)"`)

// Plans are to scale: the ends of every line lie within half a pixel of one scale for both axes, but for heights that are
// said to be drawn so many times, and so does the radius of every arc.
func TestPlanToScale(t *testing.T) {
	found := 0
	measure := func(name string, plan picture.Plan, wide float64) {
		svg := plan.SVG(int(wide), "x")
		stretch := 1.0
		if _, rest, is := strings.Cut(plan.Caption(), "heights drawn "); is {
			if _, err := fmt.Sscanf(rest, "%g times", &stretch); err != nil {
				t.Fatal(err)
			}
		}
		var at [][4]float64 // value x, value y, pixel x, pixel y
		var radii [][2]float64
		shapes := planLine.FindAllStringSubmatch(svg, -1)
		for _, line := range plan.Lines {
			if len(shapes) == 0 {
				break // lines beyond the most that are drawn
			}
			m := shapes[0]
			shapes = shapes[1:]
			if line.Look == picture.Measure {
				shapes = shapes[2:] // its two ends
			}
			if m[1] != "" {
				v := floats(t, m[1:5])
				at = append(at, [4]float64{line.X, line.Y, v[0], v[1]}, [4]float64{line.ToX, line.ToY, v[2], v[3]})
				continue
			}
			v := floats(t, m[5:10])
			at = append(at, [4]float64{line.X, line.Y, v[0], v[1]}, [4]float64{line.ToX, line.ToY, v[3], v[4]})
			chord, h := math.Hypot(line.ToX-line.X, line.ToY-line.Y), math.Abs(line.Bow)
			radii = append(radii, [2]float64{chord*chord/8/h + h/2, v[2]})
		}
		// The two ends farthest apart give the scale.
		var a, b [4]float64
		far := 0.0
		for _, p := range at {
			for _, q := range at {
				if l := math.Hypot(p[0]-q[0], stretch*(p[1]-q[1])); l > far {
					a, b, far = p, q, l
				}
			}
		}
		if far == 0 {
			return
		}
		scale := math.Hypot(a[2]-b[2], a[3]-b[3]) / far
		for _, p := range at {
			dx := p[2] - a[2] - scale*(p[0]-a[0])
			dy := p[3] - a[3] + scale*stretch*(p[1]-a[1])
			if math.Abs(dx) > 0.5 || math.Abs(dy) > 0.5 {
				t.Errorf("%s at %g: an end lies %.2f and %.2f beside its place", name, wide, dx, dy)
			}
			found++
		}
		for _, r := range radii {
			// Half a pixel beside the arc is much more in a radius that is long beside its chord.
			if math.Abs(r[1]-scale*r[0]) > math.Max(0.5, 1e-3*r[1]) {
				t.Errorf("%s at %g: an arc of radius %.2f should have %.2f", name, wide, r[1], scale*r[0])
			}
		}
	}
	for _, name := range drawnSheets() {
		for _, sets := range inputs(t, name) {
			book, p := placed(t, name, sets)
			for _, pic := range book.Lab().Drawn(p) {
				if plan, is := outline.Drawing(pic, units.Unit.Shown).(picture.Plan); is {
					measure(name, plan, 640)
					measure(name, plan, 320)
				}
			}
		}
	}
	if found < 150 {
		t.Errorf("only %d ends", found)
	}
}

var (
	limitBar = regexp.MustCompile(`<rect class="bar good" x="([-\d.]+)" y="[-\d.]+" width="([-\d.]+)"`)
	limitDot = regexp.MustCompile(`<circle class="is[a-z ]*" cx="([-\d.]+)"`)
)

// Limits are to scale: on an axis that begins at nothing, a value lies within half a pixel of as far along as it is of
// its limit, unless it is off the axis.
func TestLimitsToScale(t *testing.T) {
	const margin = 18.0
	axis := picture.Axis{Unit: "V", Figure: func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }}
	rng := rand.New(rand.NewPCG(7, 7))
	found := 0
	for range 500 {
		r := picture.Limit{Label: "a rule", Axis: axis, Value: math.Exp(8*rng.Float64() - 4), Low: math.NaN(), High: math.NaN()}
		limit := r.Value * math.Exp(3*rng.Float64()-1.5)
		least := rng.IntN(2) == 0
		if least {
			r.Low = limit
		} else {
			r.High = limit
		}
		for _, wide := range []int{640, 320} {
			svg := picture.Limits{Title: "limits", Rows: []picture.Limit{r}}.SVG(wide, "x")
			bar := floats(t, limitBar.FindStringSubmatch(svg)[1:])
			dot := floats(t, limitDot.FindStringSubmatch(svg)[1:])[0]
			at := bar[0] + bar[1]
			if least {
				at = bar[0]
			}
			if dot > float64(wide)-margin-0.01 && r.Value > limit { // off the axis
				continue
			}
			if off := dot - margin - (at-margin)*r.Value/limit; math.Abs(off) > 0.5 {
				t.Errorf("%g against %g at %d: the value lies %.2f beside its place", r.Value, limit, wide, off)
			}
			found++
		}
	}
	if found < 500 {
		t.Errorf("only %d values", found)
	}
}
