package costing

import "skegworth/valuation/say"

// Payment is how money came; "" when nobody said.
type Payment string

const (
	InCash     Payment = "cash"
	ByTransfer Payment = "transfer"
	ByCard     Payment = "card"
	ByCheck    Payment = "check"
	ByApp      Payment = "app"
	ByOther    Payment = "other"
)

// Payments in the order a form offers them.
var Payments = []Payment{InCash, ByTransfer, ByCard, ByCheck, ByApp, ByOther}

var paymentNames = map[Payment]string{InCash: "cash", ByTransfer: "bank transfer", ByCard: "card", ByCheck: "bank check",
	ByApp: "payment app", ByOther: "other"}

// Name as a label: "bank transfer".
func (p Payment) Name() say.Sentence { return label("payment.", string(p), paymentNames[p]) }
