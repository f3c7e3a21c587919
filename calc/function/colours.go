package function

import (
	"fmt"
	"math"
	"strings"

	"railsum/calc/types"
)

const coloursSource = "IEC 60062:2016 Table 1, by the table colours"

// colours goes from a resistance to its bands and back.
func colours() []*Function {
	return []*Function{
		{
			Name: "bands", Args: "bands(r) or bands(r, tolerance)", Group: "the trade",
			Meaning: "the coloured bands of a resistor, in reading order, for the tolerance that r has or that is given, else 5 %: four of them, and five up to 2 % or for a value of three figures, which is of 1 % if nothing is said",
			Source:  coloursSource,
			Example: "bands(4k7)", Answer: `"yellow violet red gold"`,
			takes: arity{1, 2}, tolerant: true, rule: bandsRule,
			Many: func(w *World, x []float64) (float64, Fault) {
				tolerance := math.NaN()
				if len(x) == 2 {
					tolerance = x[1]
				}
				names, fault := bandsOf(w, x[0], tolerance)
				if fault != Sound {
					return 0, fault
				}
				return w.ID(strings.Join(names, " ")), Sound
			},
		},
		{
			Name: "resistor", Args: "resistor(bands)", Group: "the trade",
			Meaning: "the resistance that coloured bands stand for, and its tolerance, three to six of them in reading order, starting at the end away from gold or silver. " +
				"Three bands are of 20 %; of six, the last is the drift with temperature and is not used; one black band is a link of 0 ohm",
			Source:  coloursSource,
			Example: `resistor("yellow violet red gold")`, Answer: "4.7 kΩ +- 5 %",
			takes: arity{1, 1}, rule: resistorRule,
			One: func(w *World, x float64) (float64, Fault) {
				r, _, fault := readBands(w, w.Text(x))
				return r, fault
			},
			toleranceIn: func(data Data, args []Arg) (float64, bool) {
				if len(args) != 1 {
					return 0, false
				}
				text, ok := bareText(args[0].Expr)
				if !ok {
					return 0, false
				}
				_, tolerance, fault := readBands(data, text)
				return tolerance, fault == Sound && tolerance > 0
			},
		},
	}
}

// code is the colour code as the library has it; -1 stands for a place where a
// colour is not used.
type code struct {
	names                        []string
	digit, multiplier, tolerance []float64
}

func codeOf(d Data) (code, bool) {
	c := code{
		names:      d.Texts("colours", "label"),
		digit:      d.Numbers("colours", "digit"),
		multiplier: d.Numbers("colours", "multiplier"),
		tolerance:  d.Numbers("colours", "tolerance"),
	}
	n := len(c.names)
	return c, n > 0 && len(c.digit) == n && len(c.multiplier) == n && len(c.tolerance) == n
}

// colour names the colour that has a value in a column, "" if none has.
func (c code) colour(column []float64, value float64) string {
	for i, v := range column {
		if v >= 0 && same(v, value) {
			return c.names[i]
		}
	}
	return ""
}

// value is that of a colour in a column, negative if it is not used there.
func (c code) value(column []float64, colour string) float64 {
	for i, name := range c.names {
		if name == colour {
			return column[i]
		}
	}
	return -1
}

func bandsRule(f *Function, args []Arg) (types.Type, *TypeError) {
	r := args[0]
	if r.Kind != types.Number || r.Dim != dimOf("ohm") {
		cure := ""
		if _, text, ok := literal(r.Expr); ok {
			cure = fmt.Sprintf("write `bands(%s ohm)`", text)
		} else if text, ok := bareText(r.Expr); ok {
			cure = fmt.Sprintf("from bands to a resistance goes `resistor(%s)`", quoted(text))
		}
		return wrong(0, say("bands takes a resistance, not %s", r.Words()).With(cure))
	}
	if len(args) == 2 {
		if err := wantsPlain(f, 1, args[1]); err != nil {
			return types.Type{}, err
		}
		if v, text, ok := literal(args[1].Expr); ok && v >= 1 {
			return wrong(1, say("a tolerance of %s is %s times the whole", text, text).
				With(fmt.Sprintf("write `%s %%`", text)))
		}
	}
	return types.Type{Kind: types.Text}, nil
}

// bandsOf names the bands of r. A tolerance that is no number stands for the
// usual one.
func bandsOf(d Data, r, tolerance float64) ([]string, Fault) {
	c, ok := codeOf(d)
	if !ok {
		return nil, NoMatch
	}
	if r < 0 {
		return nil, OutOfDomain
	}
	if r == 0 {
		return []string{c.colour(c.digit, 0)}, Sound
	}
	number, power, figures := significant(r)
	if figures == 0 {
		return nil, NoColours
	}
	switch {
	case math.IsNaN(tolerance) && figures == 3:
		tolerance = 1e-2
	case math.IsNaN(tolerance):
		tolerance = 5e-2
	case figures == 2 && notBelow(2e-2, tolerance): // such parts are sold with three figures
		number, power, figures = number*10, power-1, 3
	}
	var names []string
	for place := figures - 1; place >= 0; place-- {
		names = append(names, c.colour(c.digit, math.Mod(math.Floor(number/math.Pow10(place)), 10)))
	}
	names = append(names, c.colour(c.multiplier, math.Pow10(power)), c.colour(c.tolerance, tolerance))
	for _, name := range names {
		if name == "" {
			return nil, NoColours
		}
	}
	if last := len(names) - 1; c.value(c.digit, names[last]) < 0 && c.value(c.multiplier, names[last]) < 0 {
		if figures == 3 {
			return nil, NoColours // four bands would be read as two figures
		}
		names = names[:last] // no band at all stands for 20 %
	}
	return names, Sound
}

// significant writes r as a whole number of two figures, or of three if it
// takes three, times a power of ten; figures is 0 if it takes more.
func significant(r float64) (number float64, power, figures int) {
	for figures = 2; figures <= 3; figures++ {
		power = int(math.Floor(math.Log10(r))) - figures + 1
		number = math.Round(r / math.Pow10(power))
		if number >= math.Pow10(figures) {
			number, power = number/10, power+1
		}
		if math.Abs(number*math.Pow10(power)-r) <= 1e-9*r {
			return number, power, figures
		}
	}
	return 0, 0, 0
}

func resistorRule(f *Function, args []Arg) (types.Type, *TypeError) {
	a := args[0]
	const form = "write the colours with blanks between, as in `resistor(\"yellow violet red gold\")`"
	if a.Kind != types.Text {
		cure := form
		if a.Kind == types.Number && a.Dim == dimOf("ohm") {
			cure = fmt.Sprintf("from a resistance to its bands goes `bands(%s)`", said(a.Expr, "r"))
		}
		return wrong(0, say("resistor takes the colours of the bands as a text, not %s", a.Words()).With(cure))
	}
	if text, ok := bareText(a.Expr); ok {
		if n := len(strings.Fields(text)); n != 1 && (n < 3 || n > 6) {
			return wrong(0, say("a resistor has three to six bands, and here are %s", given(n)).With(form))
		}
	}
	return of("ohm"), nil
}

// readBands gives the resistance and tolerance that colours stand for.
func readBands(d Data, text string) (r, tolerance float64, fault Fault) {
	c, ok := codeOf(d)
	if !ok {
		return 0, 0, NoMatch
	}
	bands := strings.Fields(strings.ToLower(text))
	for i, b := range bands {
		if b == "gray" {
			bands[i] = "grey"
		}
		if c.value(c.digit, bands[i]) < 0 && c.value(c.multiplier, bands[i]) < 0 && c.value(c.tolerance, bands[i]) < 0 {
			return 0, 0, BadColours
		}
	}
	switch {
	case len(bands) == 1 && c.value(c.digit, bands[0]) == 0:
		return 0, 0, Sound
	case len(bands) < 3 || len(bands) > 6:
		return 0, 0, BadColours
	case len(bands) == 3:
		bands = append(bands, c.colour(c.tolerance, 0.2))
	}
	figures := min(len(bands)-2, 3)
	number := 0.0
	for _, b := range bands[:figures] {
		digit := c.value(c.digit, b)
		if digit < 0 {
			return 0, 0, BadColours
		}
		number = number*10 + digit
	}
	multiplier, tolerance := c.value(c.multiplier, bands[figures]), c.value(c.tolerance, bands[figures+1])
	if multiplier < 0 || tolerance < 0 {
		return 0, 0, BadColours
	}
	return times(number, multiplier), tolerance, Sound
}

// times is number * multiplier for a power of ten, rounded once.
func times(number, multiplier float64) float64 {
	if multiplier < 1 {
		return number / math.Round(1/multiplier)
	}
	return number * multiplier
}
