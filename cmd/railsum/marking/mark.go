package marking

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"railsum/calc/answer"
	"railsum/calc/types"
	"railsum/units"
)

// Asked is what an answer is held against.
type Asked struct {
	Name  string
	Right *answer.Value
	Slips []*answer.Slip
}

// Kind is which case an answer falls under: the first that fits.
type Kind uint8

const (
	Unread    Kind = iota // it cannot be read, or in two ways: it is not marked
	NoUnit                // where one is needed
	Dimension             // another one
	Right
	Rounded  // to one figure
	Nearly   // it counts as right
	Thousand // off by a prefix
	Slipped  // a usual mistake
	Twice
	Hundred // a share
	Upside  // upside down
	Wrong   // the wrong way round, or degrees for kelvin
	Else
)

// Mark is what becomes of an answer.
type Mark struct {
	Kind
	Says string
	Cure string
}

// Good reports whether it counts as right, and Counts whether as an answer at all.
func (m Mark) Good() bool   { return m.Kind == Right || m.Kind == Nearly }
func (m Mark) Counts() bool { return m.Kind != Unread }

// How near is near enough, each as a share.
const (
	exact = 0.005
	rough = 0.03
	same  = 0.01
)

// Mark marks what was typed.
func (r *Reader) Mark(text string, q Asked) Mark {
	text = strings.TrimSpace(text)
	if q.Right.Type.Kind == types.Text {
		return markText(text, q)
	}
	if q.Right.Type.Kind == types.Truth {
		text = or(truths[strings.ToLower(strings.Trim(text, " .!"))], text)
	} else if !strings.ContainsAny(text, "0123456789") {
		return Mark{Kind: Unread, Says: "there is no number in that",
			Cure: "write a number and a unit, such as " + Example(q.Right)}
	}
	v, wrong := r.Read(text)
	if wrong != nil {
		return Mark{Unread, wrong.Message, or(wrong.Cure, "write a number and a unit, such as "+Example(q.Right))}
	}
	if q.Right.Type.Kind == types.Truth {
		return markTruth(v, q)
	}
	x, ok := number(v)
	switch {
	case !ok || !v.Quantity():
		return Mark{Kind: Unread, Says: "this is no number", Cure: "write a number and a unit, such as " + Example(q.Right)}
	case !Alike(v, q.Right) && plain(v):
		return Mark{Kind: NoUnit, Says: fmt.Sprintf("%s what? %s", text, isA(q))}
	case !Alike(v, q.Right):
		return Mark{Kind: Dimension, Says: fmt.Sprintf("not yet: %s is %s; %s", v.Unit.Shown(), bare(v.Type), isA(q))}
	}
	return compared(text, v, x, q)
}

// Spelled reports whether words are the answer, where one in words is asked for.
func (q Asked) Spelled(text string) bool {
	return q.Right.Type.Kind == types.Text && letters(text) == letters(q.Right.Texts[0])
}

// TellsApart reports whether each usual mistake, typed in full, is told by its own sentence.
func (q Asked) TellsApart() bool {
	for _, s := range q.Slips {
		x, ok := number(s.Wrong)
		if !ok {
			continue
		}
		m := compared(strconv.FormatFloat(s.Wrong.InUnit(0), 'f', -1, 64), s.Wrong, x, q)
		if m.Kind != Slipped || m.Says != "not yet: "+s.Why {
			return false
		}
	}
	return true
}

// compared marks a number of the right dimension.
func compared(text string, v *answer.Value, x float64, q Asked) Mark {
	right := q.Right.Numbers[0]
	says := spelled(q.Right)
	least, most := figuresOf(text)
	typed := 0 // figures, to which the answer rounds to what was typed
	for n := max(least, 1); n <= most; n++ {
		if roundsTo(right, v, n) {
			typed = n
		}
	}
	near := off(x, right, q.Right)
	switch {
	case typed >= 2 && typed < 4 && near > 1e-9:
		return Mark{Kind: Right, Says: fmt.Sprintf("right: %s. (%s is that to %s figures.)", says, text, counted(typed))}
	case near <= exact || typed >= 2:
		return Mark{Kind: Right, Says: "right: " + says + "."}
	case typed == 1:
		return Mark{Kind: Rounded, Says: "not yet: rounded too far, give two figures at least"}
	case near <= rough:
		return Mark{Kind: Nearly, Says: fmt.Sprintf("nearly: %s. Right way, but rounded on the way; keep four figures until the end. It counts as right", says)}
	}
	if right == 0 {
		return elsewhere(x, right)
	}
	ratio := x / right
	point := q.Right.Type.Kind == types.Point
	percent := q.Right.Unit.Percent()
	switch {
	case !point && !plain(q.Right) && (about(ratio, 1000, rough) || about(ratio, 1./1000, rough)):
		return Mark{Kind: Thousand, Says: fmt.Sprintf("not yet: a factor of 1000. Is it %s or %s?", v.Unit.Shown(),
			prefixed(v, right))}
	case Slip(v, q.Slips) != nil:
		return Mark{Kind: Slipped, Says: "not yet: " + Slip(v, q.Slips).Why}
	case !point && about(ratio, 2, same):
		return Mark{Kind: Twice, Says: "not yet: that is twice the answer"}
	case !point && about(ratio, 0.5, same):
		return Mark{Kind: Twice, Says: "not yet: that is half the answer"}
	case percent && (about(ratio, 100, same) || about(ratio, 0.01, same)):
		return Mark{Kind: Hundred, Says: "not yet: 5 % is 0.05"}
	case !point && about(x*right, 1, same):
		return Mark{Kind: Upside, Says: "not yet: upside down"}
	case !point && about(ratio, -1, same):
		return Mark{Kind: Wrong, Says: "not yet: the wrong way round"}
	case point && math.Abs(math.Abs(x-right)-kelvin) <= 0.5:
		return Mark{Kind: Wrong, Says: "not yet: degrees Celsius or kelvin?"}
	}
	return elsewhere(x, right)
}

const kelvin = 273.15

func elsewhere(x, right float64) Mark {
	says := "not yet"
	switch ratio := x / right; {
	case right != 0 && ratio > 0 && ratio < 0.1:
		says = "not yet: the answer is " + units.Format(twoFigures(1/ratio)) + " times as much"
	case right != 0 && ratio > 0:
		says = "not yet: yours is " + units.Format(twoFigures(ratio)) + " times as much"
	}
	return Mark{Kind: Else, Says: says, Cure: "`hint` shows the first step"}
}

// twoFigures rounds, near 1 to three figures.
func twoFigures(x float64) float64 {
	figures := 2
	if x > 0.9 && x < 1.1 {
		figures = 3
	}
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', figures, 64), 64)
	return y
}

// off is how far a value is from the answer: a share of it, of a temperature as it
// is shown.
func off(x, right float64, of *answer.Value) float64 {
	if of.Type.Kind == types.Point {
		return math.Abs(x-right) / math.Max(1, math.Abs(of.Unit.FromSI(right)))
	}
	if right == 0 {
		if x == 0 {
			return 0
		}
		return math.Inf(1)
	}
	return math.Abs(x-right) / math.Abs(right)
}

func about(ratio, want, within float64) bool { return math.Abs(ratio-want) <= within*math.Abs(want) }

// figuresOf counts the figures of a number as it was typed: at least and at most,
// for noughts at the end of a whole number may be figures or not. Both are 0 for what
// is no single number.
func figuresOf(text string) (least, most int) {
	at := digitsIn.FindAllStringSubmatch(text, 2)
	if len(at) != 1 {
		return 0, 0
	}
	number, _, _ := strings.Cut(strings.ToLower(at[0][1]), "e")
	digits := strings.TrimLeft(strings.NewReplacer(".", "", ",", "").Replace(number), "0")
	if most = len(digits); strings.ContainsAny(number, ".,") {
		return most, most
	}
	return len(strings.TrimRight(digits, "0")), most
}

// digitsIn finds numbers, but not the 2 of mm2.
var digitsIn = regexp.MustCompile(`(?:^|[^\pL0-9.,])([0-9]+(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?)`)

// roundsTo reports whether the answer in the unit of a value, rounded to so many
// figures, is the value.
func roundsTo(right float64, v *answer.Value, figures int) bool {
	in := func(si float64) float64 {
		if v.Unit.IsZero() {
			return si
		}
		return v.Unit.FromSI(si)
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(in(right), 'e', figures-1, 64), 64)
	mine := in(v.Numbers[0])
	return err == nil && math.Abs(rounded-mine) <= 1e-9*math.Abs(mine)
}

// counted is two or three in words.
func counted(n int) string { return [...]string{2: "two", 3: "three"}[n] }

func plain(v *answer.Value) bool {
	return v.Type.Kind == types.Number && v.Type.Dim.IsPlain()
}

// spelled is a value as it is shown.
func spelled(v *answer.Value) string {
	if !v.Quantity() || v.Unit.IsZero() {
		return v.Cell(0)
	}
	return v.Number(0) + " " + v.Unit.Shown()
}

// Example is an answer of the right form that is not the right one.
func Example(right *answer.Value) string {
	switch {
	case right.Type.Kind == types.Truth:
		return "yes"
	case right.Unit.IsZero():
		return "12"
	}
	return "0.5 " + right.Unit.Shown()
}

// isA says what an answer is and in which units it can be given.
func isA(q Asked) string {
	what := bare(q.Right.Type)
	base := units.Choose(q.Right.Type.Dim, []float64{1}, nil)
	switch {
	case q.Right.Type.Kind == types.Point:
		return q.Name + " is a temperature, in degC"
	case plain(q.Right):
		return q.Name + " is a plain number or a share"
	case base == q.Right.Unit || base.IsZero():
		return fmt.Sprintf("%s is %s, in %s", q.Name, what, q.Right.Unit.Shown())
	}
	return fmt.Sprintf("%s is %s, in %s or %s", q.Name, what, base.Shown(), q.Right.Unit.Shown())
}

// bare is a type in words without its unit.
func bare(t types.Type) string {
	what, _, _ := strings.Cut(t.Words(), " (")
	return what
}

// prefixed is the unit that an answer has, where another prefix was typed.
func prefixed(v *answer.Value, right float64) string {
	u := units.Choose(v.Type.Dim, []float64{right}, nil)
	if u == v.Unit {
		u = units.Choose(v.Type.Dim, []float64{v.Numbers[0]}, nil)
	}
	if u == v.Unit || u.IsZero() {
		return "another"
	}
	return u.Shown()
}

// truths are other words for yes and no.
var truths = map[string]string{"y": "yes", "yeah": "yes", "yep": "yes", "true": "yes", "right": "yes", "n": "no",
	"nope": "no", "false": "no"}

func markTruth(v *answer.Value, q Asked) Mark {
	switch {
	case v.Type.Kind != types.Truth:
		return Mark{Kind: Unread, Says: "this is neither yes nor no", Cure: "write yes or no"}
	case (v.Numbers[0] != 0) == (q.Right.Numbers[0] != 0):
		return Mark{Kind: Right, Says: "right: " + q.Right.Cell(0) + "."}
	}
	return Mark{Kind: Else, Says: "not yet", Cure: "`hint` shows the first step"}
}

// markText marks words: neither case nor blanks nor marks count.
func markText(text string, q Asked) Mark {
	right := q.Right.Texts[0]
	if q.Spelled(text) {
		return Mark{Kind: Right, Says: "right: " + right + "."}
	}
	for _, s := range q.Slips {
		if len(s.Wrong.Texts) == 1 && letters(text) == letters(s.Wrong.Texts[0]) {
			return Mark{Kind: Slipped, Says: "not yet: " + s.Why}
		}
	}
	return Mark{Kind: Else, Says: "not yet", Cure: "`hint` shows the first step"}
}

func letters(text string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsLetter(c) || unicode.IsDigit(c) || c == '.' || c == '/' || c == ':' {
			return unicode.ToLower(c)
		}
		return -1
	}, text)
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}
