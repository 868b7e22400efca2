package review

import (
	"fmt"
	"time"

	"skegworth/valuation/day"
)

// Period is a run of days, both ends in it.
type Period struct{ From, To day.Day }

// FiscalYear is the twelve months that start in the given month of the calendar year: the year 2026 of a
// shop whose year starts in April runs to the end of March 2027. A month outside 1 to 12 is January.
func FiscalYear(year, firstMonth int) Period {
	if firstMonth < 1 || firstMonth > 12 {
		firstMonth = 1
	}
	m := time.Month(firstMonth)
	return Period{From: day.Of(year, m, 1), To: day.Of(year+1, m, 1) - 1}
}

// FiscalYearOf is the fiscal year, by the calendar year it starts in, that a day falls in.
func FiscalYearOf(on day.Day, firstMonth int) int {
	year := on.Year()
	if on < FiscalYear(year, firstMonth).From {
		year--
	}
	return year
}

// Has tells whether the day lies in the period.
func (p Period) Has(on day.Day) bool { return p.From <= on && on <= p.To }

// String names a calendar year by its number and any other period by its two ends.
func (p Period) String() string {
	if p == FiscalYear(p.From.Year(), 1) {
		return fmt.Sprint(p.From.Year())
	}
	return p.From.String() + " to " + p.To.String()
}
