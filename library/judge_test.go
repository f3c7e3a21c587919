package library_test

import (
	"math"
	"strconv"
)

func formatted(v float64) string { return strconv.FormatFloat(v, 'g', 12, 64) }

// copperRun is the resistance of a pair of conductors, out and back: 1/58 ohm
// mm2/m at 20 degC, 0.393 % more for each kelvin.
func copperRun(length, area, allowance, kelvin float64) float64 {
	return 2 * length * allowance / 58e6 / area * (1 + 0.00393*(kelvin-293.15))
}

// shortOf is the current of a short behind a source that may limit.
func shortOf(volts, ohms, limit float64) float64 {
	if ohms <= 0 || volts/ohms > limit {
		return limit
	}
	return volts / ohms
}

// unguarded says whether a wire may burn, or its protection may never act: the
// load trips, the short does not, or the trip lets pass what the wire does not
// carry.
func unguarded(load, short, trip, margin, area, length, density, shortDensity float64) bool {
	carries := area * density
	if length <= 0.5 && shortDensity > density {
		carries = area * shortDensity
	}
	return over(load, trip) || under(short, trip*margin) || over(trip, carries)
}

// sine is the peak of a sine of that rms value.
func sine(rms float64) float64 { return rms * math.Sqrt2 }

const volt = 1.0

// huntedSheets are the sheets of wiring, supply, detection and reversing that can
// say "clear" of what hurts or fails, each with its judge; those of parts, track
// and digital stand in files of their own. Left out are short, limited and scale, which judge nothing
// that can hurt.
var huntedSheets = []hunted{
	{sheet: "guard", judge: func(v vars) bool {
		short := shortOf(v.n("supply"), v.n("booster")+v.n("resistance")+v.n("contact"), v.n("limit"))
		return unguarded(v.n("load"), short, v.n("trip"), v.n("margin"), v.n("wire"), v.n("length"), v.n("density"), v.n("short_density"))
	}},
	{sheet: "loop", judge: func(v vars) bool { return over(v.n("joint"), 0.020) }},
	{sheet: "drop", judge: func(v vars) bool {
		joints := v.n("joints") * v.n("joint")
		cool := copperRun(v.n("length"), v.n("wire"), v.n("allowance"), v.n("temperature")) + joints
		hot := copperRun(v.n("length"), v.n("wire"), v.n("allowance"), v.n("fault_temperature")) + joints
		short := shortOf(v.n("supply"), v.n("booster")+v.n("ahead")+hot+v.n("contact"), v.n("limit"))
		load := v.n("load")
		heat := load * load * (cool - joints) / v.n("length")
		return unguarded(load, short, v.n("trip"), v.n("margin"), v.n("wire"), v.n("length"), v.n("density"), v.n("short_density")) ||
			under(v.n("supply")-load*(cool+v.n("booster")), v.n("needed")) || over(load*cool, v.n("allowed")*v.n("supply")) || over(heat, 1)
	}},
	{sheet: "fault", extra: []drawn{{"l1", "m", 0, 30, false}, {"a1", "mm2", 0.05, 6, false}, {"l2", "m", 0, 3, false}, {"a2", "mm2", 0.05, 4, false}},
		lines: "table way | length | area\n  one | l1 | a1\n  two | l2 | a2\nend\n", with: "x.path = way\n",
		judge: func(v vars) bool {
			k := map[string]float64{"PVC": 115, "PVC 90": 100, "PVC alone": 143, "PVC clad": 76, "XLPE": 143, "rubber 60": 141, "rubber 85": 134, "silicone": 132}[v.text("covering")] * 1e6
			wires, cold := v.n("booster"), v.n("booster")
			bad := false
			for _, p := range [][2]string{{"l1", "a1"}, {"l2", "a2"}} {
				wires += copperRun(v.n(p[0]), v.n(p[1]), v.n("allowance"), v.n("temperature")) + v.n("joints")*v.n("joint")
				cold += copperRun(v.n(p[0]), v.n(p[1]), v.n("allowance"), 293.15) + v.n("joints")*v.n("joint")
				// A dead short through cold wire, until it is cut: I2t against (kS)2.
				i := shortOf(v.n("supply"), cold, v.n("limit"))
				bad = bad || over(i*i*v.n("trip_time"), k*v.n(p[1])*k*v.n(p[1]))
			}
			end := shortOf(v.n("supply"), wires+2*v.n("rail_length")*v.n("rail")+v.n("contact"), v.n("limit"))
			for _, p := range [][2]string{{"l1", "a1"}, {"l2", "a2"}} {
				bad = bad || unguarded(0, end, v.n("trip"), v.n("margin"), v.n(p[1]), v.n(p[0]), v.n("density"), v.n("short_density"))
			}
			return bad
		}},
	{sheet: "bus", extra: []drawn{{"d1", "m", 0, 10, false}, {"d2", "m", 10, 20, false}, {"d3", "m", 20, 40, false}, {"i1", "A", 0, 3, false}, {"i2", "A", 0, 3, false}, {"i3", "A", 0, 3, false}},
		lines: "table taken | distance | load\n  one | d1 | i1\n  two | d2 | i2\n  three | d3 | i3\nend\n", with: "x.loads = taken\n", judge: busUnsafe},
	{sheet: "rails", judge: func(v vars) bool {
		metre := 0.0
		if !v.none("own") {
			metre = v.n("own")
		} else {
			metre = map[string]float64{"code 148": 0.055, "code 125": 0.070, "code 100": 0.076, "code 83": 0.108, "code 70": 0.206, "code 55": 0.330, "code 40": 0.640,
				"code 143": 0.060, "code 80": 0.190, "code 75": 0.220, "code 60": 0.340, "steel code 100": 0.080, "aluminium code 250": 0.0017, "stainless code 332": 0.026,
				"brass code 100": 0.019, "brass code 250": 0.003, "brass code 332": 0.0017}[v.text("rail")]
		}
		one := metre*v.n("spacing") + v.n("joiners")*v.n("joiner")
		// Midway between two droppers each rail is fed from both sides: half of half, twice.
		midway, tail := 2*(one/2)*(one/2)/one, 2*metre*v.n("tail")
		short := shortOf(v.n("supply"), v.n("booster")+v.n("bus")+max(midway, tail)+v.n("contact"), v.n("limit"))
		return unguarded(v.n("load"), short, v.n("trip"), v.n("margin"), v.n("dropper"), v.n("dropper_length"), v.n("density"), v.n("short_density")) ||
			over(v.n("load")*max(midway, tail), v.n("allowed"))
	}},
	{sheet: "fuse", judge: func(v vars) bool {
		carries, blows, full, loss := 0.8, 2.1, 303.15, 0.005
		switch v.text("kind") {
		case "blade":
			blows = 1.35
		case "resettable":
			carries, blows, full, loss = 1, 2, 296.15, 0.01
		}
		holds := v.n("fitted") * carries * min(1, 1-loss*(v.n("surroundings")-full))
		wire := v.n("wire") * v.n("density")
		spoiled := v.yes("spared") && (v.n("prospective") < v.n("trip") || v.n("trip_time") >= v.n("blow_time"))
		return over(v.n("load"), holds) || over(v.n("fitted"), wire) || over(v.n("fitted")*blows, 1.45*wire) || over(v.n("supply"), v.n("rated_volts")) ||
			over(v.n("greatest"), v.n("breaking")) || spoiled
	}},
	{sheet: "feed", judge: func(v vars) bool {
		switch v.text("kind") {
		case "AC", "AC without capacitor":
			return over(v.n("track"), max(0, sine(v.n("volts"))-2*v.n("diode")))
		}
		return over(v.n("track"), v.n("volts"))
	}},
	{sheet: "supply", judge: supplyUnsafe},
	{sheet: "smoothing", judge: func(v vars) bool {
		peak, full := sine(v.n("volts")), sine(v.n("volts"))*(1+v.n("no_load"))*(1+v.n("mains"))
		least := v.n("capacitor") * (1 - v.n("tolerance"))
		trough := peak*(1-v.n("low")) - 2*v.n("diode") - min(max(0, peak-2*v.n("diode")), v.n("load")/(2*v.n("frequency")*least))
		heat := full * full / v.n("bleed")
		left := full * math.Exp(-60/(v.n("bleed")*v.n("capacitor")*(1+v.n("tolerance"))))
		return under(max(0, trough), v.n("needed")) || over(full, v.n("rated_volts")) || over(2*v.n("load"), v.n("rated_ripple")) || over(v.n("load"), v.n("bridge")) ||
			over(2*heat, v.n("bleed_rating")) || over(left, max(v.n("safe"), 0)*(1+1e-7))
	}},
	{sheet: "bridge", judge: func(v vars) bool {
		peak := v.n("volts")
		if v.text("feed") == "AC" {
			peak = sine(peak)
		}
		return over(v.n("load"), v.n("rated")) || over(2*v.n("diode"), peak)
	}},
	{sheet: "charging", judge: func(v vars) bool {
		u := v.n("volts")
		left := u * math.Exp(-v.n("within")/(v.n("bleed")*v.n("capacitance")))
		return over(u, v.n("rated")) || over(2*u*u/v.n("bleed"), v.n("bleed_fitted")) || over(u*u/v.n("resistor"), v.n("fitted")) || over(left, v.n("safe")*(1+1e-7))
	}},
	{sheet: "accessories", extra: []drawn{{"n1", "", 0, 30, true}, {"h1", "mA", 0, 40, false}, {"o1", "mA", 0, 300, false}, {"k1", "", 0, 6, true}, {"n2", "", 0, 20, true}, {"h2", "mA", 0, 30, false}},
		lines: "table devices | count | holding as mA | operating as mA | at_once\n  servos | n1 | h1 | o1 | k1\n  lamps | n2 | h2 | 0 | 0\nend\n", with: "x.devices = devices\n",
		judge: func(v vars) bool {
			rest := v.n("n1")*v.n("h1") + v.n("n2")*v.n("h2")
			busy := rest + v.n("k1")*v.n("o1")
			waking := busy
			if v.yes("wake") {
				waking = rest + v.n("n1")*v.n("o1")
			}
			joints := v.n("joints") * 0.005
			cool := copperRun(v.n("length"), v.n("wire"), v.n("allowance"), 303.15) + joints
			hot := copperRun(v.n("length"), v.n("wire"), v.n("allowance"), 343.15) + joints
			short := shortOf(v.n("supply"), v.n("source_own")+hot+0.1, 1000)
			return over(v.n("k1"), v.n("n1")) || over(busy, v.n("gives")) || over(waking, v.n("cutout")) || under(v.n("supply")-busy*(cool+v.n("source_own")), v.n("needed")-1e-5) ||
				unguarded(busy, short, v.n("cutout"), v.n("margin"), v.n("wire"), v.n("length"), v.n("density"), 10e6) || !v.yes("own_supply")
		}},
	{sheet: "crossing", judge: func(v vars) bool {
		if !v.yes("in_step") || !v.yes("common") {
			return true
		}
		// The higher booster gives its own trains' current and what levels the two out.
		level := math.Abs(v.n("first_volts")-v.n("second_volts")) / (v.n("first_way") + v.n("second_way"))
		first, second := v.n("first_load"), v.n("second_load")
		if v.n("first_volts") >= v.n("second_volts") {
			first += level
		} else {
			second += level
		}
		return over(first, v.n("first_trip")) || over(second, v.n("second_trip")) || over(math.Abs(v.n("first_volts")-v.n("second_volts")), v.n("allowed"))
	}},
	{sheet: "proof", judge: func(v vars) bool {
		i := v.n("drawn")
		if !v.none("resistor") {
			i = v.n("loaded") / v.n("resistor")
		}
		fell := v.n("unloaded") - v.n("loaded")
		ohms := fell / i
		plan := v.n("booster") + copperRun(v.n("length"), v.n("wire"), v.n("allowance"), v.n("temperature")) + v.n("joints")*v.n("joint")
		return fell <= 0 || under(shortOf(v.n("unloaded"), ohms, 1000), v.n("trip")*v.n("margin")) || over(v.n("load")*ohms, v.n("unloaded")) || v.text("coin") != "trips" ||
			under(fell, 20*v.n("meter")) || over(ohms, v.n("worse")*plan)
	}},
	{sheet: "trip_race", judge: func(v vars) bool {
		return raceUnsafe(v, v.text("senses") == "short", v.n("train"), v.n("retry"), v.n("recovery"), v.n("surely"))
	}},
	{sheet: "reversing", judge: reversingUnsafe},
	{sheet: "stub", judge: func(v vars) bool {
		return stubUnsafe(v.n("length"), v.n("span"), v.n("gap"), v.n("crawl"), v.n("ride"), v.n("fastest"), v.n("module"), v.n("factor"))
	}},
	{sheet: "input_resistor", judge: func(v vars) bool {
		most := max(v.n("normal"), v.n("high"))
		least, greatest := v.n("resistor")*(1-v.n("tolerance")), v.n("resistor")*(1+v.n("tolerance"))
		share, back := 1.0, 0.0
		switch v.text("input") {
		case "one way":
			share, back = v.n("conducting"), most
		case "diode in series":
			share = v.n("conducting")
		case "diode across":
			back = 0.7
		}
		top := most - v.n("forward")
		return over(v.n("times")*top*top/least*share, v.n("fitted")) || under((v.n("low")-v.n("forward"))/greatest, v.n("lowest_current")) || over(top/least, v.n("highest_current")) ||
			over(back, v.n("reverse")) || over(v.n("low"), v.n("normal")) || over(v.n("leakage"), v.n("lowest_current"))
	}},
	{sheet: "axles", judge: func(v vars) bool {
		most := max(v.n("track"), v.n("high"))
		seen := v.n("emptiest") * max(0, v.n("track")-v.n("detector")) / v.n("resistor")
		return over(v.n("factor")*most*most/v.n("resistor"), v.n("fitted")) || under(seen, v.n("threshold")*v.n("margin")) || over(v.n("track")*v.n("length")/v.n("ballast"), v.n("threshold")/2) ||
			over(v.n("axles")*v.n("track")/v.n("resistor"), v.n("booster")/10)
	}},
	{sheet: "leak", judge: func(v vars) bool {
		return over(v.n("track")*v.n("length")/v.n("ballast"), v.n("allowed")*v.n("threshold"))
	}},
	{sheet: "dwell", judge: func(v vars) bool {
		stays := v.n("length")
		if v.text("kind") == "section" {
			stays += v.n("span")
		}
		return under(stays/v.n("speed"), v.n("margin")*(v.n("samples")*v.n("sampling")+v.n("filter"))) || under(v.n("following")/v.n("speed"), v.n("release"))
	}},
	{sheet: "headroom", extra: []drawn{{"n", "", 0, 12, true}, {"m", "", 0, 12, true}, {"i", "mA", 50, 900, false}, {"s", "A", 0.1, 3, false}},
		lines: "table fleet | count | moving | draw as mA | stall as A\n  engine | n | m | i | s\nend\n", with: "x.engines = fleet\n",
		judge: func(v vars) bool {
			total := v.n("m")*v.n("i") + v.n("n")*v.n("idle") + v.n("coaches")*v.n("coach") + v.n("axles")*v.n("track")/v.n("axle") + v.n("other")
			stalled := total
			if v.n("m") > 0 && v.n("s") > v.n("i") {
				stalled += v.n("s") - v.n("i")
			}
			again := total + v.n("capacitors")*v.n("track")/v.n("charging")
			cold := again
			if v.yes("filament") {
				cold += 9 * v.n("coaches") * v.n("coach")
			}
			limited := 100.0
			if v.n("track") <= 20 {
				limited = 5 * v.n("track")
			}
			reach := v.n("feed_volts")
			if f := v.text("feed"); f == "AC" || f == "AC without capacitor" {
				reach = max(0, sine(reach)-1.8)
			}
			return over(v.n("m"), v.n("n")) || over(total, v.n("rating")) || over(stalled, v.n("trip")) || over(again, v.n("trip")) || over(cold, v.n("trip")) ||
				under((v.n("rating")-total)/v.n("rating"), v.n("reserve")) || over(v.n("track")*v.n("trip"), limited) && !v.yes("fused") || over(v.n("track"), reach)
		}},
	{sheet: "sections", extra: []drawn{{"s1", "", 0, 24, true}, {"s2", "", 0, 24, true}, {"f1", "", 0, 6, true}, {"f2", "", 0, 6, true}},
		lines: "table blocks | sections | district | feed | fitted\n  one | s1 | \"north\" | \"north\" | f1\n  two | s2 | \"south\" | \"south\" | f2\nend\n", with: "x.groups = blocks\n",
		judge: func(v vars) bool {
			in := v.n("inputs")
			s1, s2, f1, f2 := v.n("s1"), v.n("s2"), v.n("f1"), v.n("f2")
			needs := func(s float64) float64 { return math.Ceil(s*(1+v.n("spare"))/in - 1e-12) }
			short := s1 > f1*in || s2 > f2*in
			modules := needs(s1) + needs(s2)
			if v.text("kind") == "transformer" {
				short, modules = s1+s2 > (f1+f2)*in, needs(s1+s2)
			}
			i := max(modules, f1+f2) * v.n("module")
			left := v.n("supply") - i*(copperRun(v.n("length"), v.n("wire"), v.n("allowance"), v.n("temperature"))+v.n("joints")*0.005)
			return short || over(v.n("trip"), v.n("carries")) || over(i, v.n("available")*(1+1e-6)) || under(left, v.n("least")-1e-6) || over(v.n("length"), v.n("chain"))
		}},
	{sheet: "cut_list", extra: []drawn{{"l1", "m", -1, 30, false}, {"l2", "m", -1, 30, false}, {"a1", "mm2", 0.5, 2.5, false}, {"c2", "", -1, 4, true}},
		lines: "table cuts | job | colour | area | length | conductors\n  one | \"bus\" | \"red\" | a1 | l1 | 1\n  two | \"signals\" | \"red\" | 1 mm2 | l2 | c2\nend\n", with: "x.runs = cuts\n",
		judge: func(v vars) bool {
			return v.n("l1") < 0 || v.n("l2") < 0 || v.n("c2") < 0 || v.n("a1") == 1e-6 || v.n("spare") < 0.1-1e-9
		}},
}

// busUnsafe finds the voltages by nodal analysis: a chain of points, each with
// its load, between one stiff end or two.
func busUnsafe(v vars) bool {
	d := []float64{v.n("d1"), v.n("d2"), v.n("d3")}
	load := []float64{v.n("i1"), v.n("i2"), v.n("i3")}
	if d[1] < d[0] || d[2] < d[1] {
		return true
	}
	metre := copperRun(1, v.n("wire"), v.n("allowance"), v.n("temperature"))
	joints := v.n("joints") * v.n("joint")
	both := v.text("ends") == "both"
	if both && v.n("length") < d[2] {
		return true
	}
	var r [4]float64 // of the sections, the last one to the far feed
	from := 0.0
	for k := range d {
		r[k] = (d[k]-from)*metre + joints
		from = d[k]
	}
	r[3] = max(0, v.n("length")-d[2])*metre + joints
	total := load[0] + load[1] + load[2]
	// The current into the near end is what makes the way round come to nothing.
	feed := total
	if both {
		sum, way := 0.0, 0.0
		for k := range r {
			sum += r[k]
		}
		if sum == 0 {
			return false // a bus of no resistance
		}
		feed = 0
		for k := range d {
			way += r[k]
			feed += load[k] * (sum - way) / sum
		}
	}
	worst, lost, hottest, i := 0.0, 0.0, 0.0, feed
	for k := range d {
		lost += i * r[k]
		hottest = max(hottest, math.Abs(i))
		worst = max(worst, max(0, lost)+load[k]*v.n("dropper"))
		i -= load[k]
	}
	hottest = max(hottest, math.Abs(i)) // in the last section, towards the far feed
	long := max(v.n("length"), d[2])
	hot := copperRun(long, v.n("wire"), v.n("allowance"), v.n("fault_temperature")) + 3*joints
	short := shortOf(v.n("supply"), v.n("booster")+hot+v.n("dropper")+v.n("contact"), v.n("limit"))
	return unguarded(total, short, v.n("trip"), v.n("margin"), v.n("wire"), long, v.n("density"), v.n("short_density")) ||
		under(v.n("supply")-worst-total*v.n("booster"), v.n("needed")-1e-9) || over(worst, v.n("allowed")*v.n("supply")*(1+1e-9)) || over(hottest*hottest*metre, 1+1e-9)
}

func supplyUnsafe(v vars) bool {
	volts, load, kind := v.n("volts"), v.n("load"), v.text("kind")
	alternating := kind == "AC" || kind == "AC without capacitor"
	drawn := func(i float64) float64 {
		switch kind {
		case "DC":
			return i * v.n("track") / (volts * v.n("efficiency"))
		case "AC":
			return 1.8 * i
		case "AC without capacitor":
			return 1.1 * i
		}
		return i
	}
	reach := volts
	highest := volts
	if alternating {
		reach = max(0, sine(volts)-2*v.n("diode"))
		highest = sine(volts) * (1 + v.n("no_load")) * (1 + v.n("mains"))
	}
	if v.yes("regulated") {
		highest = v.n("track")
	}
	into := 1.25 * v.n("rating") / volts
	if alternating {
		into = v.n("rating") / volts / max(v.n("no_load"), 0.02)
	}
	if !v.none("guard") {
		into = v.n("guard")
	}
	limited := 100.0
	if volts <= 20 {
		limited = 5 * volts
	}
	stands := 27 * volt
	if v.text("scale") == "N" {
		stands = 24
	}
	return over(volts*drawn(load), v.n("rating")) || !alternating && under(into, drawn(v.n("trip"))) || !v.none("guard") && under(v.n("guard"), drawn(load)) ||
		over(highest, min(stands, v.n("greatest"))) || !v.yes("isolating") || v.yes("joined") || over(into*volts, limited) && !v.yes("fused") || over(v.n("track"), reach)
}

// raceUnsafe plays the short at a joint: who sees it, who is first, and whether
// it ends when no polarity cures it.
func raceUnsafe(v vars, sensesShort bool, train, retry, recovery, surely float64) bool {
	short := shortOf(v.n("track"), v.n("path"), v.n("limit"))
	all := min(v.n("limit"), short+train+v.n("others"))
	cut := v.yes("fit_breaker") && !under(short, surely*v.n("breaker")) || !under(short, surely*v.n("booster"))
	others := math.Inf(1)
	if v.yes("fit_breaker") && all >= v.n("breaker") {
		others = v.n("breaker_time")
	}
	if all >= v.n("booster") {
		others = min(others, v.n("booster_time"))
	}
	running := 1.2 * (train + v.n("others"))
	bad := !cut || over(running, v.n("booster")) || v.yes("fit_breaker") && (over(running, v.n("breaker")) || over(2*v.n("breaker_time"), v.n("booster_time")) || over(recovery, retry))
	if sensesShort {
		bad = bad || under(short, surely*v.n("module")) || over(1.2*train, v.n("module")) || over(v.n("module_time")+0.010, others) || over(2*v.n("module_time"), others)
	}
	return bad
}

// stubUnsafe rolls the fastest train and the shortest engine over a stub.
func stubUnsafe(length, span, gap, crawl, ride, fastest, reaction, factor float64) bool {
	onStub := length / fastest
	dead := (length + 2*gap - span) / crawl // without current, as far as both gaps count in full
	return under(onStub, factor*reaction) || over(dead, ride+1e-12) || under(length, 0.010)
}

func reversingUnsafe(v vars) bool {
	ahead := v.n("booster")
	if v.yes("fit_breaker") {
		ahead = min(ahead, v.n("breaker"))
	}
	stubs := v.n("stubs") >= 1
	if stubs && stubUnsafe(v.n("stub"), v.n("span"), 0.001, v.n("crawl"), 0, v.n("fastest"), v.n("module_time"), 2) {
		return true
	}
	return over(v.n("train")+v.n("overrun"), v.n("section")) || v.n("sections") > 1 && !v.yes("one_train") || v.text("ends") == "two unlike" || v.text("detector") == "ahead" ||
		over(ahead, v.n("carries")) || raceUnsafe(v, !stubs, v.n("draw"), 2, 1, 1.5)
}
