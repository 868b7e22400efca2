package shop

import (
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// CheckRow is one trial of a motor, before the work and after it.
type CheckRow struct {
	Trial         costing.Trial
	Before, After costing.Check
	Findings      []say.Sentence // what the readings come to, the later ones
	Warnings      []say.Sentence // why the two do not compare
	Unit          string         // the shop's, for what is measured
}

// Checks are the trials that fit a motor, made or not, in the order they are made.
func (s *Shop) Checks(r costing.Record) []CheckRow {
	var out []CheckRow
	for _, t := range costing.Trials {
		before, was := r.CheckOf(t, costing.Before)
		after, is := r.CheckOf(t, costing.After)
		if !was && !is && !t.Fits(r.Motor.Stroke) {
			continue
		}
		x := CheckRow{Trial: t, Before: before, After: after, Unit: s.unitOf(t)}
		last := after
		if after.Blank() {
			last = before
		}
		last.Trial = t
		x.Findings = last.Findings()
		x.Warnings = before.Compare(after)
		out = append(out, x)
	}
	return out
}

// unitOf is what a trial is read in: the shop's unit of pressure, or per cent.
func (s *Shop) unitOf(t costing.Trial) string {
	if t.Measured() == "psi" {
		return s.Settings().Pressure
	}
	return t.Measured()
}

// SaveCheck writes down what a trial found before or after the work; one that found nothing any more is
// taken out. There is one of a trial before and one after.
func (s *Shop) SaveCheck(c costing.Check) error {
	r, err := s.Record(c.MotorID)
	if err != nil {
		return err
	}
	if err := c.Check(); err != nil {
		return err
	}
	old, there := r.CheckOf(c.Trial, c.When)
	c.ID, c.Version = old.ID, old.Version
	if c.On == 0 {
		c.On = s.Today()
	}
	what := say.New("undo.check", "{{.Check}} of {{.Motor}}", "Check", c.Trial.Name().String(), "Motor", title(r))
	coalesce := "check:" + c.MotorID + string(c.Trial) + string(c.When)
	if c.Blank() {
		if !there {
			return nil
		}
		return s.writeBench(what, coalesce, c.MotorID, func(tx *shopfile.Tx) error { return tx.DeleteCheck(old.ID) })
	}
	return s.writeBench(what, coalesce, c.MotorID, func(tx *shopfile.Tx) error { return tx.PutCheck(&c) })
}

// CheckFeeds says what the checks would change in the motor's description, empty when nothing.
func (s *Shop) CheckFeeds(r costing.Record) say.Sentence {
	var names []string
	for _, f := range r.Feeds() {
		names = append(names, f.Trial.Name().String())
	}
	if len(names) == 0 {
		return say.Sentence{}
	}
	return say.New("checks.feeds", "The description does not have these yet: {{.Checks}}.", "Checks", strings.Join(names, ", "))
}

// Describe puts what the checks found into the motor's description, as measured: the band follows.
func (s *Shop) Describe(id string) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if err := r.Describe(); err != nil {
		return err
	}
	return s.writeBench(say.New("undo.describe", "checks into the description of {{.Motor}}", "Motor", title(r)), "", id,
		func(tx *shopfile.Tx) error { return tx.PutRecord(&r) })
}
