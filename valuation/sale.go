package valuation

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Sale is one motor that found a buyer: what it was, when, and for how much.
type Sale struct {
	ID      string
	Motor   Motor // as it stood when sold
	Sold    day.Day
	Price   money.Amount
	Listed  day.Day      // when it was first offered, if known
	Asked   money.Amount // the asking price when it sold, if known
	Channel string
	Note    string

	LeftOut    bool   // kept in the history but not learned from
	LeftOutWhy string // required when left out
}
