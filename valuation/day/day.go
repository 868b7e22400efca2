// Package day has calendar days: no clock, no zone. A sale happens on a day; how long a motor stood is
// a count of days. The proleptic Gregorian calendar of ISO 8601 is used throughout.
package day

import (
	"fmt"
	"time"
)

// Day counts days since 0001-01-01; the zero value means "no day given" and prints as "".
// Days compare with < and ==, and the difference of two is a number of days.
type Day int32

const first = 1 // 0001-01-01 is day 1, which leaves 0 for "none"

// Of makes a day from its year, month and day of the month. Values out of range roll over as in
// [time.Date]: the 31st of April is the 1st of May. Use Valid to refuse them.
func Of(year int, month time.Month, dayOfMonth int) Day {
	t := time.Date(year, month, dayOfMonth, 0, 0, 0, 0, time.UTC)
	return Day(t.Unix()/86400 + 719162 + first)
}

// Valid tells whether the three numbers name a day that exists in the years 1 to 9999.
func Valid(year int, month time.Month, dayOfMonth int) bool {
	if year < 1 || year > 9999 {
		return false
	}
	t := time.Date(year, month, dayOfMonth, 0, 0, 0, 0, time.UTC)
	return t.Year() == year && t.Month() == month && t.Day() == dayOfMonth
}

// FromTime is the calendar day that t's own clock shows.
func FromTime(t time.Time) Day { return Of(t.Year(), t.Month(), t.Day()) }

// Parse reads an ISO 8601 day, 2026-04-30; "" is the zero Day.
func Parse(s string) (Day, error) {
	if s == "" {
		return 0, nil
	}
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1 {
		return 0, fmt.Errorf("read a date: %q is not a day written as 2026-04-30", s)
	}
	return FromTime(t), nil
}

// Time is midnight of the day in UTC, for libraries that want one.
func (d Day) Time() time.Time { return time.Unix((int64(d)-first-719162)*86400, 0).UTC() }

// String is the ISO 8601 form, or "" for no day.
func (d Day) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// Year is the calendar year, 0 for no day.
func (d Day) Year() int {
	if d == 0 {
		return 0
	}
	return d.Time().Year()
}

// Month is the calendar month, 0 for no day.
func (d Day) Month() time.Month {
	if d == 0 {
		return 0
	}
	return d.Time().Month()
}

// Years is the time from since to d in years of 365.25 days, negative when d is earlier.
func (d Day) Years(since Day) float64 { return float64(d-since) / 365.25 }

// MarshalText writes the ISO form.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO form.
func (d *Day) UnmarshalText(text []byte) error {
	v, err := Parse(string(text))
	if err == nil {
		*d = v
	}
	return err
}
