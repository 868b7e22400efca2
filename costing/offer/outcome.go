package offer

import (
	"math/big"
	"slices"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Outcome is what one price paid would come to.
type Outcome struct {
	Price         money.Amount
	BeforeOwnTime money.Amount // expected profit
	AfterOwnTime  money.Amount // expected profit, own hours paid at the shop's rate
	Low, High     money.Amount // profit before own time: one outcome in ten lies below, one above
	Loss          float64      // chance that profit before own time is below 0
	Hours         costing.Hours
	Misses        []Limit // the limits that do not hold at this price

	perHour money.Amount
}

// PerHour is expected profit before own time for each expected own hour, false when none are planned.
func (x Outcome) PerHour() (money.Amount, bool) { return x.perHour, x.Hours > 0 }

// At tells what paying a price would come to.
func (o Offer) At(price money.Amount) Outcome {
	net := o.draws.net
	n := len(net)
	if n == 0 {
		return Outcome{Price: price}
	}
	x := Outcome{
		Price: price, Hours: o.Hours,
		Low: net[n/10] - price, High: net[n-1-n/10] - price,
	}
	profit := o.draws.sum - money.Amount(n)*price
	x.BeforeOwnTime = o.draws.mean(profit)
	x.AfterOwnTime = x.BeforeOwnTime - o.Hours.At(o.settings.OwnRate)
	lost, _ := slices.BinarySearch(net, price) // how many nets are below the price
	x.Loss = float64(lost) / float64(n)
	if o.draws.minutes > 0 {
		x.perHour = money.Round(float64(profit) * float64(costing.Hour) / float64(o.draws.minutes))
	}
	for _, l := range []Limit{ByProfit, ByRisk, ByHour} {
		if !o.holds(l, price, lost) {
			x.Misses = append(x.Misses, l)
		}
	}
	return x
}

// holds weighs a price against a limit, exactly.
func (o Offer) holds(l Limit, price money.Amount, lost int) bool {
	n := int64(len(o.draws.net))
	profit := new(big.Int).Sub(big.NewInt(int64(o.draws.sum)), new(big.Int).Mul(big.NewInt(n), big.NewInt(int64(price))))
	var wanted *big.Int
	switch l {
	case ByRisk:
		return lost <= o.draws.mayLose(o.settings.Risk)
	case ByHour:
		if o.draws.minutes == 0 {
			return true
		}
		profit.Mul(profit, big.NewInt(int64(costing.Hour)))
		wanted = new(big.Int).Mul(big.NewInt(int64(o.settings.PerHour)), big.NewInt(o.draws.minutes))
	default:
		wanted = new(big.Int).Mul(big.NewInt(int64(o.settings.Profit)), big.NewInt(n))
	}
	return profit.Cmp(wanted) >= 0
}

// Curve is the outcome of n prices evenly spread from one to another, both among them; fewer than two
// are taken as two.
func (o Offer) Curve(from, to money.Amount, n int) []Outcome {
	n = max(n, 2)
	out := make([]Outcome, n)
	for i := range out {
		out[i] = o.At(from + money.Round(float64(to-from)*float64(i)/float64(n-1)))
	}
	return out
}
