package shop

import "skegworth/valuation"

// worked is what was worked out from a market, each once; it holds as long as that market does.
type worked struct {
	of      *valuation.Market
	track   *valuation.Track
	forward *valuation.Forward
	effects []EffectRow
	swings  map[string]*Swing // by the sale's id
}

// fromMarket is what has been worked out from the market as it now is.
func (s *Shop) fromMarket() (*worked, error) {
	market, err := s.Market()
	if err != nil {
		return nil, err
	}
	if s.worked.of != market {
		s.worked = worked{of: market, swings: map[string]*Swing{}}
	}
	return &s.worked, nil
}

// Track is how the bands would have done, each sale valued by the others.
func (s *Shop) Track() (valuation.Track, error) {
	w, err := s.fromMarket()
	if err != nil {
		return valuation.Track{}, err
	}
	if w.track == nil {
		track := w.of.Track()
		w.track = &track
	}
	return *w.track, nil
}

// Forward is how bands made at the time would have done.
func (s *Shop) Forward() (valuation.Forward, error) {
	w, err := s.fromMarket()
	if err != nil {
		return valuation.Forward{}, err
	}
	if w.forward == nil {
		record, err := w.of.Forward()
		if err != nil {
			return valuation.Forward{}, err
		}
		w.forward = &record
	}
	return *w.forward, nil
}

// effects is what moves the price.
func (s *Shop) effects() ([]EffectRow, error) {
	w, err := s.fromMarket()
	if err != nil {
		return nil, err
	}
	if w.effects == nil {
		w.effects = effectRows(w.of.Effects())
	}
	return w.effects, nil
}
