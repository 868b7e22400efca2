package costing

import (
	"strconv"

	"skegworth/valuation/money"
)

// Hours is time worked, in whole minutes.
type Hours int64

// Hour is sixty minutes.
const Hour Hours = 60

// Float is the time in hours.
func (h Hours) Float() float64 { return float64(h) / 60 }

// String writes hours to one digit: "17.5".
func (h Hours) String() string { return strconv.FormatFloat(h.Float(), 'f', 1, 64) }

// At is the pay for the time at a rate per hour, to the nearest minor unit.
func (h Hours) At(rate money.Amount) money.Amount {
	return money.Round(float64(rate) * float64(h) / 60)
}
