package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation"
)

// verdictOn is the answer for the example's prospect of that name.
func verdictOn(t *testing.T, s *Shop, name string) Verdict {
	t.Helper()
	for _, r := range s.Records(costing.Prospect) {
		if strings.HasPrefix(r.Name(), name) {
			v, err := s.Appraise(r.ID)
			ok(t, err)
			if !v.Ready {
				t.Fatalf("%s is not ready", name)
			}
			return v
		}
	}
	t.Fatalf("no prospect %s", name)
	return Verdict{}
}

func TestEveryWayOutIsCompared(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Halvard 90")
	var names []offer.Exit
	best := v.Ways[0]
	for _, w := range v.Ways {
		names = append(names, w.Exit)
		if w.Low > w.Mid || w.Mid > w.High || w.Days <= 0 {
			t.Errorf("%s: %d %d %d, %d days", w.Exit, w.Low, w.Mid, w.High, w.Days)
		}
		if w.Answer.Offer.Top > best.Answer.Offer.Top {
			best = w
		}
		if w.Exit == offer.Rebuild && (!w.Planned || w.At.Hours < 14*costing.Hour) {
			t.Errorf("the rebuild was planned by hand, and is taken as %+v", w.At)
		}
	}
	if len(names) != 5 {
		t.Errorf("ways out %v", names)
	}
	if v.Best.Exit != best.Exit || v.Top > v.Best.Answer.Offer.Top || v.Top < v.Best.Answer.Offer.Top-100 {
		t.Errorf("best %s with %d, top %d; the highest is %s", v.Best.Exit, v.Best.Answer.Offer.Top, v.Top, best.Exit)
	}
	if want := best.Exit.Name().String(); !strings.Contains(v.Limit.String(), want) {
		t.Errorf("%q does not name %q", v.Limit, want)
	}
	// A motor that was rebuilt is sold as it is, or broken.
	id := v.Record.ID
	ok(t, s.Change(id, "state", func(r *costing.Record) { r.Motor.State, r.Plan = valuation.Rebuilt, costing.Plan{} }))
	v, err := s.Appraise(id)
	ok(t, err)
	for _, w := range v.Ways {
		if w.Exit == offer.Tidy || w.Exit == offer.Rebuild {
			t.Errorf("a rebuilt motor is offered a %s", w.Exit)
		}
	}
}

// A check that fails makes the dear cases likelier, and the top price no higher; the check is then made
// and no longer asked for.
func TestACheckFeedsTheChances(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Halvard 90")
	id := v.Record.ID
	ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Plan = costing.Plan{} }))
	v, err := s.Appraise(id)
	ok(t, err)
	asked := func(v Verdict) bool {
		for _, c := range v.Checks {
			if c.Trial == costing.Compression {
				return true
			}
		}
		return false
	}
	finished := func(v Verdict) float64 { return v.Doubts[0].Cases[4].Chance }
	if !asked(v) || v.First.Empty() {
		t.Fatalf("compression is not asked for: %v", v.Checks)
	}
	ok(t, s.SaveCheck(costing.Check{MotorID: id, Trial: costing.Compression, When: costing.Before, Readings: []float64{120, 118, 40, 119}}))
	after, err := s.Appraise(id)
	ok(t, err)
	if finished(after) <= finished(v) || asked(after) {
		t.Errorf("finished went from %v to %v; still asked for: %v", finished(v), finished(after), asked(after))
	}
	if after.Top > v.Top {
		t.Errorf("a low cylinder raised the top price from %d to %d", v.Top, after.Top)
	}
}

// A tap is kept, undone in one step, and takes the other chances of the doubt over in tenths.
func TestChancesAreTapped(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Corvane 40")
	id := v.Record.ID
	ok(t, s.Tap(id, offer.Powerhead, offer.Finished, 0.9))
	after, err := s.Appraise(id)
	ok(t, err)
	d := after.Doubts[0]
	if !d.Tapped || d.Cases[4].Chance != 0.9 || d.Cases[0].Chance == 0 || !strings.Contains(d.Rests().String(), "Tapped") {
		t.Errorf("%+v", d)
	}
	if s.Tap(id, offer.Powerhead, offer.Gears, 0.5) == nil || s.Tap(id, offer.Powerhead, offer.Sound, 1.2) == nil {
		t.Error("a chance that cannot be was taken")
	}
	ok(t, s.Untap(id, offer.Powerhead))
	back, err := s.Appraise(id)
	ok(t, err)
	if back.Doubts[0].Tapped || back.Top != v.Top {
		t.Errorf("untapped, the top price is %d and was %d", back.Top, v.Top)
	}
	if _, did, err := s.Undo(); !did || err != nil {
		t.Fatal(did, err)
	}
	if r, _ := s.Record(id); len(r.Guesses) != 5 {
		t.Errorf("undone, %d chances stand", len(r.Guesses))
	}
}

// Own lines move one motor's top price and no other's.
func TestAMotorMayHaveLinesOfItsOwn(t *testing.T) {
	s := filled(t)
	v, other := verdictOn(t, s, "Corvane 40"), verdictOn(t, s, "Selwick")
	ok(t, s.Change(v.Record.ID, "lines", func(r *costing.Record) { r.Targets = costing.Lines{Own: true, Profit: 90_000, Risk: 0.2} }))
	if got := verdictOn(t, s, "Corvane 40"); got.Top >= v.Top {
		t.Errorf("with a line of 900 the top is %d, was %d", got.Top, v.Top)
	}
	if got := verdictOn(t, s, "Selwick"); got.Top != other.Top {
		t.Errorf("another's went from %d to %d", other.Top, got.Top)
	}
}

// A plate that is missing stands first in the answer until it is marked as cleared.
func TestAMissingPlateMustBeCleared(t *testing.T) {
	s := filled(t)
	id := verdictOn(t, s, "Corvane 40").Record.ID
	ok(t, s.Change(id, "plate", func(r *costing.Record) { r.Motor.Plate = valuation.No }))
	v, err := s.Appraise(id)
	ok(t, err)
	if !strings.HasPrefix(v.Answer.String(), "Do not buy until") {
		t.Errorf("it says %q", v.Answer)
	}
	ok(t, s.SaveCheck(costing.Check{MotorID: id, Trial: costing.Plate, When: costing.Before, Verdict: costing.Pass, Note: "bill of sale seen"}))
	v, err = s.Appraise(id)
	ok(t, err)
	if !strings.HasPrefix(v.Answer.String(), "Pay up to") {
		t.Errorf("cleared, it says %q", v.Answer)
	}
}

// What own finished motors had is counted by their done jobs.
func TestChancesAreLearnedFromDoneJobs(t *testing.T) {
	s := fresh(t)
	if n, err := s.AddStarterCards(); n == 0 || err != nil {
		t.Fatal(n, err)
	}
	var swap string
	for _, c := range s.Cards() {
		if c.Name == offer.CardSwap {
			swap = c.ID
		}
	}
	for range 3 {
		id := onBench(t, s)
		job, err := s.PutOn(id, swap, 1, OnTop)
		ok(t, err)
		ok(t, s.FinishJob(id, job, true))
		ok(t, s.Finish(id, valuation.Rebuilt, 0))
	}
	next := prospect(t, s)
	v, err := s.Appraise(next)
	ok(t, err)
	if d := v.Doubts[0]; d.Own != 3 || d.Cases[4].Chance < 3.0/7 || !strings.Contains(d.Rests().String(), "3 of your own") {
		t.Errorf("%+v: %s", d, d.Rests())
	}
}

func TestHingesAreSaid(t *testing.T) {
	s := filled(t)
	lines, err := s.Hinges(verdictOn(t, s, "Corvane 40"))
	ok(t, err)
	if len(lines) < 2 || !strings.Contains(lines[0].String(), "pay up to") {
		t.Errorf("%v", lines)
	}
}

// Bought without a plan by hand, the best way out is the plan, its job cards the jobs.
func TestTheBestWayOutBecomesThePlan(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Corvane 40")
	id := v.Record.ID
	if _, err := s.AddStarterCards(); err != nil && !strings.Contains(err.Error(), "already") {
		t.Fatal(err)
	}
	ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Plan = costing.Plan{} }))
	v, err := s.Appraise(id)
	ok(t, err)
	ok(t, s.Buy(id, Purchase{Price: 60_000}))
	r := record(t, s, id)
	if r.Plan.State != v.Best.State || v.Best.Exit == offer.Tidy && len(r.Jobs) != 2 {
		t.Errorf("best %s as %s; planned %s with %d jobs", v.Best.Exit, v.Best.State, r.Plan.State, len(r.Jobs))
	}
	if r.Plan.Days == 0 && v.Best.Exit != offer.AsItStands {
		t.Error("no days are planned")
	}
	if _, did, err := s.Undo(); !did || err != nil {
		t.Fatal(did, err)
	}
	if r := record(t, s, id); len(r.Jobs) != 0 || r.Stage != costing.Prospect || r.Plan.State != "" {
		t.Errorf("undone it stands as %s with %d jobs", r.Stage, len(r.Jobs))
	}
}

// One letter typed into a prospect's form, with all prospects answered for in the list.
func BenchmarkAKeyInTheList(b *testing.B) {
	s, err := Example(b.TempDir() + "/shop.skegworth")
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	id := s.Prospects()[0].Record.ID
	price := int64(0)
	for b.Loop() {
		price++
		i := s.index[id]
		s.contents.Records[i].Plan.Trip = float64(price % 50)
		if rows := s.Prospects(); !rows[0].Ready {
			b.Fatal("no answer")
		}
	}
}
