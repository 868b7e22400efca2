package shop

import (
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// filled is the example shop.
func filled(t *testing.T) *Shop {
	t.Helper()
	s, err := Example(filepath.Join(t.TempDir(), "example.skegworth"))
	ok(t, err)
	t.Cleanup(func() { ok(t, s.Close()) })
	return s
}

// The lines shown add up in whole units, from a plain motor to the price that the screen says.
func TestWhyAddsUpAsShown(t *testing.T) {
	s := filled(t)
	for _, r := range s.Records(costing.Finished, costing.Listed) {
		why, err := s.Why(r.Motor, s.Today())
		ok(t, err)
		band, err := s.Worth(r.Motor, s.Today())
		ok(t, err)
		last := why.Lines[len(why.Lines)-1]
		var sum money.Amount
		for _, l := range why.Lines[:len(why.Lines)-1] {
			sum += l.Money
			if l.What.Empty() || l.Rests.Empty() {
				t.Errorf("%s: a line of %s says %q, %q", r.Name(), l.Text, l.What, l.Rests)
			}
		}
		if sum != last.Money || last.Text != s.Currency().Whole(band.Median()) {
			t.Errorf("%s: lines add up to %v, it says %s, the band %s", r.Name(), sum, last.Text, s.Currency().Whole(band.Median()))
		}
	}
}

// What is not known is said to widen the band and has no line.
func TestWhySaysWhatIsNotKnown(t *testing.T) {
	s := filled(t)
	why, err := s.Why(valuation.Motor{Power: 90, Year: 2008, Stroke: valuation.TwoStroke, State: valuation.Runs}, s.Today())
	ok(t, err)
	if got := why.Wider.String(); !strings.Contains(got, "looks") || !strings.Contains(got, " more") {
		t.Errorf("it says %q", got)
	}
	usual := false
	for _, l := range why.Lines {
		if l.What.Key == "why.usual" {
			usual = true
		}
		if strings.HasPrefix(l.What.String(), "looks") {
			t.Errorf("looks are not known and push %s", l.Text)
		}
	}
	if !usual {
		t.Error("what is usual for such a motor has no line")
	}
	if _, err := s.Why(valuation.Motor{Year: 2008}, s.Today()); err == nil {
		t.Error("without a power there is an answer")
	}
}

// A prospect is explained as it is to be sold.
func TestWhyResaleIsTheVerdicts(t *testing.T) {
	s := filled(t)
	seen := 0
	for _, r := range s.Records(costing.Prospect) {
		v, err := s.Appraise(r.ID)
		ok(t, err)
		if !v.Ready {
			continue
		}
		seen++
		why, err := s.WhyResale(v)
		ok(t, err)
		if last := why.Lines[len(why.Lines)-1]; last.Text != s.Currency().Whole(v.Resale.Median()) {
			t.Errorf("%s: leads to %s, the resale band's middle is %s", r.Name(), last.Text, s.Currency().Whole(v.Resale.Median()))
		}
	}
	if seen == 0 {
		t.Fatal("no prospect was ready")
	}
}

// Each improvement is said with its range, the most worth first, and the planned state with what the plan
// gives it.
func TestRaise(t *testing.T) {
	s := filled(t)
	id := s.Records(costing.Bench)[0].ID
	for _, j := range record(t, s, id).Jobs { // the plan is to be what is typed alone
		ok(t, s.TakeOff(id, j.ID))
	}
	ok(t, s.Change(id, "state", func(r *costing.Record) {
		r.Motor.State, r.Motor.Looks = valuation.Dead, 3
		r.Plan = costing.Plan{State: valuation.Serviced, Parts: costing.ThreePoint{Likely: 18_000}, Hours: costing.ThreePoint{Likely: 5}}
	}))
	a, err := s.Raise(id)
	ok(t, err)
	planned := 0
	for i, l := range a.Lines {
		if i > 0 && l.Money > a.Lines[i-1].Money {
			t.Errorf("%s after %s", l.Text, a.Lines[i-1].Text)
		}
		rests := l.Rests.String()
		if !strings.HasPrefix(rests, "eight times in ten ") {
			t.Errorf("%s rests on %q", l.What, rests)
		}
		if strings.Contains(rests, "Your plan gives it") {
			planned++
			if l.What.String() != "state: serviced (now: does not run)" || !strings.Contains(rests, "180 in parts and outside work and 5.0 h") {
				t.Errorf("%s: %s", l.What, rests)
			}
		}
	}
	if planned != 1 || !a.Unsaid.Empty() || !strings.Contains(a.Best.String(), a.Lines[0].Text) {
		t.Errorf("planned %d, unsaid %q, best %q", planned, a.Unsaid, a.Best)
	}
	ok(t, s.Change(id, "looks", func(r *costing.Record) { r.Motor.Looks = 0 }))
	if a, err = s.Raise(id); err != nil || a.Unsaid.Empty() {
		t.Errorf("without looks it says %q, %v", a.Unsaid, err)
	}
	ok(t, s.Change(id, "best", func(r *costing.Record) {
		r.Motor.State, r.Motor.Looks = valuation.Rebuilt, 5
		r.Motor.Controls, r.Motor.Propeller, r.Motor.Tank = valuation.Yes, valuation.Yes, valuation.Yes
	}))
	if a, err = s.Raise(id); err != nil || len(a.Lines) != 0 || a.Note.Key != "raise.none" || !a.Best.Empty() {
		t.Errorf("at its best: %+v, %v", a, err)
	}
}

// A claim that rests on the trade prior is called discounted.
func TestRaiseSaysThatAClaimIsDiscounted(t *testing.T) {
	s := fresh(t)
	id, err := s.AddProspect()
	ok(t, err)
	ok(t, s.Change(id, "motor", func(r *costing.Record) {
		r.Motor = valuation.Motor{Power: 90, Year: 2008, Stroke: valuation.TwoStroke, State: valuation.Runs, Looks: 3}
	}))
	a, err := s.Raise(id)
	ok(t, err)
	claims := 0
	for _, l := range a.Lines {
		if strings.Contains(l.Rests.String(), "discounts a claim") {
			claims++
		}
	}
	if claims != 2 {
		t.Errorf("%d claims are called discounted, want those of a service and a rebuild", claims)
	}
}
