package offer

import (
	"math"
	"math/big"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Outcome is what one price paid would come to.
type Outcome struct {
	Price         money.Amount
	Fee, Tax      money.Amount // what the buyer's fee and the tax take at that price, where they go by it
	Holding       money.Amount // expected cost of all cash in it and of its place, until it is sold
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
	if len(net.at) == 0 {
		return Outcome{Price: price}
	}
	x := Outcome{Price: price, Hours: o.Hours}
	x.Fee, x.Tax, x.Holding = o.outlay.parts(price)
	out := price + x.Fee + x.Tax + x.Holding
	x.Holding += o.Holding
	x.Low, x.High = net.quantile(0.1)-out, net.quantile(0.9)-out
	profit := o.draws.profit() - float64(out)
	x.BeforeOwnTime = money.Round(profit)
	x.AfterOwnTime = x.BeforeOwnTime - o.Hours.At(o.settings.OwnRate)
	x.Loss = math.Round(o.draws.short(out)/float64(net.all())*1e6) / 1e6 // without the dust of the weights
	if o.draws.minutes.Sign() > 0 {
		x.perHour = money.Round(float64(profit*float64(costing.Hour)) / o.draws.time)
	}
	for _, l := range []Limit{ByProfit, ByRisk, ByHour} {
		if !o.holds(l, out) {
			x.Misses = append(x.Misses, l)
		}
	}
	return x
}

// holds weighs an outlay against a limit, exactly.
func (o Offer) holds(l Limit, out money.Amount) bool {
	n := big.NewInt(o.draws.net.all())
	profit := new(big.Int).Sub(o.draws.sum, new(big.Int).Mul(n, big.NewInt(int64(out))))
	var wanted *big.Int
	switch l {
	case ByRisk:
		return o.anyRisk || out <= o.risky
	case ByHour:
		if o.draws.minutes.Sign() == 0 {
			return true
		}
		profit.Mul(profit, big.NewInt(int64(costing.Hour)))
		wanted = new(big.Int).Mul(big.NewInt(int64(o.settings.PerHour)), o.draws.minutes)
	default:
		wanted = new(big.Int).Mul(big.NewInt(int64(o.settings.Profit)), n)
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
