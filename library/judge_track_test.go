package library_test

import "math"

var huntedTrack = []hunted{
	{sheet: "siding", judge: func(v vars) bool {
		foul := v.n("spacing") / v.n("turnout")
		train := v.n("engines")*(v.n("engine")+v.n("slack")) + v.n("wagons")*(v.n("wagon")+v.n("slack")) + v.n("room")
		// A train whose last axle has just passed the joint reads as clear: its end has to be past the fouling point.
		return over(train, max(0, v.n("length")-v.n("ends")*foul)) || under(v.n("joint")-v.n("overhang"), foul-1e-12) || over(train, max(0, v.n("length")-v.n("ends")*v.n("joint")))
	}},
	{sheet: "timing", judge: func(v vars) bool {
		u := v.n("speed") * v.n("scale")
		start, stop := u*u/2/v.n("accelerate"), u*u/2/v.n("brake")
		return under(v.n("sighting"), u*v.n("reaction")+stop) || over(v.n("train"), v.n("block")) || over(start+stop, v.n("distance"))
	}},
	{sheet: "braking", judge: func(v vars) bool {
		u := v.n("speed") * v.n("scale")
		stop := v.n("speed") * v.n("speed") / 2 / v.n("deceleration") * v.n("scale")
		if v.text("law") == "decoder" {
			whole := v.n("momentum") * 0.896
			if !v.none("timed") {
				whole = v.n("timed")
			}
			// A steady fall from the top step: area under the speed.
			stop = u * whole * (v.n("speed") / v.n("top")) / 2
		}
		return over(u*(v.n("detector")+v.n("refresh"))+stop+v.n("margin"), v.n("section")) || over(v.n("speed"), v.n("top"))
	}},
	{sheet: "grade", judge: gradeUnsafe},
	{sheet: "helix", judge: func(v vars) bool {
		turn := 2*math.Pi*v.n("radius") + v.n("straight")
		return under(v.n("rise"), v.n("vehicle")+v.n("deck")+v.n("roadbed")+v.n("fingers")) || over(v.n("rise")/turn+v.n("curve"), v.n("limit"))
	}},
	{sheet: "throw", judge: func(v vars) bool {
		_, wheels, _ := vehicle(v)
		return under(v.n("radius"), wheels)
	}},
	{sheet: "curve", judge: func(v vars) bool {
		long, wheels, width := vehicle(v)
		in, out := v.n("inner"), v.n("inner")+v.n("spacing")
		if under(in, wheels) {
			return true
		}
		// Seen from the centre of the curve: the outermost corner of the one, the middle of the side of the other.
		axis := math.Sqrt(in*in - wheels*wheels)
		corner := math.Hypot(axis+width/2, long/2)
		side := math.Sqrt(out*out-wheels*wheels) - width/2
		least := map[string]float64{"A": 57, "B": 60, "C": 84}[v.text("coach")]
		return under(side-max(corner, in+width/2), v.n("air")-1e-12) || under(in, v.n("wheelbase")*v.n("scale")/2/math.Sin(12*math.Pi/180)) || v.yes("buffers") && under(in/v.n("gauge"), least)
	}},
	{sheet: "pull", judge: func(v vars) bool {
		const g = 9.80665
		slope := math.Atan(v.n("grade"))
		engines := v.n("engine") + v.n("second")
		grip := g * math.Cos(slope) * (v.n("engine")*v.n("driven")*v.n("grip") + v.n("second")*v.n("second_driven")*v.n("second_grip"))
		train := v.n("wanted") * v.n("wagon")
		lift := g * math.Sin(slope) * (engines + train)
		running := lift + g*v.n("rolling")*(engines+train) + g*v.n("curve")*train
		starting := lift + g*v.n("rolling")*v.n("starting")*(engines+train) + g*v.n("curve")*train
		return over(running, grip) || over(starting, grip) || v.n("second") > 0 && over(v.n("apart"), 0.1)
	}},
	{sheet: "expansion", judge: func(v vars) bool {
		metal := map[string]float64{"nickel silver": 16.7e-6, "brass": 19.9e-6, "steel": 12e-6, "stainless steel": 16.5e-6, "aluminium": 25e-6}[v.text("rail")]
		grows := map[string][2]float64{"along": {4e-6, 0.00536}, "across": {35e-6, 0.25}, "none": {0, 0},
			"plywood": {6e-6, 0.02}, "MDF": {10e-6, 0.05}, "chipboard": {10e-6, 0.05}, "rigid foam": {60e-6, 0}, "steel frame": {12e-6, 0}}[v.text("grain")]
		bed := func(kelvin, moisture float64) float64 { return v.n("length") * (grows[0]*kelvin + grows[1]*moisture) }
		hot := v.n("gap") - v.n("length")*metal*v.n("warmer") + bed(v.n("board"), -v.n("drier"))
		cold := v.n("gap") + v.n("length")*metal*v.n("colder") + bed(-v.n("board"), v.n("wetter"))
		return under(hot, v.n("least_gap")-1e-12) || over(cold, v.n("most_gap")+1e-12) || v.yes("insulated") && !v.yes("filled")
	}},
}

// vehicle is a coach on the layout: its length, half the span of its outermost
// axles, its width.
func vehicle(v vars) (long, wheels, width float64) {
	full := map[string][2]float64{"A": {20, 14}, "B": {24.2, 17.2}, "C": {27.2, 19.5}, "own": {v.n("own_length"), v.n("own_pivots")}}[v.text("coach")]
	return full[0] * v.n("scale"), math.Hypot(full[1], v.n("bogie")) * v.n("scale") / 2, v.n("width") * v.n("scale")
}

// gradeUnsafe rolls two coupled vehicles on to the rounding.
func gradeUnsafe(v vars) bool {
	rise, run, r := v.n("rise"), v.n("run"), v.n("rounding")
	// Two roundings of R g and the grade g between: g run - R g2 is the height gained.
	inner := run*run - 4*r*rise
	if under(run*run, 4*r*rise) {
		return true
	}
	g := rise / run
	for range 60 {
		g = (rise + r*g*g) / run
	}
	if r > 0 && math.Abs(inner) < 1e-3*run*run {
		g = 2 * rise / (run + math.Sqrt(max(0, inner))) // where the steps come to rest too slowly
	}
	if over(g+v.n("curve"), v.n("limit")+1e-9) || v.n("curve") >= v.n("limit") {
		return true
	}
	if r == 0 {
		return false
	}
	long, pivots := v.n("vehicle"), v.n("pivots")
	if pivots >= long { // nobody knows where they are
		pivots = 1e-3
	}
	height := func(x float64) float64 { return max(0, x) * max(0, x) / (2 * r) }
	end := func(middle, off float64) float64 {
		a, b := height(middle-pivots/2), height(middle+pivots/2)
		return (a+b)/2 + (b-a)/pivots*off
	}
	for k := range 80 {
		x := -long + 2*long*float64(k)/80
		if over(math.Abs(end(x, long/2)-end(x+long, -long/2)), v.n("play")) {
			return true
		}
	}
	return false
}
