package costing

import "skegworth/valuation/money"

// Exchange is a motor that a buyer gave against the price.
//
// What was sold brought the money and what that motor is fairly worth, whatever was allowed for it (IFRS 15
// para 66: consideration that is not cash is measured at fair value). What was allowed beyond that is a
// discount. The motor stands on the bench at its fair value.
type Exchange struct {
	MotorID string       // the motor taken in; "" when none was
	Allowed money.Amount // what the buyer was given for it
	Value   money.Amount // what it is fairly worth
}

// Over is what was allowed beyond the fair value: a discount; below nothing where less was allowed.
func (e Exchange) Over() money.Amount { return e.Allowed - e.Value }

// Included is what went along with a motor.
type Included struct {
	Controls  bool // box and cables
	Propeller bool
	Tank      bool
	Harness   bool
	Other     string
}

// Nothing tells whether nothing is written down.
func (i Included) Nothing() bool { return i == Included{} }

// Money is what the buyer paid in money for the motor itself, deposit and all, without freight charged.
func (s Sale) Money() money.Amount { return s.Price - s.Exchange.Value }

// Agreed is the price as it was spoken: the money and what was allowed for the motor taken in.
func (s Sale) Agreed() money.Amount { return s.Price + s.Exchange.Over() }

// Due is what was to be paid on the day of the sale: the money and the freight charged, less the deposit.
func (s Sale) Due() money.Amount { return s.Money() + s.Freight - s.Deposit }

// Cleared tells whether the money is surely there.
func (s Sale) Cleared() bool { return s.ClearedOn != 0 }
