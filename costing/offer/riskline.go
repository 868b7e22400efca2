package offer

import (
	"math"

	"skegworth/valuation/money"
)

// riskLine is the net that a chosen share of outcomes falls short of, told more finely than by counting them.
//
// Where the line falls between two cases outcomes are few, and which of them are met moves it by more than a
// price is haggled over. So what an outcome spends is held against every price of the band and not against
// its own alone: given the rest, the chance of a loss is then exact, and only what the work takes is left to
// be met by points (conditional Monte Carlo: S. Asmussen and P. Glynn, Stochastic Simulation, 2007, section
// V.4).
type riskLine struct {
	cells []spending
	keeps float64 // share of a price that the marketplace leaves
}

// spending is what is spent on the motor in one joint case, by outcome, and what it may sell for.
type spending struct {
	prices *ladder
	spent  []money.Amount
	weight float64 // of the case
}

// short is the weight of outcomes that leave less than a net.
func (r *riskLine) short(net money.Amount) float64 {
	sum := 0.0
	for i := range r.cells {
		c := &r.cells[i]
		cell := 0.0
		for _, s := range c.spent {
			cell += c.prices.below(float64(net+s) / r.keeps)
		}
		sum += float64(c.weight * (cell / float64(len(c.spent))))
	}
	return sum
}

// at is the highest net that a weight of outcomes falls short of, and no more: looked for from near it, by the
// chord between what is too low and too high, and by halves where that is slow.
func (r *riskLine) at(may float64, near money.Amount) money.Amount {
	low, high := near, near
	under := r.short(near) - may
	over := under
	if under > 0 {
		for step := money.Amount(256); under > 0; step *= 8 {
			high, over = low, under
			low -= step
			under = r.short(low) - may
		}
	} else {
		for step := money.Amount(256); over <= 0; step *= 8 {
			low, under = high, over
			high += step
			over = r.short(high) - may
		}
	}
	for round := 0; high-low > 1; round++ {
		mid := low + (high-low)/2
		if round%3 != 2 {
			share := under / (under - over)
			mid = low + money.Amount(math.Round(float64(share*float64(high-low))))
			mid = min(max(mid, low+1), high-1)
		}
		if g := r.short(mid) - may; g <= 0 {
			low, under = mid, g
		} else {
			high, over = mid, g
		}
	}
	return low
}

// ladder tells the share of equally likely prices, each the middle of its slice, that lie below another.
type ladder struct {
	prices    []float64 // ascending
	start     []int32   // rung by rung, how many lie below its foot
	foot, top float64
	rungs     float64 // to a minor unit
}

const rungs = 8192

func ladderOf(prices []money.Amount) *ladder {
	n := len(prices)
	l := &ladder{prices: make([]float64, n), foot: float64(prices[0]), top: float64(prices[n-1])}
	for i, p := range prices {
		l.prices[i] = float64(p)
	}
	if l.top <= l.foot {
		return l
	}
	l.rungs = rungs / (l.top - l.foot)
	l.start = make([]int32, rungs+1)
	i := 0
	for k := range l.start {
		for foot := l.foot + float64(float64(k)/l.rungs); i < n && l.prices[i] < foot; {
			i++
		}
		l.start[k] = int32(i)
	}
	return l
}

func (l *ladder) below(p float64) float64 {
	switch {
	case p <= l.foot:
		return 0
	case p > l.top:
		return 1
	}
	i := int(l.start[min(int(float64((p-l.foot)*l.rungs)), rungs)])
	for i > 1 && l.prices[i-1] >= p {
		i--
	}
	for l.prices[i] < p {
		i++
	}
	before, after := l.prices[i-1], l.prices[i]
	return (float64(i) - 0.5 + (p-before)/(after-before)) / float64(len(l.prices))
}
