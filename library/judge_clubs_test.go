package library_test

import "math"

// huntedClubs are the judges of what clubs ask most: turnouts, turntables,
// detectors and inputs, returns, breakers, blocks and cables.
var huntedClubs = []hunted{
	{sheet: "frog", judge: func(v vars) bool {
		if !v.yes("live") {
			// The engine stands with its outer axles at the ends of what is dead.
			return over(v.n("frog")+2*v.n("gap"), v.n("span")+v.n("crawl")*v.n("ride"))
		}
		return !v.yes("gapped") || under(v.n("contact"), v.n("trip")) || under(v.n("track")/v.n("path"), v.n("trip")*v.n("margin"))
	}},
	{sheet: "turntable", judge: func(v vars) bool {
		// So many tracks side by side make a polygon with corners on the pit's edge.
		if chord := v.n("width") / v.n("pit"); chord > 1 || over(2*math.Asin(chord)*v.n("tracks"), 2*math.Pi) {
			return true
		}
		if over(v.n("wheelbase")+2*v.n("margin"), v.n("bridge")) || over(v.n("over_all"), v.n("pit")) || !over(v.n("pit"), v.n("bridge")) ||
			over(v.n("pit")-v.n("bridge"), 0.002) || over(math.Tan(v.n("aim"))*v.n("pit"), 0.0004) {
			return true
		}
		module := v.text("feed") == "module"
		if !module {
			// The brush lies on the gap while the bridge is less than half of its arc away.
			if over(v.n("split")/v.n("circle")+v.n("aim"), v.n("clear_of")) {
				return true
			}
			return raceUnsafe(v, false, v.n("draw"), 2, 1, 1.5)
		}
		ahead := v.n("booster")
		if v.yes("fit_breaker") {
			ahead = min(ahead, v.n("breaker"))
		}
		return over(ahead, v.n("carries")) || raceUnsafe(v, true, v.n("draw"), 2, 1, 1.5)
	}},
	{sheet: "detector", judge: func(v vars) bool {
		// Each of two edges a period moves the charge from one polarity to the other.
		charge := 2 * (v.n("snubber") + v.n("pair")*v.n("capacitance")) * v.n("track")
		unseen := charge*2*v.n("frequency") + v.n("ballast")
		return over(v.n("trip"), v.n("carries")) || over(2*unseen, v.n("threshold")) || under(v.n("least"), v.n("threshold")*v.n("margin")) ||
			over(v.n("row")*v.n("keeps"), v.n("allowed"))
	}},
	{sheet: "input_filter", judge: func(v vars) bool {
		pause := v.n("cutout") + v.n("contact_gap")
		if v.text("waves") == "one" {
			pause += v.n("zero")
		}
		slow, fast := v.n("pull_up")*v.n("capacitor")*(1+v.n("tolerance")), v.n("pull_up")*v.n("capacitor")*(1-v.n("tolerance"))
		// In step with the signal it is filled, then emptied through both resistors; that comes to a steady swing.
		closed := v.n("series") / (v.n("series") + v.n("pull_up"))
		lowest := closed
		if v.text("waves") == "one" {
			empties := math.Exp(-95e-6 / (fast * closed))
			fills := math.Exp(-v.n("zero") / fast)
			lowest = (closed*(1-empties) + (1-fills)*empties) / (1 - fills*empties)
		}
		// After the pause, from there, the input must still be below what surely reads as occupied.
		if after := 1 - (1-lowest)*math.Exp(-pause*v.n("margin")/fast); over(after, v.n("low")) {
			return true
		}
		// By the time allowed it must be above what surely reads as free.
		if after := -math.Expm1(-v.n("late") / slow); under(after, v.n("high")) {
			return true
		}
		return over(v.n("logic")/max(v.n("series"), 0.1), v.n("contact")) || over(2*closed, v.n("low")) || under(v.n("logic")/(v.n("series")+v.n("pull_up")), v.n("wetting"))
	}},
	{sheet: "common_return", judge: func(v vars) bool {
		rails := v.n("track") * (v.n("feed_rail") + v.n("return_rail"))
		way := func(area, temperature float64) float64 {
			return copperRun(v.n("length")/2, area, v.n("allowance"), temperature) + v.n("joints")*v.n("joint")
		}
		home := way(v.n("back"), v.n("temperature"))
		hot := way(v.n("feed"), v.n("fault_temperature")) + way(v.n("back"), v.n("fault_temperature")) + rails
		short := shortOf(v.n("supply"), v.n("booster")+hot+v.n("contact"), v.n("limit"))
		others := v.n("shared") * home
		lost := v.n("load")*(way(v.n("feed"), v.n("temperature"))+home+rails) + others
		return unguarded(v.n("load"), short, v.n("trip"), v.n("margin"), v.n("feed"), v.n("length"), v.n("density"), 10e6) ||
			over(max(v.n("trip"), v.n("trips")), v.n("back")*v.n("density")) || over(v.n("trip"), v.n("trips")) ||
			over(lost, v.n("allowed")*v.n("supply")) || over(others, 0.02*v.n("supply"))
	}},
	{sheet: "breakers", extra: []drawn{{"r1", "A", 0, 3, false}, {"u1", "A", 0, 3, false}, {"t1", "A", 0.5, 6, false}, {"m1", "ms", 1, 100, false}, {"s1", "A", 1, 20, false},
		{"r2", "A", 0, 3, false}, {"u2", "A", 0, 3, false}, {"t2", "A", 0.5, 6, false}, {"m2", "ms", 1, 100, false}, {"s2", "A", 1, 20, false}},
		lines: "table row | running | rush | trip | time | short\n  one | r1 | u1 | t1 | m1 | s1\n  two | r2 | u2 | t2 | m2 | s2\nend\n", with: "x.districts = row\n",
		judge: func(v vars) bool {
			running, rush := v.n("r1")+v.n("r2"), v.n("u1")+v.n("u2")
			if v.yes("turns") {
				rush = max(v.n("u1"), v.n("u2"))
			}
			if over(running, v.n("rating")) || over(running+rush, v.n("booster")) {
				return true
			}
			for _, i := range []string{"1", "2"} {
				others := running - v.n("r"+i)
				if over(v.n("r"+i)+v.n("u"+i), v.n("t"+i)) || over(v.n("t"+i)+others, v.n("booster")) || over(2*v.n("m"+i), v.n("booster_time")) ||
					under(v.n("s"+i), v.n("margin")*v.n("t"+i)) {
					return true
				}
			}
			return false
		}},
	{sheet: "limiter", judge: func(v vars) bool {
		volts, load := v.n("supply"), v.n("load")
		lasting, first, takes := 0.0, 0.0, 0.0
		if v.text("kind") == "lamp" {
			ohms := v.n("lamp_volts") * v.n("lamp_volts") / v.n("lamp_power")
			lasting = v.n("lamp_power") / v.n("lamp_volts") * math.Pow(volts/v.n("lamp_volts"), 0.55)
			first = volts / (v.n("cold")*ohms + v.n("path"))
			takes = max(load*v.n("cold")*ohms, v.n("lamp_volts")*math.Pow(load*v.n("lamp_volts")/v.n("lamp_power"), 1/0.55))
			if over(volts, 1.2*v.n("lamp_volts")) {
				return true
			}
		} else {
			lasting = volts / (v.n("resistor") + v.n("path"))
			first, takes = lasting, load*v.n("resistor")
			if over(2*lasting*lasting*v.n("resistor"), v.n("fitted")) {
				return true
			}
		}
		return over(load, 0.7*lasting) || over(lasting+v.n("others"), v.n("trip")) || under(volts-takes-load*v.n("path"), v.n("needed")) ||
			over(2*v.n("warming"), v.n("trip_time")) && over(first+v.n("others"), v.n("trip"))
	}},
	{sheet: "inductance", judge: func(v vars) bool {
		radius := math.Sqrt(v.n("wire") / math.Pi)
		if under(v.n("apart"), 2*radius) {
			return true
		}
		henry := v.n("length") * 4e-7 * (math.Log(v.n("apart")/radius) + 0.25)
		return over(2*henry*v.n("load")/v.n("track"), v.n("allowed"))
	}},
	{sheet: "feedback_bus", judge: func(v vars) bool {
		if v.n("ends") > 2 || over(v.n("branch")*10*v.n("travel"), v.n("rise")) {
			return true
		}
		if v.text("kind") == "single wire" {
			// From 30 to 70 % of its volts a line charges in ln(0.7/0.3) time constants.
			edge := math.Log(7.0/3) * v.n("pull_up") * v.n("capacitance") * v.n("length")
			return over(edge*v.n("rate")*(0.8473/math.Log(7.0/3)), 0.2) || over(v.n("offset"), 0.4)
		}
		echo := math.Abs((v.n("terminator") - v.n("impedance")) / (v.n("terminator") + v.n("impedance")))
		return over(v.n("length"), 1200) || over(v.n("length")*v.n("rate"), 1e8) || over(v.n("modules")*v.n("loading"), 32) || over(v.n("offset"), 7) ||
			v.n("ends") != 2 && over(2*v.n("length")*v.n("travel"), v.n("rise")) || v.n("ends") > 0 && over(echo, 0.15)
	}},
	{sheet: "throttle", judge: func(v vars) bool {
		train, ways := v.n("motors")*v.n("running"), v.n("wiring")
		ohms := 0.0
		if v.text("kind") == "rheostat" {
			ohms = v.n("rheostat")
		}
		short := v.n("supply") / (ohms + ways + v.n("contact"))
		if over(train, v.n("gives")) || !under(train*(ohms+ways), v.n("supply")) || over(v.n("supply")/(ohms+ways+v.n("armature")/v.n("motors")), v.n("gives")) {
			return true
		}
		if v.text("kind") == "electronic" {
			return under(short, 1.5*v.n("cutout"))
		}
		return over(train*train*ohms, v.n("fitted")) || over(short*short*ohms, v.n("fitted")) && under(short, v.n("cutout"))
	}},
	{sheet: "block", judge: func(v vars) bool {
		speed := v.n("speed") * v.n("scale")
		way := speed * v.n("delay")
		if v.text("law") == "decoder" {
			// From the top step to a stand in CV 4 times 0.896 s, and from a lower one in its share of that.
			way += speed * v.n("momentum") * 0.896 * v.n("speed") / v.n("top") / 2
		} else {
			way += v.n("speed") * v.n("speed") / (2 * v.n("deceleration")) * v.n("scale")
		}
		return over(v.n("train")+v.n("tail")+v.n("last"), v.n("block")) || over(v.n("brake")+way+v.n("last"), v.n("block")) || under(v.n("brake"), v.n("tail")) ||
			over(v.n("speed"), v.n("top"))
	}},
}
