package guide

// form is a form of the language: the words that it is looked up by, how it is
// written, what it does, and an example that runs.
type form struct {
	names   string // between blanks; none for what has no word
	topic   string
	written string
	does    string
	says    string   // what is worth knowing beyond that
	example []string // lines, of which the last is the example
	answer  string   // to the last, where it is one row
}

// The topics that the forms of the language are explained under.
const (
	lines   = "lines"
	studies = "studies"
	inSheet = "sheets"
	tables  = "tables"
	inUnits = "units"
	more    = "more"
)

// language is every form of the language but the studies, which say themselves
// what they are for.
var language = []form{
	{"", lines, "NAME = VALUE", "names a value for all the lines",
		"", []string{"track = 15 V", "track * 3 A"}, "45 W"},
	{"that", lines, "VALUE", "a question; `that` is the answer above",
		"", []string{"15 V * 3 A", "that / 2"}, "22.5 W"},
	{"as", lines, "VALUE as UNIT", "the answer in a unit of your choice",
		"A named value keeps the unit wherever it is shown.", []string{"80 km/h as mph"}, "49.71 mph"},
	{"at", lines, "LENGTH at SCALE", "a length or speed, in the model",
		"`full_size(LENGTH, SCALE)` is the way back.", []string{"25 m at H0 as mm"}, "287.4 mm"},
	{"of", lines, "SHARE of VALUE", "a share of a value",
		"", []string{"5 % of 15 V"}, "750 mV"},
	{"+-", lines, "VALUE +- TOLERANCE", "a value that is not exact",
		"`spread` says what follows from it.", []string{"track = 15 V +- 5 %"}, ""},
	{"assume", lines, "assume NAME = VALUE", "a guess, listed until it is settled",
		"`list unsettled` shows what is still a guess.", []string{"assume draw = 0.4 A", "6 * draw"}, "2.4 A"},
	{"must", lines, "must CONDITION", "a rule: danger if it does not hold",
		"A note after it says what is wrong then.", []string{"must 3 A * 0.2 ohm <= 1 V  # the trains slow down"},
		"clear: 600 mV against 1 V"},
	{"should", lines, "should CONDITION", "a rule: caution if it does not hold",
		"", []string{"should 3 A * 0.2 ohm <= 1 V"}, "clear: 600 mV against 1 V"},
	{"if then else", lines, "if CONDITION then A else B", "one of two values",
		"", []string{"load = 3 A", "if load > 2.5 A then 2.5 mm2 else 1.5 mm2"}, "2.5 mm²"},
	{"and or not", lines, "A and B, A or B, not A", "conditions joined",
		"", []string{"load = 3 A", "load > 1 A and load < 5 A", "load < 1 A or load > 4 A", "not load > 5 A"}, "yes"},
	{"yes no", lines, "yes, no", "what a condition comes to",
		"", []string{"guarded = yes", "fused = no", "guarded and not fused"}, "yes"},
	{"none", lines, "none", "what an answer is that does not exist",
		"`either(VALUE, other)` puts another in its place.", []string{"gap = if 3 A > 5 A then 2 mm else none", "either(gap, 1 mm)"}, "1 mm"},
	{"whole", lines, "NAME = VALUE whole", "a value of which there are only whole numbers",
		"`find`, `vary` and `spread` keep to it.", []string{"locos = 4 whole", "locos * 0.5 A"}, "2 A"},
	{"prefer", lines, "prefer UNIT, UNIT below SIZE, …", "the units that answers take",
		"It goes before a unit that a sheet names with `as`, unless that says `as exactly`.",
		[]string{"prefer mm below 1 m, m, mph", "3 * 250 mm"}, "750 mm"},
	{"#", lines, "# TEXT", "a note; after a line, its meaning",
		"", []string{"track = 15 V  # at the booster"}, ""},
	{"railsum", lines, "railsum 1", "the first row of a notebook",
		"The desk writes it, and a file without it is read all the same.", []string{"railsum 1", "1 + 1"}, "2"},

	{"use for with", inSheet, "use SHEET for NAME with INPUT = VALUE, …", "puts a sheet to work",
		"NAME.INPUT = VALUE sets more of what it asks, NAME.ANSWER is what it finds. Without `for` it is a question.",
		[]string{"use drop for north with length = 9.5 m", "north.load = 2.6 A", "north.lost"}, "736.6 mV"},
	{"from", inSheet, "use SHEET for NAME from PLACE", "inputs as another sheet or a table tells them",
		"It takes what PLACE tells under an input's name or one of its other words; what you set yourself goes before. `like NAME` takes the settings of that one.",
		[]string{"table runs | length as m | load as A\n  quay | 9.5 | 1\nend",
			"use drop for buses from runs with wire = 2.5 mm2", "buses.length"}, "quay   9.5 m"},
	{"ask", inSheet, "ask NAME = VALUE from LOW to HIGH", "an input, its own value, its range",
		"`among A, B, C` in place of a range says which values there are.",
		[]string{"ask length = 8 m from 1 m to 100 m  # one way", "2 * length"}, "16 m"},
	{"take", inSheet, "take NAME = VALUE from LOW to HIGH", "an input taken for granted",
		"It can be set like any other; a card says so only if nobody has.",
		[]string{"take joints = 4 whole from 0 to 100  # in the run", "5 mohm * joints"}, "20 mΩ"},
	{"tell", inSheet, "tell NAME = VALUE", "an answer",
		"", []string{"ask length = 8 m", "tell both_ways = 2 * length  # out and back", "both_ways"}, "16 m"},
	{"", inSheet, "tell table NAME", "a table as an answer",
		"A notebook calls it its own with `engines = house.fleet`, and has its columns.",
		[]string{"table fleet | draw as A\n  railcar | 0.5\nend", "tell table fleet", "sum(fleet.draw)"}, "500 mA"},
	{"hazard", inSheet, `hazard "TEXT" if CONDITION`, "what can hurt",
		"Without `if` it is always shown.", []string{"heat = 3 W", `hazard "It burns fingers: let it cool." if heat > 1 W`}, ""},
	{"source", inSheet, `source "TEXT"`, "where a formula comes from",
		"", []string{`source "Ohm's law"`}, ""},

	{"table", tables, "table NAME | COLUMN | COLUMN as UNIT", "begins a table; its rows follow",
		"Each row is a label and a cell for each column, with | between them.",
		[]string{"table fleet | count | draw as mA\n  shunter | 2 | 280\n  railcar | 1 | 450\nend",
			"sum(fleet.count * fleet.draw)"}, "1.01 A"},
	{"", tables, `table NAME from "FILE.csv"`, "a table of a spreadsheet",
		"The file lies beside the notebook; a head may have a unit, as in `length [m]`.", []string{`table runs from "cellar.csv"`, "sum(runs.length)"}, "32.5 m"},
	{"end", tables, "end", "ends a table",
		"Rows of a spreadsheet, pasted under the head of a table at the desk, become its cells.", []string{"table runs | length as m\n  quay | 12\nend", "most(runs.length)"}, "12 m"},
	{"", tables, "NAME.COLUMN", "a column: sums go row by row",
		"", []string{"table runs | length as m\n  quay | 12\n  yard | 4\nend", "sum(2 * runs.length)"}, "32 m"},
	{"", tables, `NAME."LABEL".COLUMN`, "a cell",
		"", []string{"table runs | length as m\n  quay | 12\nend", `runs."quay".length`}, "12 m"},
	{"", tables, "NAME.COLUMN = VALUE", "a column that is worked out",
		"", []string{"table runs | length as m\n  quay | 12\nend", "runs.there_and_back = 2 * runs.length", `runs."quay".there_and_back`}, "24 m"},

	{"", tables, "table NAME | COLUMN = VALUE", "what empty cells of it hold",
		"", []string{"table runs | length as m | joints = 6\n  quay | 12 |\n  yard | 4 | 2\nend", "sum(runs.joints)"}, "8"},
	{"", tables, `PLACED."LABEL".INPUT = VALUE`, "one row's own value",
		"", []string{"table runs | length as m\n  quay | 12\n  yard | 4\nend", "use drop for bus with length = runs.length", `bus."quay".joints = 12`, `bus."quay".joints`}, "12"},

	{"", inUnits, "9.5 m, 2.6 A, 80 km/h", "the unit after its number, one word",
		"", []string{"0.5 ohm/m * 12 m"}, "6 Ω"},
	{"", inUnits, "1.5 mm2, 4 A/mm2, 3 s^2", "powers and quotients of units",
		"", []string{"4 A/mm2 * 1.5 mm2"}, "6 A"},
	{"", inUnits, "3k3, 100n, 4R7", "parts as they are marked",
		"", []string{"3k3 + 4R7"}, "3.305 kΩ"},
	{"", inUnits, "5 ft 6 in, 2 3/8 in", "feet and inches, fractions",
		"", []string{"5 ft 6 in as m"}, "1.676 m"},
	{"", inUnits, "20 degC, 68 degF, 30 deg", "temperatures and angles",
		"", []string{"68 degF as degC"}, "20 °C"},
	{"", inUnits, "5 %, 1:87, 1:40", "shares, scales and grades",
		"", []string{"2.5 % of 4 m as mm"}, "100 mm"},
	{"", inUnits, "awg(18), swg(20)", "wire by its gauge",
		"", []string{"awg(18) as mm2"}, "0.823 mm²"},

	{"so", studies, "so A = B, so A <= B", "what `find` is to make true",
		"", []string{"use drop for north", "find north.length so north.lost = 0.5 V"}, ""},
	{"from to", studies, "from LOW to HIGH", "where to look; the range of an input",
		"", []string{"use drop for north", "find north.length from 1 m to 50 m so north.share <= 5 %"}, ""},
	{"among", studies, "among A, B or among TABLE.COLUMN", "the values to try, or to choose from",
		"", []string{"use drop for north", "find north.wire among conductors.area so north.share <= 3 %"}, ""},
	{"by over", studies, "by STEP, over N steps", "how finely `vary` goes",
		"", []string{"use drop for north", "vary north.length from 2 m to 10 m by 2 m show north.lost",
			"vary north.load from 1 A to 3 A over 4 steps show north.lost"}, ""},
	{"", studies, "… show A, B", "what a study shows",
		"", []string{"use drop for north", "suppose north.load = 4 A show north.lost, north.share"}, ""},
}
