// Package asking tells what to ask for a motor and below what to keep it, in its first honest form: the
// middle and the low end of its resale band. How long it may take to sell is not in it yet.
package asking

import (
	"math"

	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Resale is what the motor may bring as it stands. [skegworth/valuation.Band] is one.
type Resale interface {
	Median() money.Amount
	// Interval gives the prices between which a share level of sales falls, as much below as above.
	Interval(level float64) (low, high money.Amount)
}

// level of the band whose low end is the walk-away price: one price in ten lies below it.
const level = 0.8

// Advice is what to ask, and the least to take.
type Advice struct {
	Ask      money.Amount // the band's median: half of such motors sell for more
	WalkAway money.Amount // the low end of the 80 % band
	Reason   say.Sentence // why to walk away below it

	// BreakEven is the least price that pays for all that was spent on the motor and for selling it.
	// PaidForTime pays for the own hours as well. Both include the marketplace's share, and are only
	// known when Priced is true: there is no such price where the marketplace takes all of it.
	BreakEven   money.Amount
	PaidForTime money.Amount
	Priced      bool

	Warnings []say.Sentence // about the price; the band carries its own
}

// Suggest advises on a motor from its band, its cost sheet and the shop's rates. Selling costs of the
// plan count as far as the sheet does not show them yet.
func Suggest(band Resale, r costing.Record, s costing.Settings) Advice {
	low, _ := band.Interval(level)
	a := Advice{
		Ask:      max(band.Median(), 0),
		WalkAway: max(low, 0),
		Reason: say.New("asking.walk-away",
			"One buyer in ten would pay less than this; below it you would be giving away what waiting usually brings."),
	}
	sheet := r.Sheet(0, s.OwnRate)
	cost := sheet.Total + max(r.Plan.Selling-sheet.Selling, 0)
	a.BreakEven, a.Priced = LeastPrice(cost, s.FeeRate)
	a.PaidForTime, _ = LeastPrice(cost+sheet.OwnTime, s.FeeRate)
	a.Warnings = a.warn(s.MoneyOrNone())
	return a
}

func (a Advice) warn(c money.Currency) []say.Sentence {
	switch {
	case !a.Priced:
		return []say.Sentence{say.New("asking.no-break-even",
			"No price breaks even at the fee rate in the settings.")}
	case a.Ask < a.BreakEven:
		return []say.Sentence{say.New("asking.below",
			"The asking price is {{.Short}} below break-even, which is {{.BreakEven}}: even a good sale does not bring back what is in it.",
			"Short", c.Whole(a.BreakEven-a.Ask), "BreakEven", c.Whole(a.BreakEven))}
	case a.WalkAway < a.BreakEven:
		return []say.Sentence{say.New("asking.walk-below",
			"Between {{.WalkAway}} and {{.BreakEven}} you sell at a loss. What is in it is spent either way, so that alone is no reason to wait.",
			"WalkAway", c.Whole(a.WalkAway), "BreakEven", c.Whole(a.BreakEven))}
	}
	return nil
}

// BreakEven is the least price of which costs are left after the marketplace's share at the shop's fee
// rate. Where the fee rate leaves no such price it is the largest amount; LeastPrice tells.
func BreakEven(costs money.Amount, s costing.Settings) money.Amount {
	p, ok := LeastPrice(costs, s.FeeRate)
	if !ok {
		return math.MaxInt64
	}
	return p
}

// LeastPrice is the least whole number of minor units p with
//
//	p - round(p x fee rate) >= costs
//
// and 0 where costs are nothing or less. It is false when there is none, or none that anybody could pay:
// at a fee rate that is not from 0 to less than 1, or so near 1 that the price has no end.
func LeastPrice(costs money.Amount, feeRate float64) (money.Amount, bool) {
	if !(feeRate >= 0 && feeRate < 1) {
		return 0, false
	}
	if costs <= 0 {
		return 0, true
	}
	near := float64(costs) / (1 - feeRate)
	if near > 1e15 { // beyond it a float no longer tells one minor unit from the next
		return 0, false
	}
	left := func(p money.Amount) money.Amount { return p - p.Times(feeRate) }
	p := money.Round(near)
	for left(p) < costs {
		p++
	}
	for p > 0 && left(p-1) >= costs {
		p--
	}
	return p, true
}
