package library_test

import "math"

// behind is the voltage after a bridge of two diodes of 0.7 V.
func behind(volts float64) float64 { return max(0, volts-1.4) }

// nextE24 is the least value of the series E24 that is not below a resistance.
func nextE24(ohms float64) float64 {
	for decade := 1.0; ; decade *= 10 {
		for _, v := range []float64{1, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2, 2.2, 2.4, 2.7, 3, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1} {
			if v*decade >= ohms*(1-1e-12) {
				return v * decade
			}
		}
	}
}

var huntedParts = []hunted{
	{sheet: "led", judge: func(v vars) bool {
		feed := v.text("feed")
		left := func(volts float64) float64 {
			switch feed {
			case "bridge":
				return behind(volts)
			case "smoothed AC":
				return behind(sine(volts))
			}
			return volts
		}
		usual, most := left(v.n("supply")), left(max(v.n("supply"), v.n("high")))
		keeps := v.n("count") * v.n("forward")
		ohms := nextE24(max(1, (usual-keeps)/v.n("current")))
		if !v.none("has") {
			ohms = v.n("has")
		}
		least := ohms * (1 - v.n("tolerance"))
		i := max(0, most-v.n("count")*max(0, v.n("forward")-v.n("within"))) / least
		// The resistor works in the lit half of the wave, and with a diode across the LED in the other half too.
		heat, back := i*i*least, 0.0
		if feed == "half wave" {
			heat, back = heat/2, most/v.n("count")
			if v.text("across") == "diode" {
				heat, back = heat+math.Pow(max(0, most-0.7), 2)/least/2, 0.7
			}
		}
		return !over(usual, keeps) || over(i, v.n("rated_current")) || over(back, v.n("reverse")) || over(v.n("times")*heat, v.n("fitted")) || under(usual-keeps, usual/5)
	}},
	{sheet: "lights", judge: func(v vars) bool {
		strings := math.Ceil(v.n("count")/v.n("in_series") - 1e-12)
		share := min(v.n("shared"), strings)
		supply, nominal, rated := v.n("supply"), v.n("nominal"), v.n("rated")
		i, across, inRow := 0.0, supply, 0.0 // of a string: its current, the volts on it, the resistor before it
		if v.text("kind") == "LEDs" {
			keeps := v.n("in_series") * v.n("forward")
			if !over(supply, keeps) || !over(nominal, keeps) {
				return true
			}
			own := max(1, (nominal-keeps)/rated)
			if v.yes("dimmed") {
				inRow = max(0, (supply-keeps)/(v.n("dim")*rated)-own)
			}
			i = (supply - keeps) / (own + inRow)
		} else {
			i = rated * math.Pow(supply/nominal, 0.55)
			cold := 10 * i * strings
			if v.yes("dimmed") && i > v.n("dim")*rated {
				i = v.n("dim") * rated
				across = nominal * math.Pow(v.n("dim"), 1/0.55)
				inRow = (supply - across) / i
			}
			if over(across, 0.9*nominal) || v.text("overload") == "cuts out" && over(cold, v.n("available")) {
				return true
			}
		}
		return over(i, 1.25*rated) || over(1.25*strings*i, v.n("available")) || over(v.n("times")*i*i*inRow*share, v.n("fitted"))
	}},
	{sheet: "divider", judge: func(v vars) bool {
		// The nodal equation of the output.
		out := v.n("supply") / v.n("upper") / (1/v.n("upper") + 1/v.n("lower") + 1/v.n("load"))
		drop := v.n("supply") - out
		return over(v.n("factor")*max(drop*drop/v.n("upper"), out*out/v.n("lower")), v.n("fitted")) || under(v.n("load"), 10*v.n("lower"))
	}},
	{sheet: "parallel", judge: func(v vars) bool {
		// However two parts make the resistance, the hotter has half of the heat at the least.
		u := v.n("across")
		return over(v.n("factor")*u*u/(v.n("wanted")*(1+v.n("allowed")))/2, v.n("fitted"))
	}},
	{sheet: "hold_up", judge: holdUpUnsafe},
	{sheet: "coil", judge: func(v vars) bool {
		volts, most := behind(v.n("supply")), behind(v.n("supply"))
		if v.text("feed") == "AC" {
			volts, most = behind(sine(v.n("supply"))), sine(v.n("supply"))*(1+v.n("no_load"))*(1+v.n("mains"))
		}
		c := v.n("capacitance") * (1 - v.n("short_of"))
		wire := copperRun(v.n("length"), v.n("wire"), 1.16, 303.15) + v.n("joints")*0.005
		coils := v.n("coil") / v.n("coils")
		each := func(volts float64) float64 { // energy of one coil from the unit at that voltage
			i := volts / (coils + wire) // at first; it dies away with C and the resistance
			return i * i * (coils + wire) * c / 2 * coils / v.n("coils")
		}
		then := volts * (1 - math.Exp(-v.n("patience")/(v.n("resistor")*c)))
		stuck := most / (v.n("resistor") + v.n("coil"))
		return under(each(volts), v.n("wanted")) || under(each(then), v.n("wanted")*(1-1e-9)) || over(stuck*stuck*v.n("coil"), 1) || over(v.n("factor")*stuck*stuck*v.n("resistor"), v.n("fitted")) ||
			over(most, v.n("rated")) || over(volts/(coils+wire), v.n("contact"))
	}},
	{sheet: "snubber", judge: func(v vars) bool {
		u, r, c, half := v.n("track"), v.n("resistor"), v.n("capacitance"), 1/v.n("frequency")/2
		// In a steady swing the resistor starts each half period with the same voltage across it.
		start := 2 * u / (1 + math.Exp(-half/(r*c)))
		heat := start * start / r * (r * c / 2) * -math.Expm1(-2*half/(r*c)) / half
		energy := v.n("inductance") * v.n("length") * v.n("broken") * v.n("broken") / 2
		to := math.Sqrt(u*u + 2*energy/v.n("decoders"))
		return over(v.n("factor")*heat, v.n("fitted")) || over(2*u, v.n("rated")) || v.text("place") == "behind a detector" || over(to, v.n("stands"))
	}},
	{sheet: "battery", judge: func(v vars) bool {
		share := map[string]float64{"lithium": 0.8, "lead": 0.5, "nickel": 0.8, "iron phosphate": 0.9, "alkaline": 0.7}[v.text("kind")]
		one := map[string]float64{"lithium": 3.7, "lead": 2, "nickel": 1.2, "iron phosphate": 3.2, "alkaline": 1.2}[v.text("kind")]
		i := v.n("current")
		if v.text("load") == "power" {
			i = v.n("power") / v.n("efficiency") / v.n("volts")
		}
		fits := false
		for n := 1.0; n <= 60; n++ {
			fits = fits || !over(math.Abs(v.n("volts")-n*one), v.n("volts")/10)
		}
		return over(max(i, v.n("peak")), v.n("limit")) || v.text("cut_off") == "none" || under(v.n("capacity")*share*v.n("aged")*v.n("cold"), i*v.n("session")) ||
			over(i*v.n("internal"), v.n("volts")/10) || !fits
	}},
	{sheet: "motor", judge: func(v vars) bool {
		return over(v.n("motors")*behind(v.n("track"))/v.n("armature"), v.n("peak")) || over(2*v.n("motors")*v.n("running"), v.n("decoder"))
	}},
}

// holdUpUnsafe empties the stack in small steps of its voltage.
func holdUpUnsafe(v vars) bool {
	full, most := behind(v.n("track")), behind(max(v.n("track"), v.n("high")))
	n, spread := v.n("cells"), v.n("short_of")
	// Cells in a row take the same charge: one small cell among large ones takes the most volts.
	worst := most / n
	if !v.yes("balancing") {
		worst = most / (1 - spread) / (1/(1-spread) + (n-1)/(1+spread))
	}
	inside := n * v.n("inside")
	run := func(volts, farads float64, steps int) float64 { // time from there to the least, negative if it never starts
		if v.text("load") == "current" {
			i := v.n("current")
			return farads * (volts - v.n("diode") - i*inside - v.n("least")) / i
		}
		end := v.n("least") + v.n("diode") + v.n("power")/v.n("least")*inside
		at := func(u float64) float64 { // current at that voltage of the stack
			e := u - v.n("diode")
			if inside == 0 {
				return v.n("power") / e
			}
			return (e - math.Sqrt(max(0, e*e-4*inside*v.n("power")))) / (2 * inside)
		}
		if volts <= end {
			return -1
		}
		t, du := 0.0, (volts-end)/float64(steps)
		for k := range steps {
			t += farads * du / at(end+(float64(k)+0.5)*du)
		}
		return t
	}
	near := v.n("speed") * run(full, v.n("cell")/n*(1-spread), 200)
	far := v.n("speed") * run(most, v.n("cell")/n*(1+spread), 200)
	return over(worst, v.n("cell_volts")) || near <= -1e-9 || under(near, v.n("dead")*(1-1e-5)) || over(far, v.n("allowed")*(1+1e-5)) || over(most*most/v.n("resistor"), v.n("fitted")) ||
		over(2*most*most/v.n("bleed"), v.n("bleed_fitted"))
}
