package shop

import (
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
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
// starting set becomes one of the shop's in the same step.
func (s *Shop) PutNeeded(motorID string, n Need) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	pieces := max(1, n.Card.Pieces(r.Motor))
	if n.Card.ID != "" {
		_, err = s.PutOn(motorID, n.Card.ID, pieces, OnTop)
		return err
	}
	if r, err = s.stage(motorID, "plan work for", costing.Prospect, costing.Bench, costing.Finished, costing.Listed); err != nil {
		return err
	}
	card := n.Card
	j := costing.Job{MotorID: motorID, Name: card.Name, Pieces: min(pieces, costing.MostOfOneJob), On: s.Today()}
	j.Hours, j.Parts = card.Estimate(j.Pieces, s.consumables(card))
	return s.writeBench(say.New("undo.puton", "{{.Card}} on the plan of {{.Motor}}", "Card", card.Name, "Motor", title(r)), "", motorID, func(tx *shopfile.Tx) error {
		if err := tx.PutCard(&card); err != nil {
			return err
		}
		j.CardID = card.ID
		return tx.PutJob(&j)
	})
}

// JobsOf are the job cards on a motor's plan.
func (s *Shop) JobsOf(r costing.Record) []JobRow { return s.jobRows(r) }
