package shop

import (
	"errors"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// OwnRate is what an own hour was worth on a day.
func (s *Shop) OwnRate(on day.Day) money.Amount {
	return costing.RateOn(s.contents.Rates, s.contents.Settings.OwnRate, on)
}

// Rates are the days from which an own hour was worth something else, in order; FirstRate holds before.
func (s *Shop) Rates() []costing.Rate { return s.contents.Rates }

// FirstRate is what an own hour was worth before the earliest of the Rates.
func (s *Shop) FirstRate() money.Amount { return s.contents.Settings.OwnRate }

// SaveRate sets what an own hour is worth from a day on. Time written down before keeps what it was worth.
func (s *Shop) SaveRate(r costing.Rate) error {
	switch {
	case r.From == 0:
		return errors.New("from: say from which day on")
	case r.Each < 0:
		return errors.New("rate: it is less than nothing")
	}
	for _, other := range s.contents.Rates {
		if other.From == r.From && other.ID != r.ID {
			r.ID, r.Version = other.ID, other.Version
		}
	}
	return s.writeBench(say.New("undo.rate", "own rate from {{.Day}} on", "Day", r.From.String()), "", "",
		func(tx *shopfile.Tx) error { return tx.PutRate(&r) })
}

// DeleteRate takes a rate back; time written down keeps what it was worth.
func (s *Shop) DeleteRate(id string) error {
	return s.writeBench(say.New("undo.unrate", "removal of an own rate"), "", "",
		func(tx *shopfile.Tx) error { return tx.DeleteRate(id) })
}

// changeRate sets what an own hour is worth today: the rate that holds today is the one that is changed.
func (s *Shop) changeRate(tx *shopfile.Tx, settings *costing.Settings, each money.Amount) error {
	var holds *costing.Rate
	for i := range s.contents.Rates {
		if r := s.contents.Rates[i]; r.From <= s.Today() && (holds == nil || r.From > holds.From) {
			holds = &r
		}
	}
	if holds == nil {
		settings.OwnRate = each
		return nil
	}
	holds.Each = each
	return tx.PutRate(holds)
}
