package asking

import (
	"math"

	"skegworth/valuation/money"
)

// fixedResale is a log-normal band for the tests within the package.
type fixedResale struct{ middle, spread float64 }

func (b fixedResale) at(q float64) money.Amount {
	return money.Round(b.middle * math.Exp(b.spread*math.Sqrt2*math.Erfinv(2*q-1)))
}

func (b fixedResale) Median() money.Amount { return b.at(0.5) }

func (b fixedResale) Interval(level float64) (low, high money.Amount) {
	return b.at((1 - level) / 2), b.at((1 + level) / 2)
}

func (b fixedResale) Draws(n int) []money.Amount {
	out := make([]money.Amount, n)
	for i := range out {
		out[i] = b.at((float64(i) + 0.5) / float64(n))
	}
	return out
}
