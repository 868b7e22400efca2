package shop

import (
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// Market is the regression over the shop's own sales, fitted anew when a sale has changed.
func (s *Shop) Market() (*valuation.Market, error) {
	if s.market != nil {
		return s.market, nil
	}
	var sales []valuation.Sale
	for _, r := range s.contents.Records {
		if sale, ok := r.AsSale(); ok {
			sales = append(sales, sale)
		}
	}
	settings := s.contents.Settings
	m, err := valuation.NewMarket(sales, valuation.Options{
		Currency: s.currency, Anchor: settings.Anchor, HalfLife: settings.HalfLife, AsOf: s.Today(),
	})
	if err != nil {
		return nil, err
	}
	s.market = m
	return m, nil
}

// Worth is the band for a motor sold on a day, by the shop's own sales.
func (s *Shop) Worth(m valuation.Motor, on day.Day) (valuation.Band, error) {
	market, err := s.Market()
	if err != nil {
		return valuation.Band{}, err
	}
	return market.Worth(m, on)
}

// Comparables are the nearest sales of the shop's own, adjusted to the motor.
func (s *Shop) Comparables(m valuation.Motor, on day.Day, most int) ([]valuation.Comparable, error) {
	market, err := s.Market()
	if err != nil {
		return nil, err
	}
	return market.Comparables(m, on, most), nil
}

// BandSentence says a band in plain words.
func (s *Shop) BandSentence(b valuation.Band) say.Sentence {
	low, high := b.Interval(0.8)
	return say.New("band.plain", "Eight times in ten it sells between {{.Low}} and {{.High}}, about {{.Mid}}; {{.Sales}} sales of your own stand behind this.",
		"Low", s.currency.Whole(low), "High", s.currency.Whole(high), "Mid", s.currency.Whole(b.Median()), "Sales", b.OwnSales())
}

// missing names the needed fields that are still blank, in the words of a form.
func missing(m valuation.Motor) []string {
	var out []string
	if m.Power <= 0 {
		out = append(out, "power")
	}
	if m.Year == 0 {
		out = append(out, "year")
	}
	if m.Stroke == "" {
		out = append(out, "stroke")
	}
	if m.State == "" {
		out = append(out, "state")
	}
	return out
}
