package shop

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// ClosedYear is a year that is closed, with what today's books say otherwise.
type ClosedYear struct {
	Closing     costing.Closing
	Frozen      review.Frozen
	Corrections []review.Correction
	Answer      say.Sentence
}

// closingOf is the closing that a period stands under now, and false when it is open.
func (s *Shop) closingOf(p review.Period) (costing.Closing, bool) {
	for _, c := range s.contents.Closings {
		if c.Closed() && c.From == p.From && c.To == p.To {
			return c, true
		}
	}
	return costing.Closing{}, false
}

// Closed tells whether the year is closed.
func (s *Shop) Closed(year int) bool {
	_, closed := s.closingOf(review.FiscalYear(year, s.Settings().FiscalMonth))
	return closed
}

// Closings are all closings of the year, those that were opened again too, the oldest first.
func (s *Shop) Closings(year int) []costing.Closing {
	p := review.FiscalYear(year, s.Settings().FiscalMonth)
	var out []costing.Closing
	for _, c := range s.contents.Closings {
		if c.From == p.From && c.To == p.To {
			out = append(out, c)
		}
	}
	return out
}

// CanClose tells whether a year is over and open.
func (s *Shop) CanClose(y Year) bool { return y.Closed == nil && y.Review.Period.To < s.Today() }

// CloseYear freezes the year's figures as they are. Nothing is locked: what is entered later for days of the
// year is told as a correction.
func (s *Shop) CloseYear(year int) error {
	y, err := s.Review(year)
	if err != nil {
		return err
	}
	if y.Review.Period.To >= s.Today() {
		return fmt.Errorf("year: %s runs to %s and can be closed after that", s.YearName(year), s.dayText(y.Review.Period.To))
	}
	if s.Closed(year) {
		return fmt.Errorf("year: %s is closed already", s.YearName(year))
	}
	c := y.Review.Close(s.Today())
	return s.write(say.New("undo.close", "closing of {{.Year}}", "Year", s.YearName(year)), "", "",
		func(tx *shopfile.Tx) error { return tx.PutClosing(&c) })
}

// ReopenYear opens a closed year again. What was frozen stays on record, with the reason.
func (s *Shop) ReopenYear(year int, reason string) error {
	c, closed := s.closingOf(review.FiscalYear(year, s.Settings().FiscalMonth))
	if !closed {
		return fmt.Errorf("year: %s is not closed", s.YearName(year))
	}
	if c.Reason = strings.TrimSpace(reason); c.Reason == "" {
		return errors.New("reason: say why the year is opened again")
	}
	c.OpenedOn = s.Today()
	return s.write(say.New("undo.reopen", "opening of {{.Year}} again", "Year", s.YearName(year)), "", "",
		func(tx *shopfile.Tx) error { return tx.PutClosing(&c) })
}

// closedYear compares a closed year with today's books.
func (s *Shop) closedYear(year int, r review.Review) (*ClosedYear, error) {
	c, closed := s.closingOf(r.Period)
	if !closed {
		return nil, nil
	}
	was, err := review.Thaw(c)
	if err != nil {
		return nil, err
	}
	out := &ClosedYear{Closing: c, Frozen: was, Corrections: r.Corrections(was)}
	name, on := s.YearName(year), s.dayText(c.ClosedOn)
	if len(out.Corrections) == 0 {
		out.Answer = say.New("closed.same", "{{.Year}} was closed on {{.Day}}, and nothing has been corrected since.", "Year", name, "Day", on)
		return out, nil
	}
	before, _ := was.Figure(review.BeforeOwnTime)
	out.Answer = say.New("closed.corrected", "{{.Year}} was closed on {{.Day}} with {{.Before}} before your own time; by today's books it is {{.Now}}.",
		"Year", name, "Day", on, "Before", s.currency.Format(before), "Now", s.currency.Format(r.BeforeOwnTime))
	return out, s.whenEntered(out.Corrections)
}

// whenEntered says of each change on which day it was made.
func (s *Shop) whenEntered(all []review.Correction) error {
	var ids []string
	for _, c := range all {
		for _, change := range c.Changes {
			ids = append(ids, change.ID)
		}
	}
	at, err := s.file.Entered(context.Background(), ids)
	if err != nil {
		return err
	}
	for _, c := range all {
		for i := range c.Changes {
			if t, known := at[c.Changes[i].ID]; known {
				c.Changes[i].Entered = day.FromTime(t)
			}
		}
	}
	return nil
}
