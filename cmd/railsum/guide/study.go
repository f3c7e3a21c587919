package guide

import "slices"

// study is a line that puts a question to the other lines.
type study struct {
	word, meaning string
	forms         []string // how it is written
	says          []string // what its answer holds, and what is worth knowing
	examples      []string // after the lines of setting
}

// setting is what the examples are asked of.
var setting = []string{"use drop for north with length = 9.5 m", "north.load = 2.6 A +- 10 %"}

// studies are in the order in which one comes to need them.
var studies = []study{
	{
		word: "find", meaning: "what an input must be to make a comparison true",
		forms: []string{
			"find X so A <= B",
			"find X from LOW to HIGH so A = B [as UNIT]",
			"find X among VALUE, VALUE … so A < B",
			"find X among TABLE.COLUMN so A < B",
		},
		says: []string{
			"X is an input: a value of a line of its own, an input of a sheet in use, a cell as fleet.\"dock shunter\".draw.",
			"Without from and to it looks over the range the input is good for, or all around its present value.",
			"It tells every place it finds, that there is none and how near it comes, and jumps as jumps.",
			"Among values it takes the first that holds, in the order given. Nothing is changed.",
		},
		examples: []string{
			"find north.length so north.lost = 1 V",
			"find north.length from 1 m to 50 m so north.share <= 5 %",
			"find north.wire among conductors.area so north.share <= 3 %",
		},
	},
	{
		word: "vary", meaning: "what happens when an input changes, as a table and a chart",
		forms: []string{
			"vary X from A to B by STEP show P, Q",
			"vary X from A to B over N steps show P",
			"vary X among VALUE, VALUE … show P",
			"vary X … and Y … show P",
		},
		says: []string{
			"N steps make N + 1 rows. Two inputs make a two-way table, or a table for each value of one.",
			"The limits of rules that P appears in are drawn as lines; the place where a verdict turns is marked.",
			"read --csv and answer --csv write every row, however many.",
		},
		examples: []string{
			"vary north.length from 2 m to 20 m by 2 m show north.lost, north.share",
			"vary north.length from 2 m to 20 m by 2 m and north.wire among 1.5 mm2, 2.5 mm2 show north.lost",
		},
	},
	{
		word: "suppose", meaning: "what would be if some inputs had other values",
		forms: []string{"suppose X = VALUE, Y = VALUE show P, Q"},
		says: []string{
			"What is stands beside what would be, with the change in units and per cent, and the rules that would turn.",
			"Nothing is changed.",
		},
		examples: []string{"suppose north.load = 3 A, north.wire = 2.5 mm2 show north.lost, north.share"},
	},
	{
		word: "spread", meaning: "how sure an answer is, given the tolerances of what it depends on",
		forms: []string{"spread P, Q"},
		says: []string{
			"Tolerances are given where a value is: track = 15 V +- 5 %, in a line or in a cell.",
			"The worst case is searched, not only at the ends of the tolerances. Root sum square is to first order.",
			"The range of 95 % of cases comes from 100000 samples, drawn evenly within each tolerance, the same every time.",
			"Each tolerance's share is told, worst first, and in what share of cases the rules hold.",
		},
		examples: []string{"spread north.lost"},
	},
	{
		word: "working", meaning: "how a value arose, step by step, down to the inputs",
		forms: []string{"working P", "working P to N levels"},
		says: []string{
			"Each step has its formula as written, the same with its values put in, and its answer; then each ingredient, once.",
			"Inputs that are still a sheet's own are marked; meanings and sources stand beside the steps they belong to.",
		},
		examples: []string{"working north.lost", "working north.share to 2 levels"},
	},
	{
		word: "measured", meaning: "the meter beside the sum",
		forms: []string{"measured P = VALUE", "measured P = VALUE +- TOLERANCE"},
		says: []string{
			"It tells the difference, whether the meter lies within the tolerances of the sum and its own,",
			"and which single input, changed to what, would explain what the meter says, the least change first.",
		},
		examples: []string{"measured north.lost = 0.8 V +- 0.02 V"},
	},
}

func studyPages() []page {
	var all []page
	for _, s := range studies {
		all = append(all, page{name: s.word, kind: "study", meaning: s.meaning, write: func(w *writer) { writeStudy(w, s) }})
	}
	return all
}

// writeStudy writes what a study asks, how it is written, what it says and
// examples.
func writeStudy(w *writer, s study) {
	w.line(s.word + ", a study: " + s.meaning)
	w.block("written", s.forms)
	w.block("answer", s.says)
	w.block("for example", slices.Concat(setting, s.examples))
}
