package syntax

import "strings"

// What reads two ways though the grammar knows only one.

// twoReadingsOfSum refuses sums whose operands reach further in the reader's
// eye than in the grammar: 5 % of a + b, and a + b at H0.
func (p *parser) twoReadingsOfSum(b *Binary, sign token) {
	if of := bareOf(lastTerm(b.X)); of != nil {
		p.ofBeforeSum(sign.off, of, b)
	} else if at := bareAt(b.Y); at != nil {
		p.atBehindSum(sign.off, at, b)
	}
	if l, ok := b.X.(*Literal); ok && b.Op == "-" && l.Form == Plain {
		if f, ok := b.Y.(*Literal); ok && f.Form == Fraction {
			p.fail(sign.off, say("a number and a length cannot be subtracted").With("write `"+l.Text+" "+f.Text+"`"))
		}
	}
}

// lastTerm is the operand that stands directly before a sign.
func lastTerm(x Expr) Expr {
	if b, ok := x.(*Binary); ok && (b.Op == "+" || b.Op == "-") {
		return b.Y
	}
	return x
}

// bareOf finds an "of" in a product that no parentheses close in.
func bareOf(x Expr) *Binary {
	switch x := x.(type) {
	case *Binary:
		switch x.Op {
		case "of":
			return x
		case "*", "/":
			if of := bareOf(x.X); of != nil {
				return of
			}
			return bareOf(x.Y)
		}
	case *Scaled:
		return bareOf(x.X)
	}
	return nil
}

// bareAt finds an "at" in a product that no parentheses close in.
func bareAt(x Expr) *Scaled {
	for {
		switch y := x.(type) {
		case *Scaled:
			return y
		case *Binary:
			if y.Op != "*" && y.Op != "/" {
				return nil
			}
			x = y.X
		default:
			return nil
		}
	}
}

func isPercent(x Expr) bool {
	l, ok := x.(*Literal)
	return ok && l.Unit.Percent()
}

// twoReadingsOfQuotient refuses 3 / 8 in, which looks like a fraction of an
// inch, and the tolerance +0.2/-0.1 mm.
func (p *parser) twoReadingsOfQuotient(b *Binary, before, sign token) {
	if before.kind != number || before.lit.Form != Plain {
		return
	}
	plus := before.off > 0 && p.text[before.off-1] == '+'
	switch y := b.Y.(type) {
	case *Literal:
		power := strings.HasSuffix(strings.TrimSuffix(p.text[:before.off], "-"), "^")
		if before.num.whole && y.Form == Quantity && y.Unit == inch() && isFractionOf(y.Text) && !power {
			p.fail(sign.off, say("this can be read in two ways").
				With("write `"+before.num.text+"/"+y.Text+"` for the fraction, or `"+before.num.text+" / ("+y.Text+")`"))
		}
	case *Unary:
		l, ok := y.X.(*Literal)
		if plus && ok && l.Form == Quantity && p.text[sign.off+1] == '-' {
			p.unequalTolerance(before.off - 1)
		}
	}
}

// isFractionOf reports whether inches could be the lower part of a fraction.
func isFractionOf(text string) bool {
	switch text {
	case "2 in", "4 in", "8 in", "16 in", "32 in", "64 in":
		return true
	}
	return false
}

// bareQuotient finds a "/" in a product that no parentheses close in.
func bareQuotient(x Expr) *Binary {
	for {
		switch y := x.(type) {
		case *Binary:
			if y.Op == "/" {
				return y
			}
			if y.Op != "*" {
				return nil
			}
			x = y.X
		case *Scaled:
			x = y.X
		default:
			return nil
		}
	}
}
