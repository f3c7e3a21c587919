package answer

import (
	"encoding/json"
	"math/big"
	"strconv"
	"strings"

	"railsum/calc/types"
	"railsum/units"
)

// Value is an answer ready to be shown: one value, or a column with a label
// per row. Numbers are in SI.
type Value struct {
	Type    types.Type
	Numbers []float64  // one per row
	Texts   []string   // for a Text, one per row
	Faults  []string   // "" where sound; nil if all are
	Unit    units.Unit // what to show it in
	Literal Typed      // the spelling as typed, for an input that is shown so
	Tol     Typed      // 5 % or 0.5 mm, zero if exact
}

// None is the fault of a row whose answer does not exist, which is no error.
const None = "none"

// Sound reports whether every row has an answer, be it none.
func (v *Value) Sound() bool {
	for _, f := range v.Faults {
		if f != "" && f != None {
			return false
		}
	}
	return true
}

// Column reports whether the value is a column of a table.
func (v *Value) Column() bool { return v.Type.Of != nil }

// Quantity reports whether the value is of numbers.
func (v *Value) Quantity() bool { return v.Type.Kind == types.Number || v.Type.Kind == types.Point }

// Rows is how many rows a value has; a single value has one.
func (v *Value) Rows() int {
	if v.Type.Kind == types.Text {
		return len(v.Texts)
	}
	return len(v.Numbers)
}

// Label is the label of a row of a column, empty for a single value.
func (v *Value) Label(row int) string {
	if v.Type.Of == nil || row >= len(v.Type.Of.Labels) {
		return ""
	}
	return v.Type.Of.Labels[row]
}

// Fault is why a row has no answer, empty if it has one.
func (v *Value) Fault(row int) string {
	switch {
	case row < len(v.Faults) && v.Faults[row] != "":
		return v.Faults[row]
	case row >= v.Rows():
		return "the row is missing"
	}
	return ""
}

// InUnit is a row's number in the value's unit.
func (v *Value) InUnit(row int) float64 { return v.Unit.FromSI(v.Numbers[row]) }

// Number gives a row's number in the value's unit, without the unit: "725".
func (v *Value) Number(row int) string {
	y := v.InUnit(row)
	s := v.Unit.Format(v.Numbers[row])
	if v.Unit.Point() {
		if r, ok := new(big.Rat).SetString(s); ok && v.Unit.SI(r) < 0 {
			return strconv.FormatFloat(y, 'f', 2, 64) // rounded it would be colder than can be
		}
	}
	return s
}

// Full spells a row with all its digits and without its unit; it is empty where
// there is no answer.
func (v *Value) Full(row int) string {
	switch {
	case v.Fault(row) != "":
		return ""
	case v.Type.Kind == types.Text:
		return v.Texts[row]
	case v.Type.Kind == types.Truth:
		return yes(v.Numbers[row] != 0)
	case v.Type.Kind == types.Date:
		return units.FormatDate(v.Numbers[row])
	}
	return strconv.FormatFloat(v.InUnit(row), 'g', -1, 64)
}

func yes(x bool) string {
	if x {
		return "yes"
	}
	return "no"
}

// Unanswered says why a row has no answer: none, or a fault.
func Unanswered(why string) string {
	if why == None {
		return None
	}
	return "no answer: " + why
}

// Cell spells a row in the form of a file: "725 mV", "yes", a text, or why there
// is no answer.
func (v *Value) Cell(row int) string {
	if why := v.Fault(row); why != "" {
		return Unanswered(why)
	}
	switch {
	case v.Type.Kind == types.Text:
		return v.Texts[row]
	case v.Type.Kind == types.Truth:
		return yes(v.Numbers[row] != 0)
	case v.Type.Kind == types.Date:
		return units.FormatDate(v.Numbers[row])
	case !v.Literal.IsZero() && !v.Column():
		return v.Literal.String()
	}
	return Typed{v.Number(row), v.Unit}.String()
}

// String spells a single value as it would be typed, with its tolerance; it is
// empty for a column.
func (v *Value) String() string {
	switch {
	case v.Column():
		return ""
	case v.Fault(0) != "":
		return v.Cell(0)
	case v.Type.Kind == types.Text:
		return Quote(v.Texts[0])
	case v.Type.Kind == types.Date:
		return "date(" + Quote(v.Cell(0)) + ")"
	case !v.Tol.IsZero():
		return v.Cell(0) + " +- " + v.Tol.String()
	}
	return v.Cell(0)
}

// Quote is a text as it is typed in a line.
func Quote(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }

// Row is a row of a column as a value of its own.
func (v *Value) Row(row int) *Value {
	one := &Value{Type: v.Type.Scalar(), Unit: v.Unit}
	if row < len(v.Numbers) {
		one.Numbers = v.Numbers[row : row+1]
	}
	if row < len(v.Texts) {
		one.Texts = v.Texts[row : row+1]
	}
	if why := v.Fault(row); why != "" {
		one.Faults = []string{why}
	}
	return one
}

// Picked is some rows of a column as a column of their own, with its labels. The
// unit stays that of the whole.
func (v *Value) Picked(of *types.Table, rows []int) *Value {
	some := &Value{Type: v.Type, Unit: v.Unit}
	some.Type.Of = of
	for i, r := range rows {
		if v.Texts != nil {
			some.Texts = append(some.Texts, v.Texts[r])
		}
		if v.Numbers != nil {
			some.Numbers = append(some.Numbers, v.Numbers[r])
		}
		if why := v.Fault(r); why != "" {
			if some.Faults == nil {
				some.Faults = make([]string, len(rows))
			}
			some.Faults[i] = why
		}
	}
	return some
}

// valueForm is a value as JSON has it.
type valueForm struct {
	Kind  string    `json:"kind" doc:"number, temperature, truth, text or date"`
	Unit  string    `json:"unit,omitempty" doc:"of the number, as it stands in a file: mm2, ohm, degC"`
	Tol   string    `json:"tolerance,omitempty"`
	Table string    `json:"table,omitempty" doc:"of a column: the table whose rows it has"`
	Rows  []rowForm `json:"rows,omitzero" doc:"of a column"`
	rowForm
}

// rowForm is one row of a value.
type rowForm struct {
	Label  string  `json:"label,omitempty"`
	Number *figure `json:"number,omitempty" doc:"in the unit beside it; null for none"`
	Truth  *bool   `json:"truth,omitempty"`
	Text   *string `json:"text,omitempty"`
	Date   string  `json:"date,omitempty" doc:"as ISO 8601 writes it"`
	None   bool    `json:"none,omitempty" doc:"there is no such value, which is no error"`
	Fault  string  `json:"fault,omitempty" doc:"why there is no answer"`
}

// figure is a number of a value; one that is none is null.
type figure struct {
	x    float64
	none bool
}

// Nullable says that there may be null in its place.
func (figure) Nullable() string { return "number or null" }

// MarshalJSON writes the number, or null.
func (f figure) MarshalJSON() ([]byte, error) {
	if f.none {
		return []byte("null"), nil
	}
	return json.Marshal(f.x)
}

// Form is the value as JSON has it.
func (v *Value) Form() any {
	f := valueForm{Kind: kind(v.Type), Unit: v.Unit.String(), Tol: v.Tol.String()}
	if !v.Column() {
		f.rowForm = v.form(0)
		return f
	}
	f.Table, f.Rows = v.Type.Of.Name, make([]rowForm, v.Rows())
	for i := range f.Rows {
		f.Rows[i] = v.form(i)
		f.Rows[i].Label = v.Label(i)
	}
	return f
}

// MarshalJSON writes the value's Form.
func (v *Value) MarshalJSON() ([]byte, error) { return marshal(v.Form()) }

func (v *Value) form(row int) rowForm {
	switch why := v.Fault(row); why {
	case "":
	case None:
		if !v.Quantity() {
			return rowForm{None: true}
		}
		return rowForm{Number: &figure{none: true}, None: true}
	default:
		return rowForm{Fault: why}
	}
	switch v.Type.Kind {
	case types.Text:
		return rowForm{Text: &v.Texts[row]}
	case types.Truth:
		truth := v.Numbers[row] != 0
		return rowForm{Truth: &truth}
	case types.Date:
		return rowForm{Date: units.FormatDate(v.Numbers[row])}
	}
	return rowForm{Number: &figure{x: v.InUnit(row)}}
}

func kind(t types.Type) string {
	return [...]string{types.Unknown: "unknown", types.Number: "number", types.Point: "temperature", types.Truth: "truth",
		types.Text: "text", types.Date: "date"}[t.Kind]
}
