package answer

import (
	"strings"

	"railsum/calc/syntax"
	"railsum/units"
)

// Expr is an expression of the notebook or of a sheet, or none.
type Expr struct{ syntax.Expr }

// String spells the expression as it stands in a file; it is empty for none.
func (e Expr) String() string {
	if e.Expr == nil {
		return ""
	}
	return syntax.PrintExpr(e.Expr)
}

// IsZero says that there is no expression.
func (e Expr) IsZero() bool { return e.Expr == nil }

// MarshalText is String.
func (e Expr) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// Bare reports whether the expression is a name and no more.
func (e Expr) Bare() bool {
	switch e := e.Expr.(type) {
	case *syntax.Name:
		for _, part := range e.Parts {
			if part.Quoted {
				return false
			}
		}
		return true
	case *syntax.That, *syntax.ScaleName:
		return true
	}
	return false
}

// Typed is a number as somebody has typed it, or would: "5" and %, "1.5" and
// mm2, "2 ft 6 in" and no unit, since units within a number have one spelling.
type Typed struct {
	Number string
	Unit   units.Unit
}

// TypedOf takes the unit off the end of a spelling, if it stands there.
func TypedOf(text string, u units.Unit) Typed {
	if number, ok := strings.CutSuffix(text, " "+u.String()); ok && !u.IsZero() {
		return Typed{number, u}
	}
	return Typed{Number: text}
}

// IsZero says that nothing was typed.
func (t Typed) IsZero() bool { return t.Number == "" }

// String is the spelling of a file: "1.5 mm2".
func (t Typed) String() string {
	if !t.Unit.Follows() {
		return t.Number
	}
	return t.Number + " " + t.Unit.String()
}

// MarshalText is String.
func (t Typed) MarshalText() ([]byte, error) { return []byte(t.String()), nil }
