package shop

import (
	"errors"
	"fmt"
	"slices"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/say"
)

// QuickLine adds a cost line written in one breath: "2 x impeller 14.50 harbour supply".
func (s *Shop) QuickLine(id, text string) error {
	line, err := costing.ParseQuickLine(text, s.currency)
	if err != nil {
		return err
	}
	if line.Kind == costing.PartDonor {
		return errors.New("part off a donor: take it on the Shelf screen, so that the donor gives up what it cost")
	}
	line.MotorID = id
	return s.SaveLine(line)
}

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
	if w.Rate == 0 && !w.Paid {
		w.Rate = s.Settings().OwnRate
	}
	what := say.New("undo.hours", "{{.Hours}} h on {{.Motor}}", "Hours", w.Time.String(), "Motor", title(r))
	return s.write(what, "", w.MotorID, func(tx *shopfile.Tx) error { return tx.PutSession(&w) })
}

// DeleteSession takes time worked back.
func (s *Shop) DeleteSession(w costing.Session) error {
	what := say.New("undo.unhours", "removal of {{.Hours}} h", "Hours", w.Time.String())
	return s.write(what, "", w.MotorID, func(tx *shopfile.Tx) error { return tx.DeleteSession(w.ID) })
}

// Clock is the running stopwatch; it stands in the shop file, so it survives closing the program.
func (s *Shop) Clock() costing.Clock { return s.contents.Clock }

// Elapsed is the time on the running stopwatch.
func (s *Shop) Elapsed() costing.Hours {
	if !s.contents.Clock.Running() {
		return 0
	}
	return max(0, costing.Hours((s.now().Unix()-s.contents.Clock.Start)/60))
}

// StartClock starts the stopwatch on a motor, stopping it first where it runs.
func (s *Shop) StartClock(id, task string) error {
	r, err := s.Record(id)
	if err != nil {
		return err
	}
	if err := s.StopClock(); err != nil {
		return err
	}
	c := costing.Clock{MotorID: id, Task: task, Start: s.now().Unix()}
	return s.write(say.New("undo.clock", "clock started on {{.Motor}}", "Motor", title(r)), "", "",
		func(tx *shopfile.Tx) error { return tx.PutClock(c) })
}

// StopClock stops the stopwatch and books its time; under half a minute is not booked.
func (s *Shop) StopClock() error {
	c := s.contents.Clock
	if !c.Running() {
		return nil
	}
	w := costing.Session{MotorID: c.MotorID, On: s.Today(), Task: c.Task, Time: s.Elapsed(), Rate: s.Settings().OwnRate}
	return s.write(say.New("undo.clockstop", "{{.Hours}} h by the clock", "Hours", w.Time.String()), "", "", func(tx *shopfile.Tx) error {
		if w.Time > 0 {
			if err := tx.PutSession(&w); err != nil {
				return err
			}
		}
		return tx.PutClock(costing.Clock{})
	})
}
