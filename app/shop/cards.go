package shop

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// Cards are the shop's job cards by name.
func (s *Shop) Cards() []costing.Card {
	out := slices.Clone(s.contents.Cards)
	slices.SortStableFunc(out, func(a, b costing.Card) int { return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name)) })
	return out
}

// Card is one job card.
func (s *Shop) Card(id string) (costing.Card, error) {
	for _, c := range s.contents.Cards {
		if c.ID == id && id != "" {
			c.Draws = slices.Clone(c.Draws)
			return c, nil
		}
	}
	return costing.Card{}, fmt.Errorf("find the job card: %w", ErrUnknown)
}

// CardsFor are the cards that fit a motor's stroke, by name.
func (s *Shop) CardsFor(m valuation.Motor) []costing.Card {
	return slices.DeleteFunc(s.Cards(), func(c costing.Card) bool { return !c.Fits(m.Stroke) })
}

// AddStarterCards takes the starting set in: figures of common practice, from memory, that stand until the
// shop makes them its own. Cards of a name that is there already are left out.
func (s *Shop) AddStarterCards() (int, error) {
	var fresh []costing.Card
	for _, c := range costing.StarterCards(s.currency.PerUnit()) {
		if !slices.ContainsFunc(s.contents.Cards, func(o costing.Card) bool {
			return strings.EqualFold(o.Name, c.Name) || starterOf(o) == c.Starter
		}) {
			fresh = append(fresh, c)
		}
	}
	if len(fresh) == 0 {
		return 0, nil
	}
	return len(fresh), s.writeBench(say.New("undo.starter", "starting set of job cards"), "", "", func(tx *shopfile.Tx) error {
		for i := range fresh {
			if err := tx.PutCard(&fresh[i]); err != nil {
				return err
			}
		}
		return nil
	})
}

// SaveCard adds a job card, or changes the one with its id, and gives its id. A starting card whose figures
// were changed is the shop's own from then on.
func (s *Shop) SaveCard(c costing.Card) (string, error) {
	c.Name = strings.TrimSpace(c.Name)
	if err := c.Check(); err != nil {
		return "", err
	}
	for _, o := range s.contents.Cards {
		if o.ID != c.ID && strings.EqualFold(o.Name, c.Name) {
			return "", fmt.Errorf("name: there is a job card %q already", o.Name)
		}
		if o.ID == c.ID {
			c.Starter = starterOf(o)
		}
		if o.ID == c.ID && (o.Hours != c.Hours || o.Parts != c.Parts || o.MoreHours != c.MoreHours || o.MoreParts != c.MoreParts) {
			c.Starting = false
		}
	}
	for _, d := range c.Draws {
		g, err := s.good(d.GoodID)
		if err != nil {
			return "", err
		}
		if _, err := inUnit(g, d.Quantity, d.Unit); err != nil {
			return "", err
		}
	}
	err := s.writeBench(say.New("undo.card", "job card {{.Card}}", "Card", c.Name), "", "", func(tx *shopfile.Tx) error { return tx.PutCard(&c) })
	return c.ID, err
}

// DeleteCard removes a job card. Jobs it became on motors stay as they are.
func (s *Shop) DeleteCard(id string) error {
	c, err := s.Card(id)
	if err != nil {
		return err
	}
	return s.write(say.New("undo.uncard", "removal of the job card {{.Card}}", "Card", c.Name), "", "", func(tx *shopfile.Tx) error { return tx.DeleteCard(id) })
}

// Fit is how a card stands to what was typed for the motor before.
type Fit string

const (
	OnTop  Fit = "on top" // more work than was planned
	PartOf Fit = "part"   // it was planned already, in the lump: its share of it is taken out
)

// CardEstimate is what a card thinks of so many cylinders or pieces, consumables off the shelf included.
func (s *Shop) CardEstimate(id string, pieces int) (hours, parts costing.ThreePoint, err error) {
	c, err := s.Card(id)
	if err != nil {
		return hours, parts, err
	}
	hours, parts = c.Estimate(pieces, s.consumables(c))
	return hours, parts, nil
}

// PutOn puts a card on a motor's plan, for so many cylinders or pieces, with its estimate as of now, and
// gives the job's id.
func (s *Shop) PutOn(motorID, cardID string, pieces int, fit Fit) (string, error) {
	r, err := s.stage(motorID, "plan work for", costing.Prospect, costing.Bench, costing.Finished, costing.Listed)
	if err != nil {
		return "", err
	}
	if pieces < 1 || pieces > costing.MostOfOneJob {
		return "", fmt.Errorf("how many: %d is not a number from 1 to %d", pieces, costing.MostOfOneJob)
	}
	c, err := s.Card(cardID)
	if err != nil {
		return "", err
	}
	j := costing.Job{MotorID: motorID, CardID: cardID, Name: c.Name, Pieces: pieces, On: s.Today()}
	j.Hours, j.Parts = c.Estimate(pieces, s.consumables(c))
	if fit == PartOf {
		r.Plan.Hours, r.Plan.Parts = r.Plan.Hours.Less(j.Hours), r.Plan.Parts.Less(j.Parts)
	}
	err = s.writeBench(say.New("undo.puton", "{{.Card}} on the plan of {{.Motor}}", "Card", c.Name, "Motor", title(r)), "", motorID, func(tx *shopfile.Tx) error {
		if err := tx.PutRecord(&r); err != nil {
			return err
		}
		return tx.PutJob(&j)
	})
	return j.ID, err
}

func jobOf(r costing.Record, id string) (costing.Job, error) {
	for _, j := range r.Jobs {
		if j.ID == id {
			return j, nil
		}
	}
	return costing.Job{}, fmt.Errorf("find the job: %w", ErrUnknown)
}

// FinishJob marks a job as done, or, with done false, as not done after all.
func (s *Shop) FinishJob(motorID, jobID string, done bool) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	j, err := jobOf(r, jobID)
	if err != nil {
		return err
	}
	what := say.New("undo.jobopen", "{{.Job}} not done yet", "Job", j.Name)
	j.DoneOn = 0
	if done {
		what = say.New("undo.jobdone", "{{.Job}} done", "Job", j.Name)
		j.DoneOn = s.Today()
	}
	return s.writeBench(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutJob(&j) })
}

// TakeOff takes a job off a motor's plan. What it has taken stays on the motor.
func (s *Shop) TakeOff(motorID, jobID string) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	j, err := jobOf(r, jobID)
	if err != nil {
		return err
	}
	return s.writeBench(say.New("undo.takeoff", "{{.Job}} off the plan of {{.Motor}}", "Job", j.Name, "Motor", title(r)), "", motorID,
		func(tx *shopfile.Tx) error { return tx.DeleteJob(jobID) })
}

// Tie says which job of its motor a line or a session was for; "" for none in particular.
func (s *Shop) Tie(motorID, rowID, jobID string) error {
	r, err := s.Record(motorID)
	if err != nil {
		return err
	}
	if jobID != "" {
		if _, err := jobOf(r, jobID); err != nil {
			return err
		}
	}
	what := say.New("undo.tie", "what a job took on {{.Motor}}", "Motor", title(r))
	for _, l := range r.Lines {
		if l.ID == rowID {
			l.JobID = jobID
			return s.writeBench(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutLine(&l) })
		}
	}
	for _, w := range r.Sessions {
		if w.ID == rowID {
			w.JobID = jobID
			return s.writeBench(what, "", motorID, func(tx *shopfile.Tx) error { return tx.PutSession(&w) })
		}
	}
	return errors.New("tie it to a job: it is no longer there")
}

// JobRow is one job of a motor, as estimated and as taken.
type JobRow struct {
	Job       costing.Job
	Time      costing.Hours // estimated, the middle of the guess
	Parts     money.Amount
	Took      costing.JobActual
	Draws     int // consumables of its card that were not drawn for it yet
	Over      say.Sentence
	CardCount int // of finished jobs of this card that Over rests on
}

func (s *Shop) jobRows(r costing.Record) []JobRow {
	took := r.Took()
	out := make([]JobRow, len(r.Jobs))
	for i, j := range r.Jobs {
		x := JobRow{Job: j, Time: costing.Hours(j.Hours.Mean() * 60), Parts: money.Round(j.Parts.Mean()), Took: took[j.ID]}
		if c, err := s.Card(j.CardID); err == nil {
			x.Draws = len(c.Draws)
			for _, l := range r.Lines {
				if l.JobID == j.ID && l.ShelfID != "" && slices.ContainsFunc(c.Draws, func(d costing.CardDraw) bool { return d.GoodID == l.ShelfID }) {
					x.Draws = max(0, x.Draws-1)
				}
			}
		}
		out[i] = x
	}
	return out
}
