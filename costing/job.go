package costing

import (
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Job is a job card put on a motor's plan. Its estimate is the card's as it stood on that day, so that a
// card mended later does not change what was thought then.
type Job struct {
	ID      string
	Version int64
	MotorID string
	CardID  string // "" when the card is gone
	Name    string
	Pieces  int // cylinders or pieces it is for
	Hours   ThreePoint
	Parts   ThreePoint // parts, outside work and consumables, minor units
	On      day.Day    // put on the plan
	DoneOn  day.Day    // 0 while it is not done
}

// Done tells whether the job is marked as done.
func (j Job) Done() bool { return j.DoneOn != 0 }

// JobActual is what a job has taken so far.
type JobActual struct {
	Time  Hours        // own and paid
	Spent money.Amount // parts, consumables and outside work
}

// Took is what each job of the motor has taken: its sessions and lines that carry the job.
func (r Record) Took() map[string]JobActual {
	took := make(map[string]JobActual, len(r.Jobs))
	for i := range r.Sessions {
		if w := &r.Sessions[i]; w.JobID != "" {
			a := took[w.JobID]
			a.Time += w.Time
			took[w.JobID] = a
		}
	}
	for i := range r.Lines {
		l := &r.Lines[i]
		if l.JobID == "" || !l.Kind.Group().Worked() {
			continue
		}
		a := took[l.JobID]
		a.Spent += l.Total
		took[l.JobID] = a
	}
	return took
}

// Worked tells whether lines of the group are what work on a motor takes: what an estimate of parts means.
func (g Group) Worked() bool { return g == Parts || g == Consumables || g == OutsideWork }

// WorkPlanned is the whole estimate of a motor: what was typed for it and its job cards, added up by
// [SumOf].
func (r Record) WorkPlanned() Plan {
	p := r.Plan
	if len(r.Jobs) == 0 {
		return p
	}
	hours, parts := []ThreePoint{p.Hours}, []ThreePoint{p.Parts}
	for _, j := range r.Jobs {
		hours, parts = append(hours, j.Hours), append(parts, j.Parts)
	}
	p.Hours, p.Parts = SumOf(hours...), SumOf(parts...)
	return p
}

// Less is the guess with another, that was part of it, taken out; never below nothing.
func (t ThreePoint) Less(part ThreePoint) ThreePoint {
	t, part = t.Full(), part.Full()
	low := max(0, t.Low-part.Low)
	likely := max(low, t.Likely-part.Likely)
	return ThreePoint{low, likely, max(likely, t.High-part.High)}
}
