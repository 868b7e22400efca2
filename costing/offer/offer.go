// Package offer tells the most to pay for a motor that is to be put right and sold.
//
// It draws the same set of outcomes each time, so the figures do not shiver while one types: resale
// prices from the band, parts and own hours from their three-point guesses read as triangles, each cut
// into equally likely slices with one draw from the middle of every slice, parts dealt to resale prices
// in a fixed shuffle. Parts are thus taken to have nothing to do with the price the motor brings, which
// is common practice and no more.
//
// What is left of each outcome before the price paid,
//
//	net = resale x (1 - fee rate) - parts - selling - trip
//
// sorted, answers every question about a price exactly: no search, no second round of chance.
package offer

import (
	"errors"
	"fmt"
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

// Input is the motor's resale band in the state it will be sold in, and what it takes to get there.
type Input struct {
	Band     Resale
	Plan     costing.Plan
	Settings costing.Settings
	Asking   money.Amount // the seller's price, 0 when it is not known
	Spent    money.Amount // already spent on it, such as the trip to look: gone whether it is bought or not
}

// Offer is the answer: the top price, what limits it, and what any price would come to.
type Offer struct {
	Top     money.Amount // the most to pay, never under 0
	Binds   Limit        // what keeps it from being more
	TooThin bool         // not even for nothing would it meet every limit; Top is then 0
	Limits  []LimitPrice // the top price under each limit by itself

	Asking money.Amount
	Resale money.Amount  // expected resale price
	Fees   money.Amount  // expected share of it that the marketplace keeps
	Costs  money.Amount  // expected parts, selling and trip: all but the price paid and the fees
	Hours  costing.Hours // expected own hours

	Warnings []say.Sentence // about the plan; the band carries its own
	Notes    []say.Sentence // how it was worked out

	draws    draws
	settings costing.Settings
	currency money.Currency
}

// Appraise works out an offer. Errors name the field that figures cannot be worked out with.
func Appraise(in Input) (Offer, error) {
	if err := check(in); err != nil {
		return Offer{}, fmt.Errorf("work out what to pay: %w", err)
	}
	d, err := deal(in)
	if err != nil {
		return Offer{}, fmt.Errorf("work out what to pay: %w", err)
	}
	o := d.offer(in.Settings, in.Asking)
	o.Warnings = o.warn(in)
	o.Notes = notes()
	return o, nil
}

// offer is what the outcomes come to under the shop's lines.
func (d draws) offer(s costing.Settings, asking money.Amount) Offer {
	o := Offer{Asking: asking, draws: d, settings: s, currency: s.MoneyOrNone()}
	o.Resale, o.Fees, o.Costs = d.resale, d.fees, d.costs
	o.Hours = costing.Hours(math.Round(float64(d.minutes) / float64(len(d.net))))
	o.Limits = d.limits(s)
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

func check(in Input) error {
	if in.Band == nil {
		return errors.New("resale band: there is none")
	}
	if err := in.Settings.Check(); err != nil {
		return err
	}
	if err := in.Plan.Parts.Check(); err != nil {
		return fmt.Errorf("parts: %w", err)
	}
	if err := in.Plan.Hours.Check(); err != nil {
		return fmt.Errorf("hours: %w", err)
	}
	switch most := float64(maxAmount); {
	case in.Plan.Parts.Full().High > most:
		return errors.New("parts: it is too large")
	case in.Plan.Hours.Full().High > maxHours:
		return fmt.Errorf("hours: more than %d is too large", maxHours)
	case !(in.Plan.Trip >= 0) || in.Plan.Trip*float64(in.Settings.TripRate) > most:
		return errors.New("trip: the distance must be 0 or more, and not without end")
	case in.Plan.Selling < 0 || in.Plan.Selling > maxAmount:
		return errors.New("selling: its cost must be 0 or more")
	}
	return nil
}
