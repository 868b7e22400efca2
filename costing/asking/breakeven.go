package asking

import (
	"math"

	"skegworth/costing"
	"skegworth/valuation/money"
)

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
