package offer

import (
	"time"

	"skegworth/costing"
	"skegworth/valuation/day"
)

// Days is how long cash is tied up in a motor, and when it is sold.
type Days struct {
	Bench, Sell int
	SoldOn      day.Day
	Waits       bool // for the season
}

// Total from buying to selling.
func (d Days) Total(from day.Day) int { return int(d.SoldOn - from) }

// Season is the months in which motors sell, the first and the last among them. It may run over the turn of
// the year, as it does south of the equator.
type Season struct{ From, To time.Month }

// SeasonOf the shop's choices: where they do not say, March to September, which is common practice north of
// the equator, from memory.
func SeasonOf(s costing.Settings) Season {
	out := Season{time.March, time.September}
	if s.SeasonFrom > 0 && s.SeasonTo > 0 {
		out = Season{time.Month(s.SeasonFrom), time.Month(s.SeasonTo)}
	}
	return out
}

// Holds tells whether motors sell in a month.
func (s Season) Holds(m time.Month) bool {
	if s.From <= s.To {
		return s.From <= m && m <= s.To
	}
	return m >= s.From || m <= s.To
}

// SellingDay is when a motor bought on a day is sold, given days on the bench and days that a sale takes
// in season. What is ready out of season waits for the next: an autumn purchase is a spring sale.
func (s Season) SellingDay(bought day.Day, bench, sell int) Days {
	ready := bought + day.Day(max(0, bench))
	d := Days{Bench: max(0, bench), Sell: max(0, sell)}
	if month, year := ready.Month(), ready.Year(); !s.Holds(month) {
		if month > s.From {
			year++
		}
		ready, d.Waits = day.Of(year, s.From, 1), true
	}
	d.SoldOn = ready + day.Day(d.Sell)
	return d
}
