package hear

// A rule hears one way of saying something. Of a line in which it hears nothing
// it gives nil; else every way to hear it.
type rule struct {
	name    string // what it hears
	takes   [][2]string
	refuses []string // lines that are not answered because of it
	hear    func(e *Ear, c cand) []cand
}

// rules is the table, in the order in which they hear: what belongs to a number
// before what stands between numbers, and that before the end of the line. The
// examples of takes are what is heard and as what.
func rules() []rule { return table }

var table []rule

func init() { // the rules use the table's own reader
	table = []rule{
		{
			name: "how a value came about",
			takes: [][2]string{{"a = 12 V / 3 ohm ; why a", "working a"}, {"a = 12 V ; how is a worked out", "working a"},
				{"use drop for quay ; show me the working of quay.lost", "working quay.lost"}},
			refuses: []string{"why", "how is a worked out", "a = 12 V ; how much is a b", "a = 12 V ; b = 3 V ; why a b"},
			hear:    why,
		},
		{
			name: "words around a question",
			takes: [][2]string{{"what is 12 V / 470 ohm", "12 V / 470 ohm"}, {"12 V * 2 A =", "12 V * 2 A"},
				{"how much is 3 * 4 V?", "3 * 4 V"},
				{"how many mm in 3/8 in", "3/8 in as mm"}, {"how many inches is 457 mm", "457 mm as in"}},
			refuses: []string{"x =", "how many mm in", "what is"},
			hear:    around,
		},
		{
			name: "a unit asked for behind a sign of equality",
			takes: [][2]string{{"32 in=?mm", "32 in as mm"}, {"10 ft = how many m", "10 ft as m"},
				{"12 V / 4 ohm = mA", "12 V / 4 ohm as mA"}},
			refuses: []string{"x = mm", "12 V = ? ohm"},
			hear:    equals,
		},
		{
			name: "numbers in words",
			takes: [][2]string{{"one inch in mm", "1 in as mm"}, {"half of 2.4 m", "50 % of 2.4 m"},
				{"a quarter of 12 V", "25 % of 12 V"}, {"half an inch in mm", "0.5 in as mm"},
				{"what is a foot in mm", "1 ft as mm"}},
			refuses: []string{"one in 40", "half wave", "half of", "a m"},
			hear:    figures,
		},
		{
			name: "signs in words",
			takes: [][2]string{{"12 V over 560 ohms", "12 V / 560 ohm"}, {"9 V minus 1.7 V", "9 V - 1.7 V"},
				{"2 m plus 30 cm", "2 m + 30 cm"}, {"12 V divided by 4", "12 V / 4"},
				{"3 multiplied by 2 A", "3 * 2 A"}, {"12 V less 0.7 V", "12 V - 0.7 V"}},
			refuses: []string{"9 volts minus 1.7 volts over 15 mA", "3 A over 12 m", "15 V less 10 %", "1 A over 3 hours",
				"80 mm over 3.5 m"},
			hear: signs,
		},
		{
			name: "functions in words",
			takes: [][2]string{{"square root of 2", "sqrt(2)"},
				{"the square root of (16 V * 1 V) in mV", "sqrt((16 V * 1 V)) as mV"}, {"root of 9 m2", "sqrt(9 m2)"}},
			refuses: []string{"square root of 16 * 4", "square root of"},
			hear:    functions,
		},
		{
			name: "in a row and side by side, in words",
			takes: [][2]string{{"10k and 4k7 in series", "series(10k, 4k7)"},
				{"5 x 10k in parallel", "parallel(10k, 10k, 10k, 10k, 10k)"},
				{"1k, 2k2 and 3k3 in parallel", "parallel(1k, 2k2, 3k3)"}, {"3 100 ohm resistors in series", "series(100 ohm, 100 ohm, 100 ohm)"}},
			refuses: []string{"10k and 100 nF in series", "3 x 1.5 V in parallel", "10k in parallel",
				"two resistors side by side"},
			hear: together,
		},
		{
			name: "a scale by its foot, or as a fraction",
			takes: [][2]string{{"40 ft in 4 mm scale", "40 ft at 1:76.2"},
				{"60 mph at 1/87 in mm/s", "60 mph at 1:87 as mm/s"}},
			refuses: []string{"4 mm scale", "40 ft 4 mm scale", "12 V at 1/87"},
			hear:    footScales,
		},
		{
			name:    "a measure of full size",
			takes:   [][2]string{{"25 scale feet in N", "25 ft at N"}, {"60 scale mph in H0 in mm/s", "60 mph at H0 as mm/s"}},
			refuses: []string{"25 scale feet", "12 scale V in N", "25 scale feet N"},
			hear:    prototypes,
		},
		{
			name: "colours of bands",
			takes: [][2]string{{"brown black red gold", `resistor("brown black red gold")`}, {"Gray, red, brown, silver", `resistor("grey red brown silver")`}, {"yellow-purple-orange", `resistor("yellow violet orange")`},
				{"gold red black brown", `resistor("brown black red gold")`}},
			refuses: []string{"brown black black brown brown", "red red brown brown", "brown black"},
			hear:    bands,
		},
		{
			name: "decimal comma",
			takes: [][2]string{{"14,5 V * 2 A", "14.5 V * 2 A"}, {"0,125 W / 5 V", "0.125 W / 5 V"},
				{"(15,5 V - 0,7 V) / 3k3", "(15.5 V - 0.7 V) / 3k3"}, {"3,1416 * 2 m", "3.1416 * 2 m"}},
			refuses: []string{"1,500 ohm * 2 mA", "1.500,5 mm", "1,500.5 mm", "1.500 mm + 2,5 mm", "1,500,000 ohm",
				"sqrt(2,25)"},
			hear: commas,
		},
		{
			name:    "marks of feet and inches",
			takes:   [][2]string{{`30' 6"`, "30 ft 6 in"}, {`5' 6`, "5 ft 6 in"}, {"6' 2 in", "6 ft 2 in"}, {`3/4"`, "3/4 in"}, {"3-1/2 in", "3 1/2 in"}, {"1/3 in", "(1 in / 3)"}, {`2 2/3"`, "(8 in / 3)"}},
			refuses: []string{`5'-6"`, `30' + 2°`, `30' * 2 A`, `10' 30" + 2 h`, `5' 16/3"`},
			hear:    marks,
		},
		{
			name:    "gauges of wire",
			takes:   [][2]string{{"18 AWG", "awg(18)"}, {"AWG 18", "awg(18)"}, {"14awg", "awg(14)"}, {"SWG 20", "swg(20)"}},
			refuses: []string{"18 gauge", "22 ga", "0 gauge", "00 gauge", "1 gauge", "N gauge"},
			hear:    gauges,
		},
		{
			name: "temperatures to be turned over",
			takes: [][2]string{{"70 F to C", "70 degF as degC"}, {"-40 °F in °C", "-40 degF as degC"},
				{"20 C to F", "20 degC as degF"}},
			refuses: []string{"20 c", "50 f", "70 F to C to F"},
			hear:    temperatures,
		},
		{
			name: "names of units",
			takes: [][2]string{{"12 volts * 2 Amps", "12 V * 2 A"}, {"0.5 ohms per metre * 3 metres", "0.5 ohm/m * 3 m"},
				{"10 uf * 2 V", "10 uF * 2 V"},
				{"sin(30 degrees)", "sin(30 deg)"}, {"20 degrees C", "20 degC"}, {"5 % of 12v", "5 % of 12 V"}, {"2600 mah", "2600 mAh"}, {"2 percent of 8 ft", "2 % of 8 ft"},
				{"4.7k ohms * 2 mA", "4.7k * 2 mA"}, {"3 Nm", "3 N*m"}},
			refuses: []string{"100 n", "10 k", "4.7 r", "10 mf", "100 mfd", "2 MA * 3 V", "20 degrees", "3 Mw", "5 pa", "3 MS",
				"2 NM", "4.7 Mohms", "3 kvlts"},
			hear: unitNames,
		},
		{
			name: "times",
			takes: [][2]string{{"14 V x 3 A", "14 V * 3 A"}, {"3 times 1.5 V", "3 * 1.5 V"}, {"14Vx3A", "14 V * 3 A"},
				{"20 cm x 30 cm", "20 cm * 30 cm"}},
			refuses: []string{"20 x 30 cm", "4 x 8 ft", "2x1.5 mm2", "20 cm x 30"},
			hear:    times,
		},
		{
			name: "side by side",
			takes: [][2]string{{"1k || 2k2", "parallel(1k, 2k2)"}, {"470 ohm parallel 1 kohm", "parallel(470 ohm, 1 kohm)"},
				{"1k || 2k || 3k", "parallel(1k, 2k, 3k)"}, {"1k//2k", "parallel(1k, 2k)"}, {"12 V / (1k || 1k)", "12 V / (parallel(1k, 1k))"}},
			refuses: []string{"10k || 4k7 + 1k", "10k || 100 nF", "2 * 1k || 2k"},
			hear:    sideBySide,
		},
		{
			name: "a scale at the end",
			takes: [][2]string{{"25 m in H0", "25 m at H0"}, {"250 mm from N to H0", "full_size(250 mm, scale_N) at H0"},
				{"250 mm N to H0", "full_size(250 mm, scale_N) at H0"},
				{"60 mph HO scale in in/s", "60 mph at HO_us as in/s"}, {"6 in HO to ft", "full_size(6 in, scale_HO_us) as ft"}, {"25 m + 3 m to 1:87", "(25 m + 3 m) at 1:87"}},
			refuses: []string{"250 mm H0", "12 in N", "5 ft 6 in HO", "1 ft in H0 in ft", "25 m to O", "25 m to 0", "25 m in s"},
			hear:    scales,
		},
		{
			name: "the unit asked for, at the end",
			takes: [][2]string{{"22 in in mm", "22 in as mm"}, {"100 km/h / 120 to mm/s", "100 km/h / 120 as mm/s"},
				{"2 m into feet", "2 m as ft"}},
			refuses: []string{"120 in mm/s", "pi * 24 in cm", "1 in 40", "200 m in 10 s", "2 to 20", "16 V to 10 V"},
			hear:    unitAskedFor,
		},
	}
}

// Example is what a rule takes, and as what, and what it refuses.
type Example struct {
	Name    string
	Takes   [][2]string
	Refuses []string
}

// Examples gives the examples of every rule.
func Examples() []Example {
	var all []Example
	for _, r := range rules() {
		all = append(all, Example{r.name, r.takes, r.refuses})
	}
	return all
}
