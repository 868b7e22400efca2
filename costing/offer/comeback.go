package offer

import (
	"math"

	"skegworth/valuation"
	"skegworth/valuation/money"
)

// Comeback is what a sold motor may yet cost: the chance that it comes back, and what that takes.
type Comeback struct {
	Chance float64
	Cost   money.Amount
	Own    int // own sales that it rests on
}

// PastSale is a sold motor as far as comebacks go.
type PastSale struct {
	State        valuation.State
	WarrantyDays int
	After        money.Amount // comebacks and refunds, 0 when it stayed away
}

// Starting figures, common practice, from memory: comebacks among a hundred motors sold with thirty days of
// warranty, and what one costs as a part of the price.
var comebackStart = map[valuation.State]float64{
	valuation.PartsOnly: 1, valuation.Dead: 1, valuation.Runs: 6, valuation.Serviced: 8, valuation.Rebuilt: 12,
}

const (
	comebackShare  = 0.06 // of the price
	comebackPrior  = 8.0  // motors that the starting figure counts for
	goodwillDays   = 10   // a motor sold without warranty is taken back for as long
	comebackPeriod = 40   // goodwill and thirty days of warranty
)

// exposure is how long a motor may come back, in units of the usual time.
func exposure(warrantyDays int) float64 {
	return float64(goodwillDays+max(0, warrantyDays)) / comebackPeriod
}

// Comebacks learns the chance and the cost of comebacks for a motor sold in a state with a warranty. They
// come at a rate in time, Gamma before and after (Gelman and others, Bayesian Data Analysis, 3rd edition,
// section 2.6): rate = (prior count + own comebacks) / (prior time + own time), chance = 1 - exp(-rate x
// time). Price is what such a motor brings, for the starting figure of the cost.
func Comebacks(past []PastSale, state valuation.State, warrantyDays int, price money.Amount) Comeback {
	start := comebackStart[state] / 100
	count, time := start*comebackPrior, comebackPrior
	cost, costs := comebackShare*float64(price), 1.0
	out := Comeback{}
	for _, p := range past {
		if p.State != state {
			continue
		}
		out.Own++
		time += exposure(p.WarrantyDays)
		if p.After > 0 {
			count++
			cost += float64(p.After)
			costs++
		}
	}
	out.Chance = 1 - math.Exp(-count/time*exposure(warrantyDays))
	out.Cost = money.Round(cost / costs)
	return out
}
