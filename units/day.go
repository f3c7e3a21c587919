package units

import (
	"math"
	"time"

	"railsum/units/words"
)

// A date is held as the seconds from the beginning of 1970 to the beginning of
// its day, of days of 86,400 s each: what lies between two dates is a time, and
// no zone of the clock has a say in it.

// DateForm says how a date is written: as ISO 8601 does, in its calendar form.
const DateForm = "2026-11-25"

const daySeconds = 86400

// firstYear is the first that ISO 8601 lets stand without an agreement: dates
// before it are of two calendars.
const firstYear = 1583

// ParseDate gives the seconds of a date in the calendar form of ISO 8601.
func ParseDate(text string) (seconds float64, err *words.Wrong) {
	t, failed := time.Parse(time.DateOnly, text)
	if failed != nil {
		// A year, month or day of other digits is no such form; one that the
		// calendar lacks is another fault.
		wrong := words.Say("%q is no date", text).With("write the year, the month and the day, as in `" + DateForm + "`")
		if len(text) == len(DateForm) && text[4] == '-' && text[7] == '-' && onlyDigits(text[:4]+text[5:7]+text[8:]) {
			wrong = words.Say("the calendar has no %s", text).With("check the month and the day")
		}
		return 0, &wrong
	}
	if t.Year() < firstYear {
		wrong := words.Say("%s lies before the calendar of today", text).With("dates go from 1583-01-01 to 9999-12-31")
		return 0, &wrong
	}
	return float64(t.Unix()), nil
}

func onlyDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// FormatDate spells a date in the form that ParseDate reads.
func FormatDate(seconds float64) string {
	return time.Unix(int64(math.Round(seconds)), 0).UTC().Format(time.DateOnly)
}

// WholeDate gives the date that a sum of a date and a time comes to, as long as it
// is a whole day, but for rounding, that can be written.
func WholeDate(seconds float64) (date float64, ok bool) {
	days := seconds / daySeconds
	whole := math.Round(days)
	if !(math.Abs(days-whole) <= 1e-9*math.Max(1, math.Abs(days))) { // a NaN is none
		return 0, false
	}
	date = whole * daySeconds
	return date, date >= firstDate && date <= lastDate
}

var (
	firstDate = float64(time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC).Unix())
	lastDate  = float64(time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC).Unix())
)
