package check

import (
	"fmt"
	"strings"

	"railsum/calc/syntax"
	"railsum/calc/types"
	"railsum/units"
	"railsum/units/words"
)

// What the checker has to say, where it is long or is said in several places.

func say(at syntax.Pos, format string, args ...any) syntax.Diag {
	return syntax.Diag{At: at, Wrong: words.Say(format, args...)}
}

func notice(at syntax.Pos, format string, args ...any) syntax.Diag {
	d := say(at, format, args...)
	d.Notice = true
	return d
}

func spell(e syntax.Expr) string { return syntax.PrintExpr(e) }

// Arithmetic.

// otherwise is the cure where a literal says something else than its writer
// meant: a part's code where a number or another quantity is wanted, farads
// where a temperature is, a text where a date is.
func otherwise(e syntax.Expr, want types.Type) string {
	if text, ok := e.(*syntax.Text); ok && want.Kind == types.Date {
		if _, wrong := units.ParseDate(text.Value); wrong == nil {
			return "write `" + spell(syntax.DateCall(text.At, text.Value)) + "`"
		}
		return ""
	}
	lit, ok := bare(e).(*syntax.Literal)
	switch {
	case !ok:
		return ""
	case lit.Form == syntax.Code && want == plainNumber:
		return fmt.Sprintf("%s is the value of a part; write `%s`", lit.Text, units.Format(lit.Value))
	case lit.Form == syntax.Code && want.Kind == types.Number && strings.ContainsAny(lit.Text, "unp"):
		i := strings.IndexAny(lit.Text, "unp")
		number := strings.TrimSuffix(lit.Text[:i]+"."+lit.Text[i+1:], ".")
		if unit := string(lit.Text[i]) + want.Dim.String(); isUnit(unit) {
			return fmt.Sprintf("%s is a capacitance; write `%s %s`", lit.Text, number, unit)
		}
	case want.Kind == types.Point && lit.Unit.String() == "F":
		return fmt.Sprintf("F is the farad; write `%sdegF`", strings.TrimSuffix(lit.Text, "F"))
	}
	return ""
}

func isPlainLiteral(e syntax.Expr) bool {
	lit, ok := bare(e).(*syntax.Literal)
	return ok && lit.Form == syntax.Plain
}

func isUnit(s string) bool {
	_, err := units.Parse(s)
	return err == nil
}

func cannotAdd(e *syntax.Binary, x, y types.Type) syntax.Diag {
	verb := "added"
	if e.Op == "-" {
		verb = "subtracted"
	}
	cure := otherwise(e.X, y) + otherwise(e.Y, x)
	switch {
	case cure != "":
	case x.Kind == types.Point && y.Kind == types.Number && y.Dim.IsPlain():
		cure = "a change of temperature is written in kelvin, as in `20 degC + 5 K`"
	case isPlainLiteral(e.Y) && x.Kind == types.Number && y == plainNumber && x.Dim.String() != "":
		cure = fmt.Sprintf("write `%s %s`", spell(e.Y), x.Dim)
	case isPlainLiteral(e.X) && y.Kind == types.Number && x == plainNumber && y.Dim.String() != "":
		cure = fmt.Sprintf("write `%s %s`", spell(e.X), y.Dim)
	case x.Kind == types.Date && y.Kind == types.Date:
		cure = "between two dates lies a time: subtract them"
	case x.Kind == types.Date || y.Kind == types.Date && e.Op == "+":
		cure = "a time is added to a date, as in `date(\"" + units.DateForm + "\") + 30 day`"
	case x.Kind == types.Text || y.Kind == types.Text:
		cure = "texts can be compared and shown, not computed with"
	}
	return say(e.At, "%s and %s cannot be %s", x.Words(), y.Words(), verb).With(cure)
}

func percentAdded(e *syntax.Binary, x, y *Node) syntax.Diag {
	p, whole := y, spell(e.X)
	if isPercentLiteral(x) && !isPercentLiteral(y) {
		p, whole = x, spell(e.Y)
	}
	share := spell(p.expr)
	factor := 1 + p.Value
	if e.Op == "-" {
		factor = 1 - p.Value
	}
	cure := fmt.Sprintf("write `%s %s %s of %s` for a share of it", whole, e.Op, share, whole)
	if x.Type.Dim.IsPlain() && y.Type.Dim.IsPlain() {
		cure += fmt.Sprintf(", or `%s %s %.4g` for the number", whole, e.Op, p.Value)
	} else {
		cure += fmt.Sprintf(", or `%s * %.4g`", whole, factor)
	}
	return say(e.At, "a percentage can be added in two ways").With(cure)
}

func cannotCompute(at syntax.Pos, op string, t types.Type, e *syntax.Binary) syntax.Diag {
	cure := ""
	switch t.Kind {
	case types.Point:
		cure = "take a difference first, or use mean(a, b) for the middle"
	case types.Truth:
		cure = "use `if … then … else …`"
	case types.Date:
		cure = "take the time between two dates first: subtract them"
	case types.Text:
		cure = "texts can be compared and shown, not computed with"
	}
	return say(at, "%s cannot be used with %s", t.Words(), op).With(cure)
}

func ofWantsShare(e *syntax.Binary, t types.Type) syntax.Diag {
	return say(e.X.Pos(), "`of` takes a share of something, as in `5 %% of 15 V`; this is %s", t.Words()).
		With("to multiply write `*`")
}

func exponentNotLiteral(e syntax.Expr, t types.Type) syntax.Diag {
	if lit, ok := e.(*syntax.Literal); ok && lit.Form == syntax.Plain {
		return say(e.Pos(), "%s is not a simple fraction, which the power of %s needs", lit.Text, t.Words()).
			With("write a fraction such as `^(1/3)`")
	}
	return say(e.Pos(), "the exponent of %s is a written number, since the unit of the answer depends on it", t.Words()).
		With("write it out, as in `^2` or `^(1/3)`")
}

func wantsTruth(at syntax.Pos, word string, t types.Type) syntax.Diag {
	return say(at, "`%s` needs yes or no here; this is %s", word, t.Words()).
		With("compare it with something, as in `x > 0`")
}

func branchesDiffer(e *syntax.If, x, y types.Type) syntax.Diag {
	return say(e.Else.Pos(), "`then` gives %s and `else` gives %s; both must be alike", x.Words(), y.Words())
}

func wantsPercent(n, partner *Node) syntax.Diag {
	text := spell(n.expr)
	unit := "%"
	if partner != n {
		if lit, ok := bare(partner.expr).(*syntax.Literal); ok {
			unit = lit.Unit.String()
		} else if partner.Op == Ref {
			unit = partner.Def.Show.String()
		}
	}
	return say(n.At, "%s alone is %s times the whole, and this is about a share", text, text).
		With(fmt.Sprintf("write `%s %s`", text, unit))
}

func notAScale(e syntax.Expr, t types.Type) syntax.Diag {
	return say(e.Pos(), "a scale is a plain ratio; this is %s", t.Words()).With("write a scale such as `H0` or `1:87`")
}

// Shapes.

func throughOwnTable(set *setting, p *Placement, own *types.Table, src *syntax.Line, at syntax.Pos) syntax.Diag {
	table := own.Name
	if p.Name != "" {
		table = strings.TrimPrefix(table, p.Name+".")
	}
	d := say(set.expr.Pos(), "%s works through its own table %s here, so %s must be one value", p.Sheet.Name, table,
		set.key).
		With("use sum, mean, most or a single row of it")
	d.Other, d.OtherIn = at, p.Sheet.Name
	return d
}

func wholeColumn(e syntax.Expr, t *types.Table) syntax.Diag {
	return say(e.Pos(), "this is a whole column, and a cell holds one value").
		With(fmt.Sprintf("computed columns are written below the table, as in `%s.x = …`", t.Name))
}

func columnOfOther(d *Def, of *types.Table) syntax.Diag {
	return say(d.Expr.Pos(), "%s has a row for each of %s, and this has one for each of %s", d.Name, d.Of.Name, of.Name)
}

func oddCell(c *Def, want types.Type) syntax.Diag {
	cure := "the cells of a column are all alike"
	if text, ok := c.Expr.(*syntax.Text); ok && want.Kind == types.Date {
		cure = "without quotes: `" + text.Value + "`"
	}
	return say(c.Expr.Pos(), "this is %s in a column of which the rest is %s", c.Type.Words(), want.Words()).
		With(cure)
}

func emptyColumn(at syntax.Pos, col *Def) syntax.Diag {
	head := col.Name[strings.LastIndexByte(col.Name, '.')+1:]
	return say(at, "%s has no rows, so its unit is not known", col.Name).
		With(fmt.Sprintf("give its unit in the head, as in `| %s as mA`", head))
}

func ruleWantsTruth(d *Def, t types.Type) syntax.Diag {
	if d.Role == When {
		return say(d.Expr.Pos(), "`if` of a hazard needs something that holds or not; this is %s", t.Words())
	}
	return say(d.Expr.Pos(), "a rule needs something that holds or not; this is %s", t.Words()).
		With("compare it with a limit, as in `must lost <= 1 V`")
}

// Tails.

func cannotShow(as *syntax.UnitRef, t types.Type) syntax.Diag {
	cure := ""
	switch {
	case t.Kind == types.Point && as.Unit.String() == "K":
		cure = "in kelvin a temperature would read back as a difference; write `… - -273.15 degC` to have the difference from absolute zero"
	case t.Kind == types.Number && as.Unit.Point():
		cure = fmt.Sprintf("this is a difference; %s is a point on a scale, so write `as K`", as.Unit)
	case as.Unit.Base() != 0 && t.Kind == types.Number && t.Dim == units.Known("bit").Dim():
		cure = "write `as bit` for an amount of data"
	case as.Unit.Base() != 0:
		cure = "only a plain whole number has digits; leave `as " + as.Unit.String() + "` out"
	}
	return say(as.At, "%s cannot be shown in %s", t.Words(), as.Unit).With(cure)
}

func tolOnScale(tol *syntax.Tol) syntax.Diag {
	text := strings.Fields(tol.By.Text)[0]
	return say(tol.By.At, "a tolerance of a temperature is a difference").With(fmt.Sprintf("write `+- %s K`", text))
}

func tolWithoutUnit(tol *syntax.Tol, d *Def) syntax.Diag {
	unit := d.Show.String()
	if unit == "" {
		unit = d.Type.Dim.String()
	}
	return say(tol.By.At, "the tolerance has no unit").
		With(fmt.Sprintf("write `+- %s %s`, or `+- %s %%`", tol.By.Text, unit, tol.By.Text))
}

func typeOf(lit *syntax.Literal) types.Type {
	if lit.Unit.IsZero() {
		return types.Plain
	}
	return unitType(lit.Unit)
}

func rangeOfOther(x *Def, t types.Type) syntax.Diag {
	return say(x.Expr.Pos(), "the input is %s, and this is %s", t.Words(), x.Type.Words())
}

func turnsAndAngles(as *syntax.UnitRef, from units.Unit) syntax.Diag {
	cure := "a turn is 2*pi rad: multiply by 2*pi before"
	if from.Angle() {
		cure = "a turn is 2*pi rad: divide by 2*pi before"
	}
	return say(as.At, "%s and %s have one dimension, but turns are counted and angles measured", from, as.Unit).
		With(cure)
}

// tolOfShare tells the two readings of "5 % +- 1 %" apart.
func tolOfShare(tol *syntax.Tol, d *Def) syntax.Diag {
	lo, hi := d.Node.Value-tol.By.Value, d.Node.Value+tol.By.Value
	return say(tol.At, "a tolerance of a share can be read in two ways").
		With(fmt.Sprintf("write `%s +- %s`, or `%s +- %s` for %s %% to %s %%", units.Format(d.Node.Value), tol.By.Text,
			spell(d.Expr), units.Format(tol.By.Value), units.Format(lo*100), units.Format(hi*100)))
}
