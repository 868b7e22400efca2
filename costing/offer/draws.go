package offer

import (
	"math"
	"math/big"
	"slices"

	"skegworth/valuation/money"
)

const (
	// The exponential of a Student-t has no mean, so prices beyond these two points of the band are
	// held at the points.
	tail = 0.005

	// maxAmount is ten times the most that may be typed in a currency of three digits. It keeps every
	// sum of outcomes within 64 bits.
	maxAmount = money.Amount(10 * 1000 * money.MaxTyped)
)

// sorted are amounts in order with what each weighs.
type sorted struct {
	at   []money.Amount // ascending
	upto []int64        // weight of each and all before it
}

// all is what they weigh together.
func (s sorted) all() int64 {
	if len(s.upto) == 0 {
		return 0
	}
	return s.upto[len(s.upto)-1]
}

// quantile is the amount that a share p of outcomes stays at or under.
func (s sorted) quantile(p float64) money.Amount {
	if len(s.at) == 0 {
		return 0
	}
	i, _ := slices.BinarySearch(s.upto, int64(p*float64(s.all()))+1)
	return s.at[min(i, len(s.at)-1)]
}

// below is the weight of the amounts under a.
func (s sorted) below(a money.Amount) int64 {
	i, _ := slices.BinarySearch(s.at, a)
	if i == 0 {
		return 0
	}
	return s.upto[i-1]
}

// draws are outcomes of buying, mending and selling the motor.
type draws struct {
	net     sorted    // before the price paid
	sold    sorted    // what it sells for
	line    *riskLine // nil where the sorted outcomes tell it well enough
	sum     *big.Int
	minutes *big.Int // own time; both summed by weight over all outcomes

	resale, fees, costs, hold, time float64 // means
}

// profit is the mean of net.
func (d draws) profit() float64 { return mean(d.sum, d.net.all()) }

func mean(sum *big.Int, all int64) float64 {
	if sum == nil || all == 0 {
		return 0
	}
	out, _ := new(big.Float).Quo(new(big.Float).SetInt(sum), new(big.Float).SetInt64(all)).Float64()
	return out
}

// tally gathers the outcomes of one way out.
type tally struct {
	cells     []cell
	net, sold []money.Amount // by cell
	of        []uint16       // cell of each
	spent     []spending     // by cell
	sums      []sums         // by cell
}

type sums struct{ net, resale, fees, costs, hold, minutes int64 }

// close sorts the outcomes and settles their sums. Where what it sells for needs no sorting it is given.
func (t *tally) close(sold *sorted) draws {
	d := draws{sum: new(big.Int), minutes: new(big.Int)}
	var all int64
	for i, c := range t.cells {
		s := t.sums[i]
		w := big.NewInt(c.weight)
		d.sum.Add(d.sum, new(big.Int).Mul(w, big.NewInt(s.net)))
		d.minutes.Add(d.minutes, new(big.Int).Mul(w, big.NewInt(s.minutes)))
		all += c.weight * int64(c.points)
	}
	for i, c := range t.cells {
		s := t.sums[i]
		part := float64(c.weight) / float64(all)
		for _, m := range []struct {
			mean *float64
			sum  int64
		}{{&d.resale, s.resale}, {&d.fees, s.fees}, {&d.costs, s.costs}, {&d.hold, s.hold}, {&d.time, s.minutes}} {
			*m.mean += float64(part * float64(m.sum))
		}
	}
	d.net = t.sort(t.net)
	if sold != nil {
		d.sold = *sold
	} else {
		d.sold = t.sort(t.sold)
	}
	return d
}

// sort orders amounts with the weight of their cells.
func (t *tally) sort(all []money.Amount) sorted {
	least := slices.Min(all)
	keys := make([]uint64, len(all))
	for i, a := range all {
		keys[i] = uint64(a-least)<<cellBits | uint64(t.of[i])
	}
	keys = ascend(keys)
	out := sorted{all, make([]int64, len(all))} // the amounts are no longer needed as they lay
	sum := int64(0)
	for i, k := range keys {
		out.at[i] = least + money.Amount(k>>cellBits)
		sum += t.cells[k&(1<<cellBits-1)].weight
		out.upto[i] = sum
	}
	return out
}

// alike are amounts of the same weight, ascending.
func alike(all []money.Amount) sorted {
	out := sorted{all, make([]int64, len(all))}
	each := int64(math.Round(whole / float64(max(1, len(all)))))
	for i := range all {
		out.upto[i] = each * int64(i+1)
	}
	return out
}
