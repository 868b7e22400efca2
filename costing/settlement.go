package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Settlement is money passed on that is nobody's cost.
type Settlement struct {
	ID      string
	Version int64
	Kind    SettlementKind
	On      day.Day
	Amount  money.Amount // below nothing where it came back
	MotorID string       // of a motor sold for its owner
	Note    string
}

// SettlementKind is whom the money went to.
type SettlementKind string

const (
	TaxPaid   SettlementKind = "tax"   // tax on sales, less tax on receipts that is recovered
	OwnerPaid SettlementKind = "owner" // what the owner of a motor sold for a commission is due
)

// SettlementKinds are all there are.
var SettlementKinds = []SettlementKind{TaxPaid, OwnerPaid}
