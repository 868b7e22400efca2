package offer

import (
	"math"
	"math/big"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// Limit is one of the shop's lines that a price must not cross.
type Limit string

const (
	ByProfit Limit = "profit"   // expected profit before own time is at least Settings.Profit
	ByRisk   Limit = "risk"     // the chance of a loss is at most Settings.Risk
	ByHour   Limit = "per-hour" // expected profit before own time / expected own hours is at least Settings.PerHour
)

// LimitPrice is the most that may be paid under one limit. It is below 0 when the limit would not hold
// even for nothing.
type LimitPrice struct {
	Limit Limit
	Price money.Amount
}

// limits gives the top price under each limit, to the minor unit, profit first. A limit that no price
// can break is not among them: a risk of 1, or pay per hour where no own hours are planned.
func (d draws) limits(s costing.Settings) []LimitPrice {
	n := int64(len(d.net))
	all := []LimitPrice{{ByProfit, floorOf(d.excess(1, int64(s.Profit), n), n)}}
	if may := d.mayLose(s.Risk); may < len(d.net) {
		// Paying the (may+1)th smallest net loses money on at most the may outcomes below it; a minor
		// unit more loses on that one too. Coming out even is no loss.
		all = append(all, LimitPrice{ByRisk, d.net[may]})
	}
	if d.minutes > 0 {
		hour := int64(costing.Hour)
		all = append(all, LimitPrice{ByHour, floorOf(d.excess(hour, int64(s.PerHour), d.minutes), hour*n)})
	}
	return all
}

// mayLose is how many outcomes may be losses at a chosen risk. The dust of a decimal such as 0.29 in
// binary does not cost an outcome.
func (d draws) mayLose(risk float64) int {
	return int(math.Floor(risk*float64(len(d.net)) + 1e-9))
}

// excess is times x the sum of all nets, less target x count.
func (d draws) excess(times, target, count int64) *big.Int {
	have := new(big.Int).Mul(big.NewInt(times), big.NewInt(int64(d.sum)))
	want := new(big.Int).Mul(big.NewInt(target), big.NewInt(count))
	return have.Sub(have, want)
}

// floorOf a / b for b > 0, toward less, held at the largest amounts.
func floorOf(a *big.Int, b int64) money.Amount {
	q := new(big.Int).Div(a, big.NewInt(b)) // Euclidean: the floor when b > 0
	switch {
	case q.IsInt64():
		return money.Amount(q.Int64())
	case q.Sign() < 0:
		return math.MinInt64
	default:
		return math.MaxInt64
	}
}
