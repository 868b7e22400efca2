package shop

import (
	"errors"
	"fmt"
	"strings"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/say"
)

// SaveSnag adds a snag to its motor, or changes the one with its id.
func (s *Shop) SaveSnag(g costing.Snag) error {
	r, err := s.Record(g.MotorID)
	if err != nil {
		return err
	}
	g.Text, g.Whom = strings.TrimSpace(g.Text), strings.TrimSpace(g.Whom)
	if g.Kind == "" {
		g.Kind = costing.ToDo
	}
	if g.Since == 0 {
		g.Since = s.Today()
	}
	if err := g.Check(); err != nil {
		return err
	}
	return s.writeBench(say.New("undo.snag", "snag {{.Snag}} on {{.Motor}}", "Snag", g.Text, "Motor", title(r)), "", g.MotorID,
		func(tx *shopfile.Tx) error { return tx.PutSnag(&g) })
}

// SnagDone marks a snag as done today, or, with done false, opens it again.
func (s *Shop) SnagDone(motorID, snagID string, done bool) error {
	g, err := s.snag(motorID, snagID)
	if err != nil {
		return err
	}
	g.DoneOn = 0
	if done {
		g.DoneOn = max(s.Today(), g.Since)
	}
	return s.SaveSnag(g)
}

// DeleteSnag removes a snag that was none.
func (s *Shop) DeleteSnag(motorID, snagID string) error {
	g, err := s.snag(motorID, snagID)
	if err != nil {
		return err
	}
	return s.writeBench(say.New("undo.unsnag", "removal of the snag {{.Snag}}", "Snag", g.Text), "", motorID,
		func(tx *shopfile.Tx) error { return tx.DeleteSnag(snagID) })
}

func (s *Shop) snag(motorID, snagID string) (costing.Snag, error) {
	r, err := s.Record(motorID)
	if err != nil {
		return costing.Snag{}, err
	}
	for _, g := range r.Snags {
		if g.ID == snagID {
			return g, nil
		}
	}
	return costing.Snag{}, fmt.Errorf("find the snag: %w", ErrUnknown)
}

// ErrSnags is wrapped by the errors of what takes a motor with open snags off the bench.
var ErrSnags = errors.New("see to them first, or choose to go on all the same")

// stopForSnags refuses to let motors on the bench go that have open snags.
func (s *Shop) stopForSnags(verb string, ids ...string) error {
	for _, id := range ids {
		r, err := s.Record(id)
		if err != nil || r.Stage != costing.Bench {
			continue // finished: it was asked about then
		}
		if open := r.OpenSnags(); len(open) > 0 {
			return fmt.Errorf("%s %s: %d open snags, %s: %w", verb, title(r), len(open), open[0].Text, ErrSnags)
		}
	}
	return nil
}

// OpenSnags says what is still open on a motor, empty when nothing is.
func (s *Shop) OpenSnags(r costing.Record) say.Sentence {
	open := r.OpenSnags()
	switch len(open) {
	case 0:
		return say.Sentence{}
	case 1:
		return say.New("snags.one", "One snag is open: {{.Snags}}.", "Snags", open[0].Text)
	}
	var names []string
	for _, g := range open {
		names = append(names, g.Text)
	}
	return say.New("snags.open", "{{.Count}} snags are open: {{.Snags}}.", "Count", len(open), "Snags", strings.Join(names, ", "))
}

// Finish marks a motor on the bench as ready to offer, in the state that the work has brought it to; ""
// leaves that as it is. With open snags it is refused, see [ErrSnags]: [Shop.FinishWithSnags] is the
// deliberate way.
func (s *Shop) Finish(id string, state valuation.State, on day.Day) error {
	if err := s.stopForSnags("finish", id); err != nil {
		return err
	}
	return s.FinishWithSnags(id, state, on)
}

// FinishWithSnags marks a motor as ready to offer although snags are open; they stay open.
func (s *Shop) FinishWithSnags(id string, state valuation.State, on day.Day) error {
	return s.move(id, "finish", costing.Finished, func(r *costing.Record) {
		r.FinishedOn = orToday(on, s)
		if state != "" {
			r.Motor.State = state
		}
	}, costing.Bench)
}
