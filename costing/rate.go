package costing

import (
	"cmp"
	"slices"

	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Rate is what an own hour is worth from a day on. Time written down keeps the rate of its own day.
type Rate struct {
	ID      string
	Version int64
	From    day.Day
	Each    money.Amount
}

// RateOn is what an own hour was worth on a day: the latest rate that had begun by then, or first before
// the earliest.
func RateOn(rates []Rate, first money.Amount, on day.Day) money.Amount {
	in := slices.Clone(rates)
	slices.SortStableFunc(in, func(a, b Rate) int { return cmp.Compare(a.From, b.From) })
	for _, r := range in {
		if r.From <= on {
			first = r.Each
		}
	}
	return first
}
