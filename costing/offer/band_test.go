package offer_test

import (
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// A band from the trade prior alone, as wide as bands get: the offer still answers, and the median
// resale price of the outcomes is the band's.
func TestOfferFromAWideBand(t *testing.T) {
	market, err := valuation.NewMarket(nil, valuation.Options{Currency: money.Must("USD"), Anchor: 120000, HalfLife: 4, AsOf: day.Of(2026, 6, 1)})
	if err != nil {
		t.Fatal(err)
	}
	band, err := market.Worth(valuation.Motor{Power: 90, Year: 2003, Stroke: valuation.TwoStroke, State: valuation.Rebuilt}, day.Of(2026, 6, 1))
	if err != nil {
		t.Fatal(err)
	}
	s := settings(func(s *costing.Settings) { s.Profit, s.PerHour, s.Risk = 0, 0, 0.5 })
	o := appraise(t, Input{Band: band, Settings: s})
	if loss := o.At(band.Median()).Loss; loss < 0.49 || loss > 0.51 {
		t.Errorf("paying the median loses %v of the time", loss)
	}
	low, high := band.Interval(0.8)
	if at := o.At(0); float64(at.Low) < 0.99*float64(low) || float64(at.High) > 1.01*float64(high) {
		t.Errorf("profit for nothing from %d to %d, the band from %d to %d", at.Low, at.High, low, high)
	}
	if _, top := band.Interval(0.99); o.Resale > top {
		t.Errorf("expected resale %d beyond the band's end %d", o.Resale, top)
	}
}
