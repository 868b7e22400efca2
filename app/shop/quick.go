package shop

import (
	"errors"
	"fmt"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// ReadQuick reads a line typed in one breath, in every way it can be meant for the motor; jobID is the job
// chosen beside it, or "". Nothing is saved.
func (s *Shop) ReadQuick(id, jobID, text string) ([]costing.QuickReading, error) {
	r, err := s.Record(id)
	if err != nil {
		return nil, err
	}
	in := costing.QuickShop{Currency: s.currency, Today: s.Today(), Goods: s.contents.Goods, JobID: jobID}
	for _, j := range r.Jobs {
		if !j.Done() || j.ID == jobID {
			in.Jobs = append(in.Jobs, j)
		}
	}
	for _, d := range s.Records(costing.Broken, costing.Bench) {
		if d.ID != id && (d.Stage == costing.Broken || d.Name() != "") {
			in.Donors = append(in.Donors, costing.Thing{ID: d.ID, Name: title(d)})
		}
	}
	return costing.ReadQuick(text, in)
}

// ErrWhich is returned for a quick line that can be meant in several ways.
var ErrWhich = errors.New("it can be meant in more than one way: choose below")

// QuickLine saves a line that can be meant in one way only, and says what was saved.
func (s *Shop) QuickLine(id, jobID, text string) (say.Sentence, error) {
	all, err := s.ReadQuick(id, jobID, text)
	if err != nil {
		return say.Sentence{}, err
	}
	if len(all) > 1 {
		return say.Sentence{}, fmt.Errorf("%q: %w", text, ErrWhich)
	}
	return all[0].Words, s.SaveQuick(id, all[0])
}

// SaveQuick saves one reading of a quick line.
func (s *Shop) SaveQuick(id string, q costing.QuickReading) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	switch {
	case q.Session != nil:
		w := *q.Session
		w.MotorID = id
		return s.SaveSession(w)
	case q.Draw != nil:
		d := *q.Draw
		return s.DrawFor(id, d.JobID, d.GoodID, d.Quantity, d.Unit, d.On)
	case q.DonorID != "":
		return s.takeFrom(q.DonorID, r, q.Line)
	}
	q.Line.MotorID = id
	if err := checkLine(q.Line); err != nil {
		return err
	}
	if q.Core == nil {
		return s.SaveLine(q.Line)
	}
	core := *q.Core
	core.MotorID = id
	return s.write(say.New("undo.line", "cost line {{.Line}} on {{.Motor}}", "Line", q.Line.Text, "Motor", title(r)), "", id, func(tx *shopfile.Tx) error {
		if err := tx.PutLine(&q.Line); err != nil {
			return err
		}
		return tx.PutLine(&core)
	})
}

// checkLine refuses what cannot be typed as a cost: the shelf and its write-downs have ways of their own.
func checkLine(l costing.Line) error {
	switch l.Kind {
	case costing.Shelf, costing.PartDonor:
		return fmt.Errorf("kind of the line: %q is booked by a draw", l.Kind)
	}
	return nil
}

// takeFrom charges a part off a donor, or off another motor on the bench, to the motor.
func (s *Shop) takeFrom(donorID string, r costing.Record, l costing.Line) error {
	donor, err := s.stage(donorID, "take a part off", costing.Broken, costing.Bench)
	if err != nil {
		return err
	}
	if l.On != s.Today() {
		return errors.New("day: a part off another motor is booked on the day it is taken; leave the day out")
	}
	return s.takePart(donor, r, l.Text, l.Total)
}
