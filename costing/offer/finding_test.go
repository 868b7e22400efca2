package offer_test

import (
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
)

// With a resale price that is sure the top price by finding is school arithmetic: the least of the mean of what
// is left, and of what is left in all but two of ten. Nothing known, the gasket is three in ten, so 1,700.00; the
// powerhead sound and a seal one in ten, the mean of 2,000.00 and 1,900.00 binds.
func TestFindingsByHand(t *testing.T) {
	gasket := offer.Work{Name: "gasket", Hours: costing.ThreePoint{Likely: 4}, Parts: costing.ThreePoint{Likely: 30000}}
	seal := offer.Work{Name: "seal", Parts: costing.ThreePoint{Likely: 10000}}
	f, err := offer.ByFinding(offer.Question{
		Doubts: []offer.Doubt{
			{Key: "powerhead", Cases: []offer.Case{{Key: "sound", Chance: 7}, {Key: "gasket", Chance: 3, Work: []offer.Work{gasket}},
				{Key: "finished", Work: []offer.Work{{Name: "swap", Parts: costing.ThreePoint{Likely: 190000}}}}}},
			{Key: "lower-unit", Cases: []offer.Case{{Key: "sound", Chance: 9}, {Key: "seal", Chance: 1, Work: []offer.Work{seal}}}},
		},
		Ways:     []offer.Way{{Exit: offer.Rebuild, Resale: flat(200000), Reach: offer.MendsAll}, {Exit: offer.AsItStands, Resale: flat(20000)}},
		Settings: settings(func(s *costing.Settings) { s.Profit, s.PerHour, s.Risk = 0, 0, 0.2 }),
	}, func(_, key string) offer.Resale {
		if key == "finished" {
			return flat(15000) // told to the buyer, it brings 150.00 instead of 200.00
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []offer.Finding{
		{Chance: 1, Top: 170000, Exit: offer.Rebuild},
		{Chance: 0.63, Top: 200000, Exit: offer.Rebuild},
		{Doubt: "powerhead", Case: "sound", Chance: 0.7, Top: 199000, Exit: offer.Rebuild},
		{Doubt: "powerhead", Case: "gasket", Chance: 0.3, Top: 169000, Exit: offer.Rebuild},
		{Doubt: "powerhead", Case: "finished", Chance: 0, Top: 15000, Exit: offer.AsItStands},
		{Doubt: "lower-unit", Case: "sound", Chance: 0.9, Top: 170000, Exit: offer.Rebuild},
		{Doubt: "lower-unit", Case: "seal", Chance: 0.1, Top: 160000, Exit: offer.Rebuild},
	}
	got := append([]offer.Finding{f.Unknown, f.Sound}, f.Each...)
	if len(got) != len(want) {
		t.Fatalf("%d findings: %+v", len(got), got)
	}
	for i, w := range want {
		g := got[i]
		if g.Doubt != w.Doubt || g.Case != w.Case || g.Exit != w.Exit || g.TooThin || g.Chance < w.Chance-1e-9 || g.Chance > w.Chance+1e-9 {
			t.Errorf("finding %d is %+v, want %+v", i, g, w)
		}
		if d := g.Top - w.Top; d < -1 || d > 1 {
			t.Errorf("finding %d: top %d, want %d", i, g.Top, w.Top)
		}
	}
}

// What is found to be sound is never worth less than what is not known, and each finding is the comparison
// with its doubt settled.
func TestFindingsInADriveway(t *testing.T) {
	q := driveway()
	f, err := offer.ByFinding(q, nil)
	if err != nil {
		t.Fatal(err)
	}
	if now := compare(t, q).BestWay(); f.Unknown.Top != now.Top || f.Unknown.Exit != now.Exit {
		t.Errorf("with nothing known %d by %s, the comparison says %d by %s", f.Unknown.Top, f.Unknown.Exit, now.Top, now.Exit)
	}
	if f.Sound.Top <= f.Unknown.Top {
		t.Errorf("all sound is worth %d, nothing known %d", f.Sound.Top, f.Unknown.Top)
	}
	for i, x := range f.Each {
		if x.Top > f.Sound.Top {
			t.Errorf("%s %s is worth %d, more than all sound", x.Doubt, x.Case, x.Top)
		}
		if i > 0 && f.Each[i-1].Doubt == x.Doubt && x.Top > f.Each[i-1].Top {
			t.Errorf("%s: %s is worth %d, more than %s with %d", x.Doubt, x.Case, x.Top, f.Each[i-1].Case, f.Each[i-1].Top)
		}
	}
	if q.Doubts[0].Cases[0].Chance != 4 || len(q.Doubts[0].Cases) != 3 {
		t.Error("the question was changed")
	}
}

func TestFindingsOfWhatCannotBeWorked(t *testing.T) {
	q := driveway()
	q.Ways = nil
	if _, err := offer.ByFinding(q, nil); err == nil {
		t.Error("no way out, and no error")
	}
	q = driveway()
	q.Doubts = nil
	f, err := offer.ByFinding(q, nil)
	if err != nil || len(f.Each) != 0 || f.Sound.Top != f.Unknown.Top {
		t.Errorf("without a doubt: %+v, %v", f, err)
	}
}
