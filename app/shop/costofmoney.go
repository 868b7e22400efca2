package shop

import (
	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation/say"
)

// withCostOfMoney puts the usual cost of money where the shop says none, and tells whether it did: what to
// pay and what to ask are both worked out with the same.
func withCostOfMoney(s costing.Settings) (costing.Settings, bool) {
	if s.CostOfMoney > 0 {
		return s, false
	}
	s.CostOfMoney = asking.UsualCostOfMoney
	return s, true
}

// costOfMoneyNote says that an answer takes the usual cost of money, nothing where the shop's own is taken.
func costOfMoneyNote(s costing.Settings) say.Sentence {
	if _, usual := withCostOfMoney(s); !usual {
		return say.Sentence{}
	}
	return say.New("offer.money.usual", "The money in it is reckoned at twelve per cent a year until it is sold, common practice, from memory: the settings say nothing of it.")
}
