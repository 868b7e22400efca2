package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Hold keeps a motor for a buyer. Its deposit is owed to the buyer until the sale, when it becomes part of
// the price. Of a buyer who does not come the shop may keep it: that is other income, and no price of the
// motor.
type Hold struct {
	ID      string
	Version int64
	MotorID string
	On      day.Day
	Until   day.Day // held to the end of that day; 0 none was agreed
	Buyer   string
	Contact string
	Note    string

	Deposit   money.Amount // taken on On
	Method    Payment
	ClearedOn day.Day // the money is surely there; 0 not yet

	Outcome   HoldOutcome
	SettledOn day.Day      // 0 while it is open
	Kept      money.Amount // of the deposit, when the buyer did not come; the rest was given back
}

// HoldOutcome is how a hold ended.
type HoldOutcome string

const (
	HoldOpen     HoldOutcome = ""
	HoldSold     HoldOutcome = "sold"     // to that buyer: the deposit is part of the price
	HoldNoShow   HoldOutcome = "no-show"  // the deposit, or some of it, stays with the shop
	HoldReturned HoldOutcome = "returned" // the deposit went back
)

// HoldOutcomes are all there are.
var HoldOutcomes = []HoldOutcome{HoldOpen, HoldSold, HoldNoShow, HoldReturned}

var holdNames = map[HoldOutcome]string{HoldSold: "sold", HoldNoShow: "no-show", HoldReturned: "given back"}

// Name as a label: "no-show".
func (o HoldOutcome) Name() say.Sentence {
	if o == HoldOpen {
		return say.New("hold.open", "held")
	}
	return label("hold.", string(o), holdNames[o])
}

// Settled tells whether the hold had ended by the end of a day; day 0 is after everything.
func (h Hold) Settled(until day.Day) bool {
	return h.Outcome != HoldOpen && (until == 0 || h.SettledOn <= until)
}

// Owed is the deposit that is owed to the buyer at the end of a day; day 0 takes everything.
func (h Hold) Owed(until day.Day) money.Amount {
	if until != 0 && h.On > until || h.Settled(until) {
		return 0
	}
	return h.Deposit
}

// Income is what of the deposit the shop kept of a buyer who did not come, by the end of a day.
func (h Hold) Income(until day.Day) money.Amount {
	if h.Outcome != HoldNoShow || !h.Settled(until) {
		return 0
	}
	return h.Kept
}

// GivenBack is what of the deposit went back by the end of a day.
func (h Hold) GivenBack(until day.Day) money.Amount {
	if !h.Settled(until) {
		return 0
	}
	switch h.Outcome {
	case HoldReturned:
		return h.Deposit
	case HoldNoShow:
		return h.Deposit - h.Kept
	}
	return 0
}

// Overdue tells whether the last day of an open hold is past.
func (h Hold) Overdue(today day.Day) bool {
	return h.Outcome == HoldOpen && h.Until != 0 && today > h.Until
}

// OpenHold is the hold that a motor stands under, and false when it is held for nobody.
func (r Record) OpenHold() (Hold, bool) {
	for _, h := range r.Holds {
		if h.Outcome == HoldOpen {
			return h, true
		}
	}
	return Hold{}, false
}
