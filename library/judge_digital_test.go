package library_test

import "math"

var huntedDigital = []hunted{
	{sheet: "packets", extra: []drawn{{"b1", "", -3, 260, true}, {"b2", "", -3, 260, true}, {"b3", "", -3, 260, true}},
		lines: "table sent | value\n  one | b1\n  two | b2\n  three | b3\nend\n", with: "x.bytes = sent\n", judge: packetsUnsafe},
	{sheet: "address", judge: func(v vars) bool {
		a, long := int(v.n("address")), v.text("kind") == "long"
		if long && (a > 10239 || a < 128) || !long && (a < 1 || a > 99) {
			return true
		}
		if !v.yes("read_back") {
			return false
		}
		byte29 := int(v.n("read_29"))
		is := func(bit int, want bool) bool { return byte29>>bit&1 == 1 == want }
		return !(is(0, v.yes("reversed")) && is(1, v.n("speed_steps") != 14) && is(2, v.yes("conversion")) && is(3, v.yes("replies")) && is(4, v.yes("curved")) && is(5, long) && is(7, false)) ||
			long && (int(v.n("read_17")) != 192|a>>8 || int(v.n("read_18")) != a&255)
	}},
	{sheet: "turnout", judge: func(v vars) bool {
		decoder := (int(v.n("number"))-1)/4 + 1
		if v.text("convention") == "B" {
			decoder--
		}
		return v.text("convention") == "not stated" || decoder > 510 // 511 is the broadcast address
	}},
	{sheet: "districts", extra: []drawn{
		{"t1", "", 0, 5, true}, {"t2", "", 0, 5, true}, {"t3", "", 0, 5, true}, {"d1", "A", 0.1, 1, false}, {"d2", "A", 0.1, 1, false}, {"d3", "A", 0.1, 1, false},
		{"s1", "A", 0, 1, false}, {"s2", "A", 0, 1, false}, {"c1", "", 0, 12, true}, {"c3", "", 0, 12, true}, {"r1", "A", 1, 8, false}, {"r2", "A", 1, 8, false}, {"p1", "A", 1, 9, false}, {"p2", "A", 1, 9, false}},
		lines: "table line | booster | trains | draw as A | standing as A | capacitors\n  a | \"w\" | t1 | d1 | s1 | c1\n  b | \"w\" | t2 | d2 | s2 | 0\n  c | \"e\" | t3 | d3 | 0 | c3\nend\n" +
			"table works | rating as A | trip as A\n  w | r1 | p1\n  e | r2 | p2\nend\n",
		with: "x.sections = line\nx.boosters = works\n",
		judge: func(v vars) bool {
			load := func(t, d string) float64 { return v.n(t) * v.n(d) }
			west, east := load("t1", "d1")+v.n("s1")+load("t2", "d2")+v.n("s2"), load("t3", "d3")
			stall := func(at float64, t, d string) float64 {
				if v.n(t) < 1 {
					return at
				}
				return max(at, at-v.n(d)+v.n("stall")) // one of its engines stands still
			}
			again := v.n("track") / v.n("charging")
			limited := 100.0
			if v.n("track") <= 20 {
				limited = 5 * v.n("track")
			}
			return over(west, v.n("r1")*(1-v.n("reserve"))) || over(east, v.n("r2")*(1-v.n("reserve"))) ||
				over(max(stall(west, "t1", "d1"), stall(west, "t2", "d2")), v.n("p1")) || over(stall(east, "t3", "d3"), v.n("p2")) ||
				over(west+v.n("c1")*again, v.n("p1")) || over(east+v.n("c3")*again, v.n("p2")) || v.n("borders") > 0 && !(v.yes("in_step") && v.yes("reference")) ||
				over(v.n("track")*max(v.n("p1"), v.n("p2")), limited) && !v.yes("fused")
		}},
}

// packetsUnsafe sends the round bit by bit.
func packetsUnsafe(v vars) bool {
	sent := []int{int(v.n("b1")), int(v.n("b2")), int(v.n("b3"))}
	lasts := func(bytes []int) float64 {
		ones, zeros, check := int(v.n("preamble"))+1, 0, 0
		for _, b := range bytes {
			check ^= b
		}
		for _, b := range append(bytes, check) {
			zeros++
			for bit := range 8 {
				if b>>bit&1 == 1 {
					ones++
				} else {
					zeros++
				}
			}
		}
		return 2*v.n("one")*float64(ones) + 2*v.n("zero")*float64(zeros) + v.n("cutout")
	}
	for _, b := range sent {
		if b < 0 || b > 255 {
			return true
		}
	}
	one, zero := v.n("one"), v.n("zero")
	packet, idle := lasts(sent), lasts([]int{255, 0})
	round := packet * v.n("engines")
	for wait := packet * (v.n("engines") - 1); under(wait, 0.005); wait += idle {
		round += idle
	}
	return over(v.n("per_engine")*round, v.n("wanted")) || over(packet, 0.030) || v.n("preamble") < 14 || under(one, 55e-6) || over(one, 61e-6) || under(zero, 95e-6) || over(zero, 9900e-6) ||
		over(2*zero, 12e-3) || math.IsNaN(round)
}
