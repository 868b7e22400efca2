package shop

import (
	"context"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// writeBench is write for bench work: it reads again the motor, if one is named, and what of the bench
// belongs to no motor, so that a shop of many years need not be read anew for a snag.
func (s *Shop) writeBench(what say.Sentence, coalesce, motorID string, change func(*shopfile.Tx) error) error {
	return s.do(deed{what, coalesce, change, func(wrote versions) error {
		if motorID != "" {
			if err := s.refresh(motorID, wrote); err != nil {
				return err
			}
		}
		return s.reloadBench(wrote)
	}})
}

func (s *Shop) reloadBench(wrote versions) error {
	c, err := s.file.Bench(context.Background())
	if err != nil {
		return err
	}
	old := shopfile.Contents{Settings: c.Settings, Cards: s.contents.Cards, Rates: s.contents.Rates, Photos: s.contents.Photos}
	s.remember(&old, &c, wrote)
	s.contents.Cards, s.contents.Rates, s.contents.Photos, s.contents.Clock = c.Cards, c.Rates, c.Photos, c.Clock
	return nil
}
