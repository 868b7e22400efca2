package shop

import (
	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// DrawFor is [Shop.Draw] for one job of the motor's plan; "" for none in particular.
func (s *Shop) DrawFor(motorID, jobID, goodID string, quantity float64, unit string, on day.Day) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	d, err := s.drawing(motorID, goodID, quantity, unit, on)
	if err != nil {
		return err
	}
	d.line.JobID = jobID
	return s.write(say.New("undo.draw", "{{.Good}} drawn for {{.Motor}}", "Good", d.good.Name, "Motor", title(r)), "", "", d.put)
}

// DrawCard takes what a job's card usually needs off the shelf onto the motor, for so many cylinders or
// pieces as the job has: one change, undone as one. It tells how many goods were drawn.
func (s *Shop) DrawCard(motorID, jobID string) (int, error) {
	r, err := s.Record(motorID)
	if err != nil {
		return 0, err
	}
	j, err := jobOf(r, jobID)
	if err != nil {
		return 0, err
	}
	card, err := s.Card(j.CardID)
	if err != nil {
		return 0, err
	}
	var draws []drawing
	for _, takes := range card.Draws {
		d, err := s.drawing(motorID, takes.GoodID, takes.Quantity*float64(max(1, j.Pieces)), takes.Unit, 0)
		if err != nil {
			return 0, err
		}
		d.line.JobID = jobID
		draws = append(draws, d)
	}
	if len(draws) == 0 {
		return 0, nil
	}
	return len(draws), s.write(say.New("undo.drawcard", "consumables of {{.Job}} for {{.Motor}}", "Job", j.Name, "Motor", title(r)), "", "", func(tx *shopfile.Tx) error {
		for i := range draws {
			if err := draws[i].put(tx); err != nil {
				return err
			}
		}
		return nil
	})
}

// consumables is what a card's draws for one motor, cylinder or piece cost off the shelf now. What cannot
// be told, such as a good whose unit was changed, costs nothing here.
func (s *Shop) consumables(c costing.Card) (sum money.Amount) {
	for _, takes := range c.Draws {
		g, err := s.good(takes.GoodID)
		if err != nil {
			continue
		}
		if q, err := inUnit(g, takes.Quantity, takes.Unit); err == nil {
			sum += costing.CostOfDraw(g, s.moves(g.ID), costing.Move{On: s.Today(), Quantity: q, By: s.Settings().By})
		}
	}
	return sum
}
