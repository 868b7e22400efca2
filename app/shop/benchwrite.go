package shop

import (
	"context"
	"encoding/json"
	"fmt"

	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// writeBench is write for bench work: it reads again the motor, if one is named, and what of the bench
// belongs to no motor, so that a shop of many years need not be read anew for a snag.
func (s *Shop) writeBench(what say.Sentence, coalesce, motorID string, change func(*shopfile.Tx) error) error {
	label, err := json.Marshal(what)
	if err != nil {
		return fmt.Errorf("name the change: %w", err)
	}
	if err := s.file.Write(context.Background(), string(label), coalesce, change); err != nil {
		return err
	}
	if motorID != "" {
		err = s.refresh(motorID)
	}
	if err == nil {
		err = s.reloadBench()
	}
	s.changed()
	return err
}

func (s *Shop) reloadBench() error {
	c, err := s.file.Bench(context.Background())
	if err != nil {
		return err
	}
	s.contents.Cards, s.contents.Rates, s.contents.Photos, s.contents.Clock = c.Cards, c.Rates, c.Photos, c.Clock
	return nil
}
