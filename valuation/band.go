package valuation

import (
	"math"
	"slices"

	"skegworth/valuation/hedonic"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Band is the resale price of one motor as a distribution: asked for any level, it answers in exact minor
// units. The zero Band is empty and answers 0.
type Band struct {
	price    hedonic.Predictive // of ln price in units of the currency
	currency money.Currency
	sales    int
	outside  bool
	warnings []say.Sentence
	narrower string
}

// NewBand is a band from a distribution of the logarithm of the price in units of the currency.
func NewBand(lnPrice hedonic.Predictive, c money.Currency) Band {
	return Band{price: lnPrice, currency: c}
}

// Empty tells whether there is no distribution in it.
func (b Band) Empty() bool { return b.price.Empty() }

// Interval is the central range that holds the price with chance level, such as 0.8. A level of 0 or less
// is the median twice; levels are held at 0.9999, since nothing is certain.
func (b Band) Interval(level float64) (low, high money.Amount) {
	level = math.Min(math.Max(level, 0), 0.9999)
	if math.IsNaN(level) {
		level = 0
	}
	return b.Quantile((1 - level) / 2), b.Quantile(1 - (1-level)/2)
}

// Median is the price that is as likely to be exceeded as not.
func (b Band) Median() money.Amount { return b.Quantile(0.5) }

// Quantile is the price that the motor stays at or below with chance p. It does not fall as p rises; at
// 0 or less it is 0, and from 1 on the largest amount there is.
func (b Band) Quantile(p float64) money.Amount {
	if b.Empty() {
		return 0
	}
	return b.amount(b.price.Quantile(p))
}

// The tails at which Mean cuts.
const meanLow, meanHigh = 0.005, 0.995

// Mean is the expected price with the band cut at its 0.5 and 99.5 % points: the tails beyond would make
// it infinite.
func (b Band) Mean() money.Amount {
	if b.Empty() {
		return 0
	}
	return b.currency.FromFloat(b.price.MeanExp(meanLow, meanHigh))
}

// Chance is the chance that the price is at or below a.
func (b Band) Chance(a money.Amount) float64 {
	if b.Empty() || a <= 0 {
		return 0
	}
	return b.price.CDF(math.Log(b.currency.Float(a)))
}

// Draws are n prices that stand for the band, ascending: one from the middle of each of n equally likely
// strata, the same every time.
func (b Band) Draws(n int) []money.Amount {
	out := make([]money.Amount, max(n, 0))
	if b.Empty() {
		return out
	}
	for i, v := range b.price.Sample(n) {
		out[i] = b.amount(v)
	}
	return out
}

// Currency is the currency of the amounts.
func (b Band) Currency() money.Currency { return b.currency }

// OwnSales is how many own sales stand behind the band.
func (b Band) OwnSales() int { return b.sales }

// Outside tells whether the motor lies outside the shop's own experience, so that the band rests on the
// trade prior and on the line drawn on beyond the sales. Warnings say in which way.
func (b Band) Outside() bool { return b.outside }

// Warnings say what to bear in mind, the gravest first.
func (b Band) Warnings() []say.Sentence { return slices.Clone(b.warnings) }

// Narrower is the field whose being not known widens the band most, such as "compression"; "" when
// nothing of weight is missing.
func (b Band) Narrower() string { return b.narrower }

// amount is the exact amount at a ln price.
func (b Band) amount(ln float64) money.Amount { return b.currency.FromFloat(math.Exp(ln)) }
