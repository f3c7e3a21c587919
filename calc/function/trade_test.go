package function

import (
	"math"
	"testing"
)

func TestPreferred(t *testing.T) {
	const e = "IEC 60063:2015"
	check(t, []row{
		{"preferred", in("2120 ohm", "24"), "2200 ohm", e}, {"preferred_up", in("2120 ohm", "24"), "2200 ohm", e}, {"preferred_down", in("2120 ohm", "24"), "2000 ohm", e},
		{"preferred", in("2090 ohm", "24"), "2000 ohm", e}, {"preferred", in("2100 ohm", "24"), "2200 ohm", "as near: the larger"},
		{"preferred", in("2650 ohm", "24"), "2700 ohm", "2.7, not the 2.6 of the formula"}, {"preferred_down", in("4.6 kohm", "24"), "4.3 kohm", e},
		{"preferred_up", in("9.2 kohm", "24"), "10 kohm", "into the next decade"}, {"preferred", in("9.7 kohm", "24"), "10 kohm", e}, {"preferred_up", in("83 ohm", "12"), "100 ohm", e},
		{"preferred", in("3.5 kohm", "3"), "4.7 kohm", e}, {"preferred", in("3.4 kohm", "3"), "2.2 kohm", e}, {"preferred", in("5 kohm", "6"), "4.7 kohm", e},
		{"preferred", in("2120 ohm", "48"), "2150 ohm", e}, {"preferred", in("2120 ohm", "96"), "2100 ohm", e}, {"preferred", in("919 ohm", "192"), "920 ohm", "9.20, not 9.19"},
		{"preferred_up", in("1 kohm", "24"), "1 kohm", "itself"}, {"preferred_down", in("1 kohm", "24"), "1 kohm", ""}, {"preferred", in("1000 ohm", "3"), "1000 ohm", ""},
		{"preferred_up", in("=2200.0000000000005 ohm", "24"), "2200 ohm", "itself but for rounding"}, {"preferred_down", in("=2199.9999999999995 ohm", "24"), "2200 ohm", ""},
		{"preferred_up", in("4.5 nF", "12"), "4.7 nF", e}, {"preferred", in("90 uH", "6"), "100 uH", e}, {"preferred", in("0.46 ohm", "24"), "0.47 ohm", e},
		{"preferred", in("=0 ohm", "24"), "fault: not defined", ""}, {"preferred", in("-5 ohm", "24"), "fault: not defined", ""}, {"preferred", in("5 ohm", "=25"), "fault: not defined", ""},
		{"preferred", in("[1.9 kohm, 5 ohm]", "12"), "1.8 kohm | 4.7 ohm", ""},
	})
	refuse(t, []refusal{
		{"preferred", in("2120", "24"), 0, "preferred values are for resistances, capacitances and inductances, not for a plain number", "`preferred(2120 ohm, 24)`"},
		{"preferred_up", in("3 in", "24"), 0, "not for a length (m)", ""},
		{"preferred", in("5 ohm", "25"), 1, "there is no series of 25 preferred values", "3, 6, 12, 24, 48, 96 and 192"},
		{"preferred", in("5 ohm", "24 ohm"), 1, "preferred takes a plain number, not a resistance", ""},
		{"preferred", in("5 ohm"), -1, "preferred takes two values and is given one", "`preferred(r, series)`"},
	})
}

// Every preferred value is its own nearest, next up and next down, and exactly
// the number that is written for it.
func TestPreferredOfPreferred(t *testing.T) {
	w := &World{Data: shelf}
	for _, name := range []string{"preferred", "preferred_up", "preferred_down"} {
		kernel := Find(name).Two
		for _, n := range series {
			for _, v := range members(int(n)) {
				for e := -12; e <= 9; e++ {
					written := decimal(v, e)
					if got, fault := kernel(w, written, n); got != written || fault != Sound {
						t.Errorf("%s(%g, %g) is %g (%s)", name, written, n, got, fault.Words())
					}
				}
			}
		}
	}
	if decimal(4.7, -9) != 4.7e-9 || decimal(2.2, 3) != 2200 || decimal(9.2, -1) != 0.92 {
		t.Error("a preferred value is not the number written for it")
	}
}

func TestParallel(t *testing.T) {
	check(t, []row{
		{"parallel", in("36 ohm", "50 ohm", "700 ohm"), "~20.32 ohm", "TRADE, parallel: 20.3"},
		{"parallel", in("3 ohm", "6 ohm"), "2 ohm", ""}, {"parallel", in("10 ohm", "10 ohm"), "5 ohm", ""}, {"parallel", in("0", "10 ohm"), "0 ohm", "a short"},
		{"parallel", in("[4 ohm, 12 ohm]", "4 ohm"), "2 ohm | 3 ohm", "row by row"}, {"parallel", in("=-4 ohm", "4 ohm"), "fault: not defined", ""},
		{"parallel", in("3 uF", "6 uF"), "9 uF", "capacitors side by side add up"}, {"series", in("3 uF", "6 uF"), "2 uF", "and in a row do not"},
		{"parallel", in("3 uH", "6 uH"), "2 uH", ""}, {"series", in("3 uH", "6 uH"), "9 uH", ""}, {"series", in("3 ohm", "0", "6 ohm"), "9 ohm", ""},
		{"parallel", in("=1e308 ohm", "=1e-300 ohm"), "1e-300 ohm", ""}, {"parallel", in("=1e308 ohm", "=1e308 ohm"), "5e307 ohm", ""},
	})
	refuse(t, []refusal{
		{"parallel", in("3 uF", "6 ohm"), 1, "parts of one kind", ""},
		{"series", in("3 uF", "6 V"), 1, "series takes resistances, capacitances or inductances, not a voltage (V)", ""},
		{"parallel", in("[3 uF]"), -1, "two values or more", "`sum(a)`"},
		{"parallel", in("3 ohm", "6"), 1, "not a plain number", "`6 ohm`"},
		{"parallel", in("[3 ohm]"), -1, "two values or more", "`1 / sum(1 / a)`"},
		{"parallel", in("3 ohm"), -1, "two values or more", "`parallel(a, b, …)`"},
	})
}

func TestGauge(t *testing.T) {
	check(t, []row{
		{"gauge", in("0.5 mm2", "'AWG'"), "'AWG 20 (0.5176 mm2)'", "0.127 mm * 92^((36 - 20)/39) across"},
		{"gauge", in("2 mm2", "'AWG'"), "'AWG 14 (2.081 mm2)'", ""},
		{"gauge", in("1.4 mm2", "'AWG'"), "'AWG 16 (1.309 mm2), next thicker AWG 15 (1.65 mm2)'", "derived"},
		{"gauge", in("0.39 mm2", "'SWG'"), "'SWG 22 (0.3973 mm2)'", "0.028 in across"},
		{"gauge", in("200 mm2", "'AWG'"), "fault: no row", "thicker than any"},
	})
	refuse(t, []refusal{
		{"gauge", in("0.8 mm", "'AWG'"), 0, "not a length (m)", "`gauge(pi / 4 * (0.8 mm)^2, \"AWG\")`"},
		{"gauge", in("1 mm2", "'awg'"), 1, "AWG and SWG", "`\"AWG\"`"},
	})
}

func TestBands(t *testing.T) {
	const i = "IEC 60062:2016 Table 1"
	check(t, []row{
		{"bands", in("4.7 kohm"), "'yellow violet red gold'", i}, {"bands", in("3.3 kohm"), "'orange orange red gold'", i}, {"bands", in("10 kohm"), "'brown black orange gold'", i},
		{"bands", in("470 ohm"), "'yellow violet brown gold'", i}, {"bands", in("4.7 ohm"), "'yellow violet gold gold'", i}, {"bands", in("0.47 ohm"), "'yellow violet silver gold'", i},
		{"bands", in("0.047 ohm"), "'yellow violet pink gold'", i}, {"bands", in("1 ohm"), "'brown black gold gold'", i}, {"bands", in("99 Gohm"), "'white white white gold'", i},
		{"bands", in("2.15 kohm"), "'red brown green brown brown'", "three figures"}, {"bands", in("100 ohm"), "'brown black brown gold'", i},
		{"bands", in("68 ohm", "10 %"), "'blue grey black silver'", i}, {"bands", in("3.32 kohm", "0.1 %"), "'orange orange red brown violet'", i},
		{"bands", in("4.7 kohm", "20 %"), "'yellow violet red'", "no fourth band"}, {"bands", in("2.15 kohm", "20 %"), "fault: coloured bands", "would be read as two figures"},
		{"bands", in("4.7 kohm", "3 %"), "fault: coloured bands", ""}, {"bands", in("2.155 kohm"), "fault: coloured bands", "four figures"},
		{"bands", in("-5 ohm"), "fault: not defined", ""},
		{"bands", in("=0 ohm"), "'black'", "a link; common practice, no source"},
		{"bands", in("1e12 ohm"), "fault: coloured bands", "beyond white"}, {"bands", in("[1 kohm, 2.2 kohm]"), "'brown black red gold' | 'red red red gold'", ""},
	})
	refuse(t, []refusal{
		{"bands", in("4700"), 0, "bands takes a resistance, not a plain number", "`bands(4700 ohm)`"},
		{"bands", in("'red red red'"), 0, "not a text", "`resistor(\"red red red\")`"},
		{"bands", in("5 ohm", "5"), 1, "a tolerance of 5 is 5 times the whole", "`5 %`"},
		{"bands", in("5 ohm", "5 ohm"), 1, "a plain number, not a resistance", ""},
	})
}

func TestResistor(t *testing.T) {
	const liec = "Lessons in Electric Circuits vol V, colour codes, examples 1 to 6"
	const i = "text examples of IEC 60062"
	rows := []struct {
		bands     string
		ohms      string
		tolerance float64 // per cent
		source    string
	}{
		{"yellow violet orange gold", "47000 ohm", 5, liec}, {"green red gold silver", "5.2 ohm", 10, liec}, {"white violet black", "97 ohm", 20, liec}, {"white violet black none", "97 ohm", 20, liec},
		{"orange orange black brown violet", "3300 ohm", 0.1, liec}, {"brown green grey silver red", "1.58 ohm", 2, liec}, {"blue brown green silver blue", "6.15 ohm", 0.25, liec},
		{"green blue brown brown", "560 ohm", 1, i}, {"red red orange gold", "22000 ohm", 5, i}, {"yellow violet brown gold", "470 ohm", 5, i}, {"blue grey black silver", "68 ohm", 10, i},
		{"brown black orange gold", "10000 ohm", 5, i}, {"yellow violet red gold", "4700 ohm", 5, i}, {"brown black red gold", "1000 ohm", 5, i}, {"brown black black gold brown", "10 ohm", 1, i},
		{"Blue GRAY  black silver", "68 ohm", 10, "either spelling"}, {"orange orange black brown violet red", "3300 ohm", 0.1, "the sixth is the drift"},
	}
	f := Find("resistor")
	for _, r := range rows {
		c := newCall(f, in("'"+r.bands+"'"))
		check(t, []row{{"resistor", c.texts, r.ohms, r.source}})
		if got, ok := f.ToleranceOf(shelf, c.args); !ok || math.Abs(got*100-r.tolerance) > 1e-12 {
			t.Errorf("%s has the tolerance %g %v, want %g %% (%s)", c, got, ok, r.tolerance, r.source)
		}
	}
	check(t, []row{
		{"resistor", in("'black'"), "0 ohm", "a link; common practice, no source"},
		{"resistor", in("'gold red violet yellow'"), "fault: in this order", "read from the wrong end"}, {"resistor", in("'red red mauve gold'"), "fault: bands", ""},
		{"resistor", in("'red red red black'"), "fault: bands", "black is no tolerance"}, {"resistor", in("'red'"), "fault: bands", ""}, {"resistor", in("='red red'"), "fault: bands", ""},
		{"resistor", in("='yellow violet red gold'"), "4700 ohm", "a name of a text"},
	})
	refuse(t, []refusal{
		{"resistor", in("'red red'"), 0, "a resistor has three to six bands, and here are two", "with blanks between"},
		{"resistor", in("''"), 0, "and here are none", "with blanks between"},
		{"resistor", in("4700 ohm"), 0, "resistor takes the colours of the bands as a text, not a resistance (ohm)", "`bands(4700 ohm)`"},
		{"resistor", in("4700"), 0, "not a plain number", "with blanks between"},
	})
	if _, ok := f.ToleranceOf(shelf, newCall(f, in("='red red red gold'")).args); ok {
		t.Error("the tolerance of a name is not known before it runs")
	}
}

// From a value to its bands and back.
func TestBandsAndBack(t *testing.T) {
	w := &World{Data: shelf, Interner: &interned{}}
	for _, n := range series[:6] {
		for _, v := range members(int(n)) {
			for e := -1; e <= 9; e++ {
				r := decimal(v, e)
				id, fault := Find("bands").Many(w, []float64{r})
				back, fault2 := Find("resistor").One(w, id)
				if fault != Sound || fault2 != Sound || back != r {
					t.Errorf("bands of %g are %q, which is %g", r, w.Text(id), back)
				}
			}
		}
	}
}

func TestMarked(t *testing.T) {
	const seen, memory = "IEC 60062:2016 clause 4", "IEC 60062:2016 clause 4, from memory"
	rows := []struct {
		text, value string
		tolerance   float64 // per cent, 0 if the marking does not say
		source      string
	}{
		{"R47", "0.47 ohm", 0, seen}, {"4R7", "4.7 ohm", 0, seen}, {"470R", "470 ohm", 0, seen}, {"4K7", "4700 ohm", 0, seen}, {"47K", "47000 ohm", 0, seen}, {"47K3", "47300 ohm", 0, seen},
		{"470K", "470000 ohm", 0, seen}, {"4M7", "4.7e6 ohm", 0, seen}, {"2K2", "2200 ohm", 0, seen}, {"1M0", "1e6 ohm", 0, seen},
		{"L47", "0.00047 ohm", 0, memory}, {"R10", "0.1 ohm", 0, memory}, {"1K0", "1000 ohm", 0, memory}, {"5K9", "5900 ohm", 0, memory}, {"10K", "10000 ohm", 0, memory}, {"6M8", "6.8e6 ohm", 0, memory}, {"1G0", "1e9 ohm", 0, memory},
		{"p33", "0.33e-12 F", 0, memory}, {"3p3", "3.3e-12 F", 0, memory}, {"33p", "33e-12 F", 0, memory}, {"n10", "0.1e-9 F", 0, memory}, {"4n7", "4.7e-9 F", 0, memory}, {"22n", "22e-9 F", 0, memory},
		{"u10", "0.1e-6 F", 0, memory}, {"µ10", "0.1e-6 F", 0, memory}, {"2u2", "2.2e-6 F", 0, memory}, {"2μ2", "2.2e-6 F", 0, memory}, {"470u", "470e-6 F", 0, memory}, {"1m0", "1e-3 F", 0, memory}, {"1F0", "1 F", 0, memory}, {"1F", "1 F", 0, memory},
		{"4K7J", "4700 ohm", 5, memory}, {"100RJ", "100 ohm", 5, memory}, {"47KM", "47000 ohm", 20, memory}, {"2R2K", "2.2 ohm", 10, memory}, {"15K8F", "15800 ohm", 1, memory}, {"1M0L", "1e6 ohm", 0.01, memory},
		{" 4k7 ", "4700 ohm", 0, "as often printed"}, {"100nK", "100e-9 F", 10, memory},
		{"104", "100e-9 F", 0, "LANGUAGE, wanted 2"}, {"473", "47e-9 F", 0, "three figures, from memory"}, {"101", "100e-12 F", 0, "three figures, from memory"}, {"470", "47e-12 F", 0, "three figures, from memory"},
		{"107", "100e-6 F", 0, "three figures, from memory"}, {"229", "2.2e-12 F", 0, "three figures, from memory: 9 is a tenth"}, {"478", "0.47e-12 F", 0, "three figures, from memory: 8 is a hundredth"},
		{"104J", "100e-9 F", 5, memory}, {"3p3C", "3.3e-12 F", 100 * 0.25 / 3.3, "below 10 pF the letter is in pF, from memory"}, {"33pC", "33e-12 F", 0.25, memory},
	}
	f := Find("marked")
	for _, r := range rows {
		c := newCall(f, in("'"+r.text+"'"))
		check(t, []row{{"marked", c.texts, r.value, r.source}})
		got, ok := f.ToleranceOf(nil, c.args)
		if ok != (r.tolerance > 0) || math.Abs(got*100-r.tolerance) > 1e-12 {
			t.Errorf("%s has the tolerance %g %v, want %g %% (%s)", c, got, ok, r.tolerance, r.source)
		}
	}
	refuse(t, []refusal{
		{"marked", in("='4K7'"), 0, "marked reads a text in double quotes", "`marked(\"4K7J\")`"},
		{"marked", in("104"), 0, "marked reads a text in double quotes", "`marked(\"104\")`"},
		{"marked", in("'104K'"), 0, "104K may be 104 kohm, or a capacitor marked 104 with a tolerance of 10 %", "write `104 kohm`, or `marked(\"104\")`"},
		{"marked", in("'100F'"), 0, "100F may be 100 F, or a capacitor marked 100 with a tolerance of 1 %", "`100 F`"},
		{"marked", in("'100nF'"), 0, "the F of 100nF may be farads, or a tolerance of 1 %", "`marked(\"100n\")`"},
		{"marked", in("'4702'"), 0, "4702 does not say of what", "`47000 ohm`"},
		{"marked", in("'47'"), 0, "47 does not say of what", "`47 ohm` or `47 pF`"},
		{"marked", in("'000'"), 0, "000 is nothing", "`0 ohm`"},
		{"marked", in("'4K7Z'"), 0, "\"Z\" is no letter for a tolerance", "`marked(\"4K7\")`"},
		{"marked", in("'4.7k'"), 0, "is no marking", "4K7J"}, {"marked", in("'K'"), 0, "is no marking", "4K7J"}, {"marked", in("''"), 0, "is no marking", "4K7J"},
		{"marked", in("'4K7JJ'"), 0, "is no marking", "4K7J"}, {"marked", in("'12345R'"), 0, "is no marking", "4K7J"}, {"marked", in("'Ω'"), 0, "is no marking", "4K7J"}, {"marked", in("'4Kµ'"), 0, "is no letter", "4K"},
		{"marked", in("'1234567890123'"), 0, "is no marking", "4K7J"},
	})
}

func TestWires(t *testing.T) {
	const b258 = "ASTM B258, table to four figures of the diameter"
	const swg = "BS 3737:1964, area computed from the diameter in inches"
	check(t, []row{
		{"awg", in("-3"), "~107.2193 mm2", b258}, {"awg", in("-2"), "~85.02877 mm2", b258}, {"awg", in("-1"), "~67.43088 mm2", b258}, {"awg", in("0"), "~53.47512 mm2", b258},
		{"awg", in("10"), "~5.261 mm2", b258}, {"awg", in("12"), "~3.309 mm2", b258}, {"awg", in("16"), "~1.309 mm2", b258}, {"awg", in("18"), "~0.823 mm2", b258},
		{"awg", in("22"), "~0.3255 mm2", b258}, {"awg", in("24"), "~0.2047 mm2", b258}, {"awg", in("30"), "~0.05093 mm2", b258}, {"awg", in("40"), "~0.005010361 mm2", b258},
		{"awg", in("18"), "~1624 cmil", "Lessons in Electric Circuits vol I, wire table: 1624 cmil"}, {"awg", in("10"), "~10380 cmil", "the same: 10380 cmil"},
		{"awg", in("36"), "25 cmil", "by definition 0.005 in"}, {"awg", in("-3"), "211600 cmil", "by definition 0.46 in"},
		{"awg", in("=18.5"), "fault: not defined", ""}, {"awg", in("=-4"), "fault: not defined", ""}, {"awg", in("=57"), "fault: not defined", ""},
		{"swg", in("-6"), "~126.67687 mm2", swg}, {"swg", in("0"), "~53.19212 mm2", swg}, {"swg", in("1"), "~45.60367 mm2", swg}, {"swg", in("18"), "~1.1675 mm2", swg}, {"swg", in("50"), "1 cmil", "0.001 in"},
		{"swg", in("=18.5"), "fault: no row", ""}, {"swg", in("=60"), "fault: no row", ""},
	})
	refuse(t, []refusal{
		{"awg", in("5/0"), 0, "awg has no gauge 5 / 0", "from `awg(4/0)`"}, {"swg", in("8/0"), 0, "swg has no gauge 8 / 0", "from `swg(7/0)`"},
		{"awg", in("18.5"), 0, "awg has no gauge 18.5", "from `awg(4/0)` to `awg(56)`"}, {"awg", in("-4"), 0, "awg has no gauge -4", "from `awg(4/0)`"}, {"swg", in("51"), 0, "swg has no gauge 51", "from `swg(7/0)` to `swg(50)`"},
		{"awg", in("'18'"), 0, "awg takes a plain number, not a text", "`awg(18)`"},
		{"awg", in("=1.5 mm2"), 0, "awg takes a plain number, not an area (m2)", "`awg(a / 1 m2)`"},
	})
}

func TestScale(t *testing.T) {
	check(t, []row{
		{"full_size", in("287 mm", "=0.011494252873563218"), "24.969 m", "NEM 010: H0 is 1:87"},
		{"full_size", in("3 m", "=0.00625"), "480 m", "NEM 010: N is 1:160"},
		{"full_size", in("2 cm2", "=0.01"), "2 m2", "an area by the square"}, {"full_size", in("5 cm3", "=0.01"), "5 m3", "a volume by the cube"},
		{"full_size", in("0.25 m/s", "=0.01"), "25 m/s", "time is not scaled"}, {"full_size", in("0.1 m/s2", "=0.1"), "1 m/s2", ""},
		{"full_size", in("3 m", "=0"), "fault: division by nothing", ""}, {"full_size", in("3 m", "=-0.1"), "fault: not defined", ""}, {"full_size", in("3 m", "1"), "3 m", ""},
		{"full_size", in("[1 m, 2 m]", "=0.5"), "2 m | 4 m", ""}, {"full_size", in("1 m3", "=1e-200"), "fault: too large", ""},
	})
	refuse(t, []refusal{
		{"full_size", in("3 V", "=0.1"), 0, "a voltage (V) has no full size", "only lengths, areas, volumes, speeds and accelerations"},
		{"full_size", in("3 s", "=0.1"), 0, "a time (s) has no full size", "only lengths"},
		{"full_size", in("3", "=0.1"), 0, "a plain number has no full size", "only lengths"},
		{"full_size", in("20 degC", "=0.1"), 0, "a temperature (degC) has no full size", "only lengths"},
		{"full_size", in("3 m", "87"), 1, "a scale of 87 would be larger than life", "`1:87`"},
		{"full_size", in("3 m", "=3 m"), 1, "a length (m) is no scale", "1:87"},
		{"full_size", in("3 m", "'H0'"), 1, "a text is no scale", "scale_H0"},
	})
	for unit, want := range map[string]int{"m": 1, "mm2": 2, "L": 3, "km/h": 1, "m/s2": 1, "V": 0, "s": 0, "1/m": 0, "m3/s": 0, "kg": 0, "N": 0, "ohm/m": 0} {
		if got, ok := ScalePower(dimOf(unit)); got != want || ok != (want > 0) {
			t.Errorf("the scale power of %s is %d %v, want %d", unit, got, ok, want)
		}
	}
}
