package syntax

import (
	"strings"
	"time"

	"railsum/units"
	"railsum/units/words"
)

// date is the word behind "as" in the head of a column of dates, and the function
// that makes one of a text.
const date = "date"

// digits is what may be a date: three numbers with one mark between them, the
// first or the last of them a year.
type digits struct {
	end   int
	mark  byte
	parts [3]string
	year  bool // the year stands first
}

// looksLikeDate reads 2026-11-25, 25/11/2026 and the like.
func (s *scanner) looksLikeDate(off int) (d digits, ok bool) {
	at, n := off, 0
	for {
		end := s.digits(at)
		d.parts[n] = s.text[at:end]
		n++
		c := s.at(end)
		more := (c == '-' || c == '/') && (d.mark == 0 || c == d.mark) && isDigit(s.at(end+1))
		if n == len(d.parts) || !more {
			d.end = end
			if more {
				return d, false
			}
			break
		}
		d.mark, at = c, end+1
	}
	if n < len(d.parts) || s.at(d.end) == '.' || off > 0 && (s.text[off-1] == d.mark || s.text[off-1] == '.') {
		return d, false
	}
	year, day := d.parts[0], d.parts[2]
	d.year = len(year) == 4
	if d.mark == '/' && !d.year {
		year, day = day, year
	}
	return d, len(year) == 4 && (year[0] == '1' || year[0] == '2') && len(d.parts[1]) <= 2 && len(day) <= 2 && day != ""
}

// date scans a bare date where one can stand. Elsewhere it refuses what looks like
// one and would be a sum.
func (s *scanner) date(t *token) bool {
	d, ok := s.looksLikeDate(t.off)
	if !ok {
		return false
	}
	text := s.text[t.off:d.end]
	if !s.dates {
		numbers := make([]string, len(d.parts))
		for i, p := range d.parts {
			numbers[i] = canonicalDigits(p)
		}
		cure := "write `" + strings.Join(numbers, " "+string(d.mark)+" ") + "` if it is one"
		if may := d.dates(); may != nil {
			for i, m := range may {
				may[i] = date + `("` + m + `")`
			}
			cure = "write `" + strings.Join(may, "` or `") + "`, or " + strings.TrimPrefix(cure, "write ")
		}
		s.fail(t.off, say("%s looks like a date, and would be a sum", text).With(cure))
		return true
	}
	v, wrong := units.ParseDate(text)
	if wrong != nil {
		s.fail(t.off, WrongDate(text))
		return true
	}
	t.kind, t.lit.Value = day, v
	s.off = d.end
	return true
}

// WrongDate says of a text what is wrong with it as a date; one that is written in
// another way is told as it is to be written, be it two.
func WrongDate(text string) words.Wrong {
	_, wrong := units.ParseDate(text)
	if wrong == nil {
		return words.Wrong{}
	}
	if may := otherwise(text); may != nil {
		return say("%s is not written as a date is here", text).With("write `" + strings.Join(may, "` or `") + "`")
	}
	return *wrong
}

// LikeDate reads what looks like a date where a text begins: how long that is, 0 if
// nothing does, and the dates that it may mean.
func LikeDate(text string) (n int, may []string) {
	s := scanner{}
	s.start(text, 1)
	d, ok := s.looksLikeDate(0)
	if !ok {
		return 0, nil
	}
	return d.end, d.dates()
}

// otherwise gives the dates that a text may mean that is not written as ISO 8601 has
// it, nil if it is none.
func otherwise(text string) []string {
	if n, may := LikeDate(strings.ReplaceAll(text, ".", "/")); n > 0 && n == len(text) {
		return may
	}
	for _, form := range []string{"2 Jan 2006", "2 January 2006", "Jan 2, 2006", "January 2, 2006", "Jan 2 2006",
		"January 2 2006"} {
		if t, err := time.Parse(form, text); err == nil {
			return []string{t.Format(time.DateOnly)}
		}
	}
	return nil
}

// otherDate refuses a date that is written in another way, before its words and marks
// are taken for something else.
func (p *parser) otherDate(from, to int) {
	from = p.blanks(from)
	text := trimBlanks(p.text[from:to])
	if _, wrong := units.ParseDate(text); wrong != nil && otherwise(text) != nil {
		p.fail(from, WrongDate(text))
	}
}

// dates are those that may be meant, as they are to be written.
func (d digits) dates() []string {
	two := func(s string) string { return ("0" + s)[len(s)-1:] }
	try := func(month, day string, year string) (all []string) {
		text := year + "-" + two(month) + "-" + two(day)
		if _, wrong := units.ParseDate(text); wrong == nil {
			all = append(all, text)
		}
		return all
	}
	if d.year {
		return try(d.parts[1], d.parts[2], d.parts[0])
	}
	all := try(d.parts[1], d.parts[0], d.parts[2])
	if d.parts[0] != d.parts[1] {
		all = append(all, try(d.parts[0], d.parts[1], d.parts[2])...)
	}
	return all
}

// withDates reads where a date may stand bare, from the token behind the next one
// on.
func (p *parser) withDates(read func()) {
	outer := p.dates
	p.dates = true
	read()
	p.dates = outer
}

// onDate reads what follows "on".
func (p *parser) onDate() Expr {
	p.otherDate(p.off, p.end)
	p.advance()
	if p.done() {
		p.fail(p.tok.off, say("a date must follow").With("as in `on "+units.DateForm+"`"))
		return nil
	}
	x := p.sum()
	if p.tok.is("+-") || p.tok.isWord("as") {
		p.fail(p.tok.off, say("the date stands last").With("put `on` with its date at the end of the line"))
	}
	return x
}

// DateCall is a date as it stands anywhere, date("2026-11-25").
func DateCall(at Pos, text string) Expr {
	return &Call{At: at, Name: date, Args: []Expr{&Text{At: at, Value: text}}}
}

// BareDate is a date("2026-11-25") as it stands in a column of dates, any other
// expression as it is.
func BareDate(e Expr) Expr {
	if c, is := e.(*Call); is && Written(e) {
		if v, wrong := units.ParseDate(c.Args[0].(*Text).Value); wrong == nil {
			return &Date{At: c.At, Value: v}
		}
	}
	return e
}

// Written reports whether an expression is a value that is written out.
func Written(e Expr) bool {
	switch e := e.(type) {
	case *Literal, *Text, *Truth, *None, *Date:
		return true
	case *Unary:
		_, number := e.X.(*Literal)
		return number && e.Op == "-"
	case *Call:
		if e.Name != date || len(e.Args) != 1 {
			return false
		}
		_, text := e.Args[0].(*Text)
		return text
	}
	return false
}
