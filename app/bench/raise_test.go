package bench

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
)

// What would raise the motor on the bench is said beside what the plan gives it, and why not when a fact
// that is needed is missing.
func TestWhatWouldRaiseIt(t *testing.T) {
	s, _, p := seat(t, true)
	change := func(f func(*costing.Record)) {
		t.Helper()
		if err := s.Change(p.chosen, "motor", f); err != nil {
			t.Fatal(err)
		}
	}
	for _, j := range chosen(t, s, p).Jobs { // the plan is to be what is typed alone
		if err := s.TakeOff(p.chosen, j.ID); err != nil {
			t.Fatal(err)
		}
	}
	change(func(r *costing.Record) {
		r.Motor.State, r.Motor.Looks = valuation.Dead, 2
		r.Plan = costing.Plan{State: valuation.Runs, Parts: costing.ThreePoint{Likely: 12_300}, Hours: costing.ThreePoint{Likely: 4}}
	})
	planned := ""
	for _, l := range p.raise.Sums.Lines() {
		if strings.Contains(l.Rests.String(), "123 in parts") {
			planned += l.What.String()
		}
	}
	if planned != "state: runs (now: does not run)" {
		t.Errorf("the plan stands beside %q", planned)
	}
	change(func(r *costing.Record) { r.Motor.Power = 0 })
	if words := p.raise.Words(); len(p.raise.Sums.Lines()) != 0 || !strings.Contains(words, "power is needed") {
		t.Errorf("without a power it says %q", words)
	}
}
