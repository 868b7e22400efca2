package shop

import (
	"errors"
	"fmt"
	"slices"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// SaveLine adds a cost line to its motor, or changes the one with its id. Draws from the shelf are made
// through [Shop.Draw].
func (s *Shop) SaveLine(l costing.Line) error {
	r, err := s.Record(l.MotorID)
	if err != nil {
		return err
	}
	if l.ShelfID != "" {
		return fmt.Errorf("change the line %q: it was drawn from the shelf; remove it and draw again", l.Text)
	}
	if !slices.Contains(costing.Kinds, l.Kind) {
		return fmt.Errorf("kind of the line: %q is not a kind of cost", l.Kind)
	}
	if l.ID != "" && s.otherEnd(l) != "" {
		return fmt.Errorf("change the line %q: it is the cost of a part taken off a donor; remove it and take the part again", l.Text)
	}
	if err := s.stopInKind(r, l.ID, "change"); err != nil {
		return err
	}
	if l.On == 0 {
		l.On = s.Today()
	}
	if err := s.checkLine(r, l); err != nil {
		return err
	}
	what := say.New("undo.line", "cost line {{.Line}} on {{.Motor}}", "Line", l.Text, "Motor", title(r))
	coalesce := ""
	if l.ID != "" {
		coalesce = "line:" + l.ID
	}
	return s.write(what, coalesce, l.MotorID, func(tx *shopfile.Tx) error { return tx.PutLine(&l) })
}

// DeleteLine takes a cost line back as if it had never been; a draw goes back on the shelf, and a donor's
// part is put back on its donor. What stands on a receipt is taken back there.
func (s *Shop) DeleteLine(l costing.Line) error {
	if p, there := s.pieceOfLine(l); there {
		return s.PutPieceBack(p.ID)
	}
	if it, there := s.itemOf(l.ID); there {
		return s.dropReturn(it)
	}
	if r, err := s.Record(l.MotorID); err == nil {
		if err := s.stopInKind(r, l.ID, "remove"); err != nil {
			return err
		}
	}
	what := say.New("undo.unline", "removal of the line {{.Line}}", "Line", l.Text)
	touched := l.MotorID
	other := s.otherEnd(l)
	if l.ShelfID != "" || other != "" {
		touched = "" // the shelf or the donor changes too
	}
	return s.write(what, "", touched, func(tx *shopfile.Tx) error {
		if l.ShelfID != "" {
			if err := tx.DeleteMove(l.ID); err != nil {
				return err
			}
		}
		if other != "" {
			if err := tx.DeleteLine(other); err != nil {
				return err
			}
		}
		return tx.DeleteLine(l.ID)
	})
}

// mostSession is the longest stretch of time written down for one day.
const mostSession = 24 * costing.Hour

// SaveSession adds time worked on a motor, or changes the session with its id.
func (s *Shop) SaveSession(w costing.Session) error {
	r, err := s.Record(w.MotorID)
	if err != nil {
		return err
	}
	if w.Time <= 0 {
		return fmt.Errorf("hours: the time worked must be more than nothing")
	}
	if w.On == 0 {
		w.On = s.Today()
	}
	if w.On > s.Today() {
		return fmt.Errorf("day: %s has not come yet", w.On)
	}
	if w.Time > mostSession {
		return fmt.Errorf("hours: %s is more than one day has; write each day by itself", w.Time.Words())
	}
	if w.Paid && w.Rate <= 0 {
		return errors.New("per hour: say what is paid for an hour")
	}
	if w.Rate == 0 && !w.Paid {
		w.Rate = s.OwnRate(w.On)
	}
	what := say.New("undo.hours", "{{.Hours}} on {{.Motor}}", "Hours", w.Time.Words(), "Motor", title(r))
	return s.write(what, "", w.MotorID, func(tx *shopfile.Tx) error { return tx.PutSession(&w) })
}

// DeleteSession takes time worked back.
func (s *Shop) DeleteSession(w costing.Session) error {
	what := say.New("undo.unhours", "removal of {{.Hours}}", "Hours", w.Time.Words())
	return s.write(what, "", w.MotorID, func(tx *shopfile.Tx) error { return tx.DeleteSession(w.ID) })
}
