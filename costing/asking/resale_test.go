package asking_test

import (
	"math"

	"skegworth/valuation/money"
)

// resale is a log-normal band.
type resale struct {
	middle money.Amount
	spread float64
}

func (b resale) at(q float64) money.Amount {
	return money.Round(float64(b.middle) * math.Exp(b.spread*math.Sqrt2*math.Erfinv(2*q-1)))
}

func (b resale) Median() money.Amount { return b.middle }

func (b resale) Interval(level float64) (low, high money.Amount) {
	return b.at((1 - level) / 2), b.at((1 + level) / 2)
}

func (b resale) Draws(n int) []money.Amount {
	out := make([]money.Amount, n)
	for i := range out {
		out[i] = b.at((float64(i) + 0.5) / float64(n))
	}
	return out
}
