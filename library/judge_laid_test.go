package library_test

import (
	"math"
	"slices"
)

// bent is the radius of a circle on which a chord has that rise.
func bent(chord, rise float64) float64 { return (chord*chord/4 + rise*rise) / (2 * rise) }

const degree = math.Pi / 180

// huntedLaid are the sheets of what is laid, what is moved and heard, and what a
// station says.
var huntedLaid = []hunted{
	{sheet: "chord", judge: func(v vars) bool {
		chord, rise, reading := v.n("chord"), v.n("rise"), v.n("reading")
		aside := 0.0
		switch v.text("edge") {
		case "outer rail":
			aside = -v.n("gauge") / 2
		case "inner rail":
			aside = v.n("gauge") / 2
		}
		doubt := bent(chord, max(1e-5, rise-reading)) - bent(chord, rise+reading)
		_, part := math.Modf(v.n("turn")/v.n("piece") + 0.01)
		return over(rise, chord/2) || over(doubt, 0.1*(bent(chord, rise)+aside)) || over(part, 0.02)
	}},
	{sheet: "easement", judge: func(v vars) bool {
		r, l, vehicle := v.n("radius"), v.n("length"), v.n("vehicle")
		turned := l / r / 2
		short := under(l, vehicle) && r <= 60*v.n("gauge")
		// Couplings of two equal vehicles, the one on the straight, the other on the curve.
		parted := (vehicle/2*vehicle/2 - v.n("pivots")/2*v.n("pivots")/2) / (2 * r)
		if l >= 2*vehicle {
			parted *= vehicle / (1.5 * l) // what the easement leaves of it where it is long
		} else {
			parted = 0 // between, the sheet is on the safe side
		}
		return over(2*turned, v.n("turn")) || short || over(turned, 24*degree) || over(parted, v.n("sideways"))
	}},
	{sheet: "cant", judge: func(v vars) bool {
		tilt := math.Asin(min(1, v.n("cant")/v.n("heads")))
		// Moments about the inner rail: the weight holds, the pull's inward part at the couplings tips.
		lever := v.n("heads")/2*math.Cos(tilt) - v.n("weight_height")*math.Sin(tilt)
		inward := v.n("pull") * v.n("vehicle") / v.n("radius")
		tips := over(inward*v.n("coupling"), 0.5*v.n("wagon")*9.80665*max(0, lever))
		lifts := over(v.n("cant")*min(1, v.n("wheelbase")/v.n("ramp")), v.n("play"))
		return tips || lifts || over(v.n("cant"), v.n("most")*v.n("scale")) || under(v.n("ramp"), 100*v.n("cant"))
	}},
	{sheet: "wheels", extra: []drawn{{"apart", "mm", 14.2, 14.8, false}, {"flange", "mm", 0.5, 1, false}, {"wide", "mm", 16.2, 17.2, false}, {"led", "mm", 15, 15.6, false},
		{"slot", "mm", 0.9, 1.5, false}, {"tall", "mm", 0.4, 1.6, false}, {"bed", "mm", 0.8, 1.6, false}, {"rim", "mm", 2, 3.2, false}},
		with: "x.back = apart\nx.thickness = flange\nx.gauge = wide\nx.check = led\nx.way = slot\nx.depth = tall\nx.deep = bed\nx.tread = rim\n",
		judge: func(v vars) bool {
			back, flange, check, way := v.n("apart"), v.n("flange"), v.n("led"), v.n("slot")
			return under(back, check-way) || over(back+flange, check) || over(back+2*flange, v.n("wide")) || over(v.n("tall"), v.n("bed")) || under(v.n("rim"), 2*way)
		}},
	{sheet: "platform", judge: func(v vars) bool {
		ratio := map[string]float64{"Z": 220, "N": 160, "TT": 120, "H0": 87, "S": 64, "0": 45, "I": 32, "II": 22.5}[v.text("size")]
		low := map[string]float64{"Z": 18, "N": 25, "TT": 32, "H0": 42, "S": 57, "0": 82, "I": 114, "II": 154}[v.text("size")] / 1000
		coach := map[string][2]float64{"A": {20, 14}, "B": {24.2, 17.2}, "C": {27.2, 19.5}}[v.text("coach")]
		r, half := v.n("radius"), 1.5/ratio
		on := math.Hypot(coach[1], 2.5) / 2 / ratio // where the outer wheels stand, from the middle
		middle := math.Sqrt(max(0, r*r-on*on))      // the body's axis, from the curve's centre
		reach := half
		switch v.text("side") {
		case "inside":
			reach = r - middle + half
		case "outside":
			reach = math.Hypot(middle+half, coach[0]/2/ratio) - r
		}
		cannot := v.text("side") != "straight" && r <= on
		return cannot || under(v.n("edge"), max(half, reach)+v.n("air")) || under(v.n("edge"), low/2)
	}},
	{sheet: "servo", judge: func(v vars) bool {
		if v.n("travel") >= 2*v.n("arm") {
			return true
		}
		turned := math.Asin(v.n("travel") / 2 / v.n("arm"))
		pulse := turned / v.n("angle") * v.n("per_angle")
		all, some := v.n("servos"), min(v.n("servos"), v.n("together"))
		held := (all-some)*v.n("idle") + (some-1)*v.n("moving") + max(v.n("stall"), v.n("moving"))
		return over(2*turned, v.n("angle")) || under(v.n("middle")-pulse, 0.5e-3) || over(v.n("middle")+pulse, 2.5e-3) ||
			under(v.n("torque"), 2*v.n("force")*v.n("arm")) || over(held, v.n("gives")) || over(all*v.n("moving"), v.n("gives"))
	}},
	{sheet: "driver", judge: func(v vars) bool {
		current := max(0, v.n("supply")-v.n("left")) / v.n("load")
		off := v.n("supply")
		if v.yes("inductive") {
			off += 0.7
			if !v.yes("diode") {
				off = 10 * v.n("supply")
			}
		}
		on := v.n("output") <= 0.7 || v.text("kind") == "MOSFET" && under(v.n("output"), 2*v.n("threshold"))
		starved := v.text("kind") == "bipolar" && over(current/v.n("gain"), v.n("output_current"))
		burns := v.yes("inductive") && v.yes("diode") && over(current, v.n("diode_current"))
		return on || starved || burns || over(2*current, v.n("rated_current")) || over(2*current*v.n("left"), v.n("rated_heat")) || over(off, v.n("rated_volts"))
	}},
	{sheet: "speaker", judge: func(v vars) bool {
		ohms := v.n("speaker") * v.n("speakers")
		if v.text("joined") == "side by side" {
			ohms = v.n("speaker") / v.n("speakers")
		}
		each := v.n("amplifier") * v.n("into") / ohms / v.n("speakers")
		return under(ohms, v.n("least")) || over(each, v.n("rated"))
	}},
	{sheet: "command", judge: func(v vars) bool {
		most := map[string]float64{"FL F1-F4": 15, "F5-F8": 15, "F9-F12": 15, "F13-F20": 255, "F21-F28": 255}
		groupEnds, isGroup := most[v.text("what")]
		return v.text("kind") == "short" && v.n("address") > 127 || v.text("what") == "speed 28" && v.n("speed") > 28 ||
			isGroup && v.n("on") > groupEnds || v.n("address") == 0 && v.text("what") != "stop to all"
	}},
	{sheet: "consist", judge: func(v vars) bool {
		return v.n("address") > 99 || v.n("address") == v.n("own") && v.text("own_kind") == "short"
	}},
	{sheet: "functions", judge: func(v vars) bool {
		from := 1.0
		switch {
		case slices.Contains([]string{"F4", "F5", "F6", "F7", "F8"}, v.text("function")):
			from = 4
		case slices.Contains([]string{"F9", "F10", "F11", "F12"}, v.text("function")):
			from = 7
		}
		beyond := func(output float64) bool { return output < from || output > from+7 }
		other := func(name string) bool { return v.n(name) != 0 && beyond(v.n(name)) }
		return beyond(v.n("first_output")) || other("second_output") || other("third_output")
	}},
	{sheet: "speed_table", judge: func(v vars) bool {
		top, start, middle := v.n("most"), v.n("start"), v.n("middle")
		if top < 2 {
			top = 255
		}
		return top <= start || middle > 1 && (middle <= start || middle >= top) || over(v.n("wanted"), v.n("full_speed")) || start > v.n("slowest")+16
	}},
	{sheet: "programming", judge: func(v vars) bool {
		volts, still := max(0, v.n("track")-1.4), 0.0
		if !v.none("capacitance") {
			ways := v.n("charging") + v.n("series")
			still = volts / ways * math.Exp(-v.n("within")/ways/v.n("capacitance"))
		}
		drawn := v.n("idle") + v.n("lights") + still
		rise := min(v.n("answer"), volts/(v.n("armature")+v.n("series")), v.n("limit")-drawn)
		return over(drawn, v.n("limit")) || under(rise, v.n("least")) || over(still, 0.010)
	}},
}
