package offer

import (
	"time"

	"skegworth/valuation/day"
)

// Days is how long cash is tied up in a motor, and when it is sold.
type Days struct {
	Bench, Sell int
	SoldOn      day.Day
	Waits       bool // for spring
}

// Total from buying to selling.
func (d Days) Total(from day.Day) int { return int(d.SoldOn - from) }

// The months in which motors hardly sell, and the day on which they begin to again, north of the equator:
// common practice, from memory.
const (
	lastMonth  = time.September
	firstMonth = time.March
)

// SellingDay is when a motor bought on a day is sold, given days on the bench and days that a sale takes
// in season. What is ready after September waits for March: an autumn purchase is a spring sale.
func SellingDay(bought day.Day, bench, sell int) Days {
	ready := bought + day.Day(max(0, bench))
	d := Days{Bench: max(0, bench), Sell: max(0, sell)}
	month, year := ready.Month(), ready.Year()
	switch {
	case month > lastMonth:
		ready, d.Waits = day.Of(year+1, firstMonth, 1), true
	case month < firstMonth:
		ready, d.Waits = day.Of(year, firstMonth, 1), true
	}
	d.SoldOn = ready + day.Day(d.Sell)
	return d
}
