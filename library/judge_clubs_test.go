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
			if over(v.n("split")/v.n("ring")+v.n("aim"), v.n("clear_of")) {
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
		// After the pause, from nothing, the input must still be below what surely reads as occupied.
		if after := -math.Expm1(-pause * v.n("margin") / fast); over(after, v.n("low")) {
			return true
		}
		// By the time allowed it must be above what surely reads as free.
		if after := -math.Expm1(-v.n("late") / slow); under(after, v.n("high")) {
			return true
		}
		closed := v.n("series") / (v.n("series") + v.n("pull_up"))
		return over(v.n("logic")/max(v.n("series"), 0.1), v.n("contact")) || over(2*closed, v.n("low")) || under(v.n("logic")/(v.n("series")+v.n("pull_up")), v.n("wetting"))
	}},
}
