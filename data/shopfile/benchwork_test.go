package shopfile

import (
	"testing"

	"skegworth/costing"
)

// A job taken off a plan leaves the money and the hours on the motor, and undo ties them to it again.
func TestAJobTakenOffLeavesWhatWasSpent(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		card := costing.Card{Name: "water pump", Per: costing.PerMotor}
		job := costing.Job{Name: "water pump", Pieces: 1}
		write(t, f, "a plan", func(tx *Tx) error {
			return firstError(
				func() error { return tx.PutCard(&card) },
				func() error { job.MotorID, job.CardID = r.ID, card.ID; return tx.PutJob(&job) },
				func() error {
					return tx.PutLine(&costing.Line{MotorID: r.ID, Kind: costing.PartNew, Total: 1450, JobID: job.ID})
				},
				func() error { return tx.PutSession(&costing.Session{MotorID: r.ID, Time: 90, JobID: job.ID}) },
				func() error { return tx.PutClock(costing.Clock{MotorID: r.ID, Start: 1, JobID: job.ID}) },
			)
		})
		before := contents(t, f)
		wantError(t, f.Write(t.Context(), "card away", "", func(tx *Tx) error { return tx.drop(cards, card.ID) }), ErrInUse)
		write(t, f, "card away", func(tx *Tx) error { return tx.DeleteCard(card.ID) })
		write(t, f, "job away", func(tx *Tx) error { return tx.DeleteJob(job.ID) })
		now, err := f.Record(t.Context(), r.ID)
		must(t, err)
		if len(now.Jobs) != 0 || len(now.Lines) != 1 || len(now.Sessions) != 1 || now.Lines[0].JobID+now.Sessions[0].JobID != "" {
			t.Errorf("left are %+v %+v %+v", now.Jobs, now.Lines, now.Sessions)
		}
		if c := contents(t, f).Clock; !c.Running() || c.JobID != "" {
			t.Errorf("the clock is %+v", c)
		}
		for range 2 {
			_, err := f.Undo(t.Context())
			must(t, err)
		}
		sameBut(t, before, contents(t, f))
	})
}

// sameBut compares what is in a shop apart from versions.
func sameBut(t failer, want, got Contents) {
	t.Helper()
	if d := diffOf(want, got); d != "" {
		t.Fatalf("undo left (- before, + after):\n%s", d)
	}
}

func TestARemovedMotorTakesItsBenchWorkAlong(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		r := saved(t, f)
		write(t, f, "work", func(tx *Tx) error {
			job := costing.Job{MotorID: r.ID, Name: "water pump"}
			return firstError(
				func() error { return tx.PutJob(&job) },
				func() error { return tx.PutSession(&costing.Session{MotorID: r.ID, Time: 90, JobID: job.ID}) },
				func() error { return tx.PutClock(costing.Clock{MotorID: r.ID, Start: 1, JobID: job.ID}) },
				func() error { return tx.PutSnag(&costing.Snag{MotorID: r.ID, Kind: costing.ToDo}) },
				func() error {
					return tx.PutCheck(&costing.Check{MotorID: r.ID, Trial: costing.Spark, When: costing.Before})
				},
				func() error {
					return tx.PutGuess(&costing.Guess{MotorID: r.ID, Doubt: "powerhead", Case: "gasket", Tenths: 2})
				},
				func() error { return tx.PutPhoto(&costing.Photo{MotorID: r.ID, Kind: costing.OfMotor}) },
				func() error { return tx.PutPhoto(&costing.Photo{MotorID: r.ID, Kind: costing.OfReceipt}) },
			)
		})
		before := contents(t, f)
		write(t, f, "away", func(tx *Tx) error { return tx.DeleteRecord(r.ID) })
		c := contents(t, f)
		if len(c.Records) != 0 || c.Clock.Running() || len(c.Photos) != 1 || c.Photos[0].MotorID != "" {
			t.Errorf("left are %+v", c)
		}
		_, err := f.Undo(t.Context())
		must(t, err)
		sameBut(t, before, contents(t, f))
	})
}
