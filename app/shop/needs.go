package shop

import (
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/costing/offer"
)

// Need is a job card that a failed check usually leads to.
type Need struct {
	Card  costing.Card // without an id while it stands in the starting set alone
	JobID string       // of the job it already is on the motor's plan, "" when it is not there
}

// NeedsOf are the job cards that a check of a motor usually leads to when it is not passed: the shop's own
// where it has them, under whatever name, and the starting ones otherwise.
func (s *Shop) NeedsOf(r costing.Record, t costing.Trial) []Need {
	var out []Need
	for _, name := range offer.Needs(t, r.Motor.Stroke) {
		is := func(c costing.Card) bool { return c.Starter == name || strings.EqualFold(c.Name, name) }
		i := slices.IndexFunc(s.contents.Cards, is)
		n := Need{}
		if i >= 0 {
			n.Card = s.contents.Cards[i]
		} else {
			starters := costing.StarterCards(s.currency.PerUnit())
			if i = slices.IndexFunc(starters, is); i < 0 {
				continue
			}
			n.Card = starters[i]
		}
		for _, j := range r.Jobs {
			if n.Card.ID != "" && j.CardID == n.Card.ID || strings.EqualFold(j.Name, n.Card.Name) {
				n.JobID = j.ID
			}
		}
		out = append(out, n)
	}
	return out
}

// PutNeeded puts a needed card on a motor's plan, for as many cylinders or pieces as it has. A card of the
// starting set becomes one of the shop's first.
func (s *Shop) PutNeeded(motorID string, n Need) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	if n.Card.ID == "" {
		if n.Card.ID, err = s.SaveCard(n.Card); err != nil {
			return err
		}
	}
	_, err = s.PutOn(motorID, n.Card.ID, max(1, n.Card.Pieces(r.Motor)), OnTop)
	return err
}

// JobsOf are the job cards on a motor's plan.
func (s *Shop) JobsOf(r costing.Record) []JobRow { return s.jobRows(r) }
