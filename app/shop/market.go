package shop

import (
	"reflect"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// learned is a market with what it was read from.
type learned struct {
	sales    []valuation.Sale
	options  valuation.Options
	language string // of the marks in its warnings
	market   *valuation.Market
}

// same tells whether a market read from these would be no other.
func (l learned) same(sales []valuation.Sale, o valuation.Options, language string) bool {
	return l.market != nil && l.language == language && l.options.Currency.Code() == o.Currency.Code() &&
		l.options.Anchor == o.Anchor && l.options.HalfLife == o.HalfLife && l.options.AsOf == o.AsOf &&
		reflect.DeepEqual(l.options.Asks, o.Asks) && reflect.DeepEqual(l.sales, sales)
}

// Market is the regression over the shop's own sales, fitted anew when a sale has changed, and with it
// all that was worked out from it.
func (s *Shop) Market() (*valuation.Market, error) {
	if s.market != nil {
		return s.market, nil
	}
	sales, options, language := s.sales(), s.marketOptions(), s.Settings().Language
	if !s.learned.same(sales, options, language) {
		m, err := valuation.NewMarket(sales, options)
		if err != nil {
			return nil, err
		}
		s.learned = learned{sales, options, language, m}
		s.swung.arrive(m)
	}
	s.market = s.learned.market
	return s.market, nil
}

// sales are all sales of the shop, those left out too, as the market takes them.
func (s *Shop) sales() []valuation.Sale {
	var out []valuation.Sale
	for _, r := range s.contents.Records {
		if sale, ok := r.AsSale(); ok {
			out = append(out, sale)
		}
	}
	return out
}

func (s *Shop) marketOptions() valuation.Options {
	settings := s.contents.Settings
	return valuation.Options{Currency: s.currency, Anchor: settings.Anchor, HalfLife: settings.HalfLife, AsOf: s.Today(), Asks: s.asks()}
}

// asks are the prices asked for motors that were passed over.
func (s *Shop) asks() []valuation.Ask {
	var out []valuation.Ask
	for _, r := range s.contents.Records {
		if ask, ok := askOf(r); ok {
			out = append(out, ask)
		}
	}
	return out
}

// askOf is what was asked for a motor, where that may be learned from. One that is still being thought
// about must not vouch for its own price, and one that was bought is no longer what it was when its price
// was asked.
func askOf(r costing.Record) (valuation.Ask, bool) {
	if r.Stage != costing.Passed || r.SellerAsks <= 0 || r.SeenOn == 0 {
		return valuation.Ask{}, false
	}
	return valuation.Ask{Motor: r.Motor, On: r.SeenOn, Price: r.SellerAsks}, true
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
	pairs := []any{"Low", s.currency.Whole(low), "High", s.currency.Whole(high), "Mid", s.currency.Whole(b.Median()), "Sales", b.OwnSales()}
	switch b.OwnSales() {
	case 0:
		return say.New("band.plain-none", "Eight times in ten it sells between {{.Low}} and {{.High}}, about {{.Mid}}; no sale of your own stands behind this yet.", pairs...)
	case 1:
		return say.New("band.plain-one", "Eight times in ten it sells between {{.Low}} and {{.High}}, about {{.Mid}}; one sale of your own stands behind this.", pairs...)
	}
	return say.New("band.plain", "Eight times in ten it sells between {{.Low}} and {{.High}}, about {{.Mid}}; {{.Sales}} sales of your own stand behind this.", pairs...)
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
