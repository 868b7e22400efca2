package asking

import (
	"time"

	"skegworth/valuation/day"
)

// The months in which motors sell where the shop does not say: north of the equator, common practice, from
// memory.
const (
	usualFrom = time.March
	usualTo   = time.September
)

// Outside is slow outside the months from one to another, which may go over the turn of the year. Where
// either is 0 they are the usual ones.
func Outside(from, to int) Slow {
	if from < 1 || from > 12 || to < 1 || to > 12 {
		from, to = int(usualFrom), int(usualTo)
	}
	return func(d day.Day) bool {
		m := int(d.Month())
		if from <= to {
			return m < from || m > to
		}
		return m < from && m > to
	}
}
