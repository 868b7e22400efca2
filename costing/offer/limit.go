package offer

import (
	"math"
	"math/big"
	"slices"

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
func (d draws) limits(s costing.Settings, out outlay, risky money.Amount, anyRisk bool) []LimitPrice {
	n := d.net.all()
	all := []LimitPrice{{ByProfit, out.most(floorOf(d.excess(1, s.Profit, big.NewInt(n)), big.NewInt(n)))}}
	if !anyRisk {
		all = append(all, LimitPrice{ByRisk, out.most(risky)})
	}
	if d.minutes.Sign() > 0 {
		hour := int64(costing.Hour)
		all = append(all, LimitPrice{ByHour, out.most(floorOf(d.excess(hour, s.PerHour, d.minutes), new(big.Int).Mul(big.NewInt(hour), big.NewInt(n))))})
	}
	return all
}

// risky is the most outlay at which no more than the share of outcomes loses money; false when none is too
// much. An outlay of the net at which the line is passed loses money on those below it at the most; a minor unit
// more loses on that one too. Coming out even is no loss.
func (d draws) risky(risk float64) (net money.Amount, ok bool) {
	may := d.mayLose(risk)
	i, _ := slices.BinarySearch(d.net.upto, may+1)
	if i == len(d.net.at) {
		return 0, false
	}
	if d.line != nil {
		return d.line.at(float64(may), d.net.at[i]), true
	}
	return d.net.at[i], true
}

// short is the weight of outcomes that leave less than an outlay.
func (d draws) short(out money.Amount) float64 {
	if d.line != nil {
		return d.line.short(out)
	}
	return float64(d.net.below(out))
}

// mayLose is the weight of outcomes that may be losses at a chosen risk. The dust of a decimal such as 0.29 in
// binary does not cost an outcome.
func (d draws) mayLose(risk float64) int64 {
	return int64(math.Floor(risk*float64(d.net.all()))) + dust
}

// excess is times x the sum of all nets, less target x count.
func (d draws) excess(times int64, target money.Amount, count *big.Int) *big.Int {
	have := new(big.Int).Mul(big.NewInt(times), d.sum)
	return have.Sub(have, new(big.Int).Mul(big.NewInt(int64(target)), count))
}

// floorOf a / b for b > 0, toward less, held at the largest amounts.
func floorOf(a, b *big.Int) money.Amount {
	q := new(big.Int).Div(a, b) // Euclidean: the floor when b > 0
	switch {
	case q.IsInt64():
		return money.Amount(q.Int64())
	case q.Sign() < 0:
		return math.MinInt64
	default:
		return math.MaxInt64
	}
}
