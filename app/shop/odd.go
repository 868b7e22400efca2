package shop

import (
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// oddShare is the share of sales, if the bands are right, that lie so far out on one side as to be called
// odd: one in a hundred above and one below.
const oddShare = 0.01

// odd says why a sale is worth a second look: it lies where hardly any such sale does. A slip of the key
// that would explain it is named.
func (s *Shop) odd(t valuation.TrackRow) say.Sentence {
	above := t.PIT > 1-oddShare
	if !above && t.PIT >= oddShare {
		return say.Sentence{}
	}
	c := s.currency
	pairs := []any{"Price", c.Whole(t.Sale.Price), "Low", c.Whole(t.Low), "High", c.Whole(t.High)}
	switch {
	case above && fits(t, t.Sale.Price/10):
		return say.New("odd.nought-more", "Looks mistyped: it fetched {{.Price}} where such motors bring {{.Low}} to {{.High}}. One nought too many in the price would explain it.", pairs...)
	case !above && fits(t, t.Sale.Price*10):
		return say.New("odd.nought-less", "Looks mistyped: it fetched {{.Price}} where such motors bring {{.Low}} to {{.High}}. A nought missing from the price would explain it.", pairs...)
	}
	power := t.Sale.Motor.Power
	for _, p := range []float64{power / 10, power * 10} {
		if s.fitsAt(t, p) {
			mended := t.Sale.Motor
			mended.Power = p
			return say.New("odd.power", "Looks mistyped: it fetched {{.Price}} where such motors bring {{.Low}} to {{.High}}. A power of {{.Power}} would explain it.",
				append(pairs, "Power", mended.Text("power"))...)
		}
	}
	if above {
		return say.New("odd.above", "Worth a second look: fewer than one such sale in a hundred goes so far above {{.Low}} to {{.High}}. If price, power, year and state are right, it may have been a special case to leave out, with the reason.", pairs...)
	}
	return say.New("odd.below", "Worth a second look: fewer than one such sale in a hundred goes so far below {{.Low}} to {{.High}}. If price, power, year and state are right, it may have been a special case to leave out, with the reason.", pairs...)
}

func fits(t valuation.TrackRow, price money.Amount) bool { return t.Low <= price && price <= t.High }

// fitsAt tells whether the price would be an ordinary one for the same motor of another power.
func (s *Shop) fitsAt(t valuation.TrackRow, power float64) bool {
	market, err := s.Market()
	if err != nil {
		return false
	}
	m := t.Sale.Motor
	m.Power = power
	b, err := market.Worth(m, t.Sale.Sold)
	if err != nil {
		return false
	}
	low, high := b.Interval(0.8)
	return low <= t.Sale.Price && t.Sale.Price <= high
}
