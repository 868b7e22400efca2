package shop

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"skegworth/costing"
	"skegworth/data/shopfile"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// LongRun is how long the clock runs before it is asked whether somebody forgot it.
const LongRun = 2 * costing.Hour

// Clock is the running stopwatch; it stands in the shop file, so it survives closing the program.
func (s *Shop) Clock() costing.Clock { return s.contents.Clock }

// Elapsed is the time on the running stopwatch.
func (s *Shop) Elapsed() costing.Hours {
	if !s.contents.Clock.Running() {
		return 0
	}
	return max(0, costing.Hours((s.now().Unix()-s.contents.Clock.Start)/60))
}

// Forgotten tells whether the clock has run for so long, since it was started or last said to run on, that
// it is asked about.
func (s *Shop) Forgotten() bool {
	c := s.contents.Clock
	since := max(c.Start, c.Kept)
	return c.Running() && s.now().Unix()-since >= int64(LongRun)*60
}

// Stint is what the clock is started for.
type Stint struct {
	MotorID string
	Task    string
	JobID   string
	Paid    bool
	Rate    money.Amount // paid per hour
}

// StartClock starts the stopwatch, stopping it first where it runs.
func (s *Shop) StartClock(w Stint) error {
	r, err := s.Record(w.MotorID)
	if err != nil {
		return err
	}
	if w.Paid && w.Rate <= 0 {
		return errors.New("per hour: say what is paid for an hour")
	}
	if err := s.StopClock(); err != nil {
		return err
	}
	c := costing.Clock{MotorID: w.MotorID, Task: strings.TrimSpace(w.Task), Start: s.now().Unix(), JobID: w.JobID, Paid: w.Paid}
	if w.Paid {
		c.Rate = w.Rate
	}
	return s.writeBench(say.New("undo.clock", "clock started on {{.Motor}}", "Motor", title(r)), "", w.MotorID,
		func(tx *shopfile.Tx) error { return moveClock(tx, costing.Clock{}, c) })
}

// moveClock sets the stopwatch on from how it was seen. Time that another bench started or booked meanwhile
// is neither lost nor booked twice.
func moveClock(tx *shopfile.Tx, from, to costing.Clock) error {
	now, err := tx.Clock()
	if err != nil {
		return err
	}
	if now != from {
		return &shopfile.Conflict{Thing: "the stopwatch", Reason: "was started or stopped elsewhere meanwhile: look at it again before pressing it"}
	}
	return tx.PutClock(to)
}

// KeepClock says that somebody is still at it: it is asked again as long after.
func (s *Shop) KeepClock() error {
	was := s.contents.Clock
	if !was.Running() {
		return nil
	}
	c := was
	c.Kept = s.now().Unix()
	return s.writeBench(say.New("undo.clockkeep", "clock kept running"), "", "", func(tx *shopfile.Tx) error { return moveClock(tx, was, c) })
}

// StopClock stops the stopwatch and books its time; under half a minute is not booked.
func (s *Shop) StopClock() error {
	if !s.contents.Clock.Running() {
		return nil
	}
	return s.stopClock(s.Elapsed())
}

// StopClockAt stops the stopwatch as of an earlier time of day, such as 16:30, for one that was forgotten:
// the last such time that it ran through.
func (s *Shop) StopClockAt(text string) error {
	c := s.contents.Clock
	if !c.Running() {
		return nil
	}
	at, err := time.Parse("15:04", strings.ReplaceAll(strings.TrimSpace(text), ".", ":"))
	if err != nil {
		return fmt.Errorf("stop at: %q is no time of day; write it as 16:30", text)
	}
	now, start := s.now(), time.Unix(c.Start, 0)
	end := time.Date(now.Year(), now.Month(), now.Day(), at.Hour(), at.Minute(), 0, 0, now.Location())
	if end.After(now) {
		end = end.AddDate(0, 0, -1)
	}
	if end.Before(start) {
		return fmt.Errorf("stop at: the clock was only started at %s", start.In(now.Location()).Format("15:04"))
	}
	return s.stopClock(costing.Hours(end.Sub(start) / time.Minute))
}

// stopClock books the time of the stopwatch on the day it was started. Time beyond one day is left off:
// nobody works through it.
func (s *Shop) stopClock(worked costing.Hours) error {
	c := s.contents.Clock
	on := day.FromTime(time.Unix(c.Start, 0).In(s.now().Location()))
	w := costing.Session{MotorID: c.MotorID, On: min(on, s.Today()), Task: c.Task, Time: min(worked, mostSession),
		Rate: s.OwnRate(on), JobID: c.JobID}
	if c.Paid {
		w.Paid, w.Rate = true, c.Rate
	}
	return s.writeBench(say.New("undo.clockstop", "{{.Hours}} by the clock", "Hours", w.Time.Words()), "", c.MotorID, func(tx *shopfile.Tx) error {
		if w.Time > 0 {
			if err := tx.PutSession(&w); err != nil {
				return err
			}
		}
		return moveClock(tx, c, costing.Clock{})
	})
}
