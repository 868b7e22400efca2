// Package offer tells the most to pay for a motor that is to be put right and sold, or broken.
//
// What is not known is of two kinds. Some either is or is not: what ails the powerhead, whether the motor
// comes back, whether a part sells. All that may be together are the joint cases, and each is met with its
// exact chance. The rest may be more or less: what it sells for, by its band, and what the work takes, by its
// three-point guesses read as triangles. Within each joint case that is spread over a fixed set of points
// that fill its range evenly, the same ones every time, so the figures do not shiver while one types.
//
// What is left of each outcome before the price paid,
//
//	net = resale x (1 - fee rate) - work - selling - trip - comeback - holding
//
// sorted, answers every question about a price exactly: no search, no second round of chance. A price paid
// takes its outlay off: the price with the buyer's fee and the tax on it, and what the cash in it costs.
package offer

import (
	"math"

	"skegworth/costing"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Resale is what the motor may bring once it is done. [skegworth/valuation.Band] is one.
type Resale interface {
	// Draws gives n equally likely prices, ascending.
	Draws(n int) []money.Amount
}

// Offer is the answer: the top price, what limits it, and what any price would come to.
type Offer struct {
	Top     money.Amount // the most to pay, never under 0
	Binds   Limit        // what keeps it from being more
	TooThin bool         // not even for nothing would it meet every limit; Top is then 0
	Limits  []LimitPrice // the top price under each limit by itself

	Asking  money.Amount
	Resale  money.Amount  // expected resale price
	Fees    money.Amount  // expected share of it that the marketplace keeps
	Costs   money.Amount  // expected work, selling, trips and comebacks: all but the price paid and what goes by it, fees and holding
	Holding money.Amount  // expected cost of the cash in those and of the place it takes, the price paid apart
	Hours   costing.Hours // expected own hours

	Warnings []say.Sentence // about the plan; the band carries its own
	Notes    []say.Sentence // how it was worked out

	draws    draws
	outlay   outlay
	risky    money.Amount // the most outlay that the line of risk bears
	anyRisk  bool         // it bears every outlay
	settings costing.Settings
	currency money.Currency
}

// offer is what the outcomes come to under the shop's lines.
func (d draws) offer(s costing.Settings, asking money.Amount, out outlay) Offer {
	o := Offer{Asking: asking, draws: d, outlay: out, settings: s, currency: s.MoneyOrNone()}
	o.Resale, o.Fees, o.Costs, o.Holding = money.Round(d.resale), money.Round(d.fees), money.Round(d.costs), money.Round(d.hold)
	o.Hours = costing.Hours(math.Round(d.time))
	net, limited := d.risky(s.Risk)
	o.risky, o.anyRisk = net, !limited
	o.Limits = d.limits(s, out, o.risky, o.anyRisk)
	lowest := o.lowest()
	o.Binds, o.Top, o.TooThin = lowest.Limit, max(lowest.Price, 0), lowest.Price < 0
	return o
}

// lowest is the limit that binds, with its price even where that is below nothing.
func (o Offer) lowest() LimitPrice {
	lowest := o.Limits[0]
	for _, l := range o.Limits[1:] {
		if l.Price < lowest.Price {
			lowest = l
		}
	}
	return lowest
}

// maxHours is more than anyone would put into one motor.
const maxHours = 100_000
