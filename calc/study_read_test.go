package calc_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"railsum/calc"
	"railsum/calc/answer"
)

// The words of the column read for what the last study of a row says:
//
//	found             the only place that a find line has found, or its choice
//	found 2           the second of its places
//	found from, up to the ends of the only stretch
//	found row         the label of the row that was chosen from a table
//	WHAT of spread    nominal, lowest, highest, rss, low95 or high95
//	share X of spread the share of the variance that comes from X
//	share of rule     in what share of the samples the only rule holds
//	measured less the sum, explained by X
//	                  of a measured line
//
// studyRead gives a nil value for other words.
func studyRead(book *calc.Book, read string) (*answer.Value, error) {
	words := strings.Fields(read)
	if len(words) == 0 || !strings.HasPrefix(read, "found") && !strings.HasSuffix(read, "of spread") && read != "share of rule" &&
		!strings.HasPrefix(read, "measured ") && !strings.HasPrefix(read, "explained ") {
		return nil, nil
	}
	last := lastStudy(book)
	if last == nil {
		return nil, fmt.Errorf("there is no study to read")
	}
	switch s := last.(type) {
	case *answer.Found:
		if words[0] == "found" {
			return readFind(s, strings.Join(words[1:], " "))
		}
	case answer.Spreads:
		switch {
		case len(s) == 1 && read == "share of rule" && len(s[0].Rules) == 1:
			return number(s[0].Rules[0].Holds), nil
		case len(s) == 1:
			return readSpread(s[0], words)
		}
	case *answer.Measured:
		if words[0] == "measured" {
			return s.Difference, nil
		}
		for _, e := range s.Suspects {
			if e.Name == words[len(words)-1] {
				return e.Wanted, nil
			}
		}
	}
	return nil, fmt.Errorf("the study has no %q", read)
}

func readFind(f *answer.Found, read string) (*answer.Value, error) {
	n, err := strconv.Atoi(read)
	switch {
	case read == "row" && f.Chosen != nil:
		return answered(open(strconv.Quote(f.Label)).Answers(), ""), nil
	case read == "" && f.Chosen != nil:
		return f.Chosen, nil
	case err == nil && n >= 1 && n <= len(f.Places):
		return f.Places[n-1].From, nil
	case len(f.Places) != 1:
		return nil, fmt.Errorf("found %s, not one place", spellFind(f))
	case read == "" && f.Places[0].From.Numbers[0] == f.Places[0].To.Numbers[0] && !f.Places[0].Jump, read == "from":
		return f.Places[0].From, nil
	case read == "up to":
		return f.Places[0].To, nil
	}
	return nil, fmt.Errorf("found %s", spellFind(f))
}

func readSpread(s *answer.Spread, words []string) (*answer.Value, error) {
	switch words[0] {
	case "nominal":
		return s.Nominal, nil
	case "lowest":
		return s.Lowest, nil
	case "highest":
		return s.Highest, nil
	case "rss":
		return s.RSS, nil
	case "low95":
		return s.Low95, nil
	case "high95":
		return s.High95, nil
	case "share":
		for _, p := range s.Parts {
			if p.Name == words[1] {
				return number(p.Share), nil
			}
		}
	}
	return nil, fmt.Errorf("the spread has no %q", strings.Join(words, " "))
}

// number makes a value of a plain number.
func number(x float64) *answer.Value {
	return answered(open(strconv.FormatFloat(x, 'g', -1, 64)).Answers(), "")
}

// Enough of what studies say is printed elsewhere.
func TestPublishedStudies(t *testing.T) {
	found, spread := 0, 0
	for _, r := range readRows(t, "../testdata/published/studies.tsv", "lines", "read", "expected", "tolerance", "basis", "source") {
		switch {
		case r.of["basis"] != "published":
		case strings.HasPrefix(r.of["read"], "found"):
			found++
		case strings.Contains(r.of["source"], "python3-uncertainties 3.1.6"):
			spread++
		}
	}
	if found < 70 || spread < 25 {
		t.Errorf("%d values found and %d spreads are checked against outside values, want 70 and 25", found, spread)
	}
}

// A word of the column read that means nothing must not pass.
func TestStudyReadCanFail(t *testing.T) {
	for _, r := range []struct{ lines, read string }{
		{"x = 1 ; find x so x = 2", "found 2"},
		{"x = 1 ; find x so x^2 = 4", "found"},
		{"x = 1 ; find x from 1 to 9 so x >= 4", "found"},
		{"x = 1 ; find x from 1 to 9 so ceil(x) = 4.5", "found"},
		{"x = 1 ; find x from 1 to 2 so x = 4", "found"},
		{"x = 1 ; find x so x = 2", "lowest of spread"},
		{"x = 1 ; spread x", "widest of spread"},
		{"x = 1 +- 1 % ; spread x", "share y of spread"},
		{"x = 1 ; spread x", "share of rule"},
		{"x = 1 ; measured x = 2", "explained by y"},
		{"x = 1", "found"},
	} {
		if got, err := studyRead(open(r.lines), r.read); err == nil || got != nil {
			t.Errorf("%s: %q reads %v", r.lines, r.read, got)
		}
	}
}
