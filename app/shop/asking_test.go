package shop

import (
	"path/filepath"
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation"
	"skegworth/valuation/day"
)

// With no history at all there is an answer, and it says what it rests on.
func TestAskingWithoutAnyHistory(t *testing.T) {
	s := fresh(t)
	id := prospect(t, s)
	ok(t, s.Buy(id, Purchase{Price: 50000}))
	ok(t, s.Finish(id, valuation.Serviced, s.Today()))
	a, err := s.Asking(id)
	ok(t, err)
	if !strings.HasPrefix(a.Answer.String(), "Ask ") || !strings.Contains(a.Answer.String(), "walk away under") {
		t.Errorf("it says %q", a.Answer)
	}
	if a.Behind.Key != "ask.behind.none" || !strings.Contains(a.Behind.String(), "common practice") {
		t.Errorf("it rests on %q", a.Behind)
	}
	if d := a.Advice; d.Follow.High < 5*d.Follow.Low || d.WalkAway <= 0 || d.WalkAway >= d.Ask {
		t.Errorf("days from %d to %d, ask %d and walk away under %d", d.Follow.Low, d.Follow.High, d.Ask, d.WalkAway)
	}
	if len(a.Grid.Columns) != 0 || len(a.Near) != 0 {
		t.Error("there are sales to compare with")
	}
}

// What own motors took to sell is learned, and a motor that still stands counts as unsold.
func TestAskingLearnsFromOwnMotors(t *testing.T) {
	s, err := ExampleOn(filepath.Join(t.TempDir(), "example.skegworth"), day.Of(2026, 11, 25))
	ok(t, err)
	defer s.Close()
	listed := s.Records(costing.Listed)
	a, err := s.Asking(listed[0].ID)
	ok(t, err)
	d := a.Advice
	if d.SoldListings < 20 || d.Listings < d.SoldListings+len(listed) {
		t.Errorf("%d motors were for sale, %d of them sold; %d stand now", d.Listings, d.SoldListings, len(listed))
	}
	if d.Present.Ask != listed[0].Ask || len(a.Marks) == 0 || a.Marks[0].Kind != MarkAsked {
		t.Errorf("asked %d now, marks %+v", d.Present.Ask, a.Marks)
	}
	for _, c := range a.Grid.Columns {
		if c.Price+c.Net != c.Adjusted {
			t.Errorf("%+v does not add up", c)
		}
	}
	again, err := s.Asking(listed[0].ID)
	ok(t, err)
	if again.Advice.Ask != d.Ask || &again.Advice.Curve[0] != &d.Curve[0] {
		t.Error("the same question is worked out twice")
	}
	brief, err := s.AskPrice(listed[0].ID)
	ok(t, err)
	if brief.Ask != d.Ask || brief.WalkAway != d.WalkAway {
		t.Errorf("in a list it is %d and %d, alone %d and %d", brief.Ask, brief.WalkAway, d.Ask, d.WalkAway)
	}
	// In practice: asked somewhat more than it is worth, let go for a little less than it should bring.
	for _, r := range s.Records(costing.Finished, costing.Listed) {
		a, err := s.Asking(r.ID)
		ok(t, err)
		d, middle := a.Advice, a.Band.Median()
		if d.Ask < middle.Times(0.85) || d.Ask > middle.Times(1.4) || d.WalkAway < d.Follow.Price.Times(0.8) || d.WalkAway > d.Follow.Price {
			t.Errorf("%s, worth about %d: ask %d, it brings %d, walk away under %d", r.Name(), middle, d.Ask, d.Follow.Price, d.WalkAway)
		}
	}
}

func TestAskingByADayAndAnOffer(t *testing.T) {
	s, err := ExampleOn(filepath.Join(t.TempDir(), "example.skegworth"), day.Of(2026, 11, 25))
	ok(t, err)
	defer s.Close()
	id := s.Records(costing.Listed)[0].ID
	free, err := s.Asking(id)
	ok(t, err)
	by, err := s.AskingBy(id, s.Today()+20)
	ok(t, err)
	if by.Advice.Ask > free.Advice.Ask || by.Advice.WalkAway > free.Advice.WalkAway || !strings.Contains(by.Answer.String(), "2026-12-15") {
		t.Errorf("by a day %q, without one %q", by.Answer, free.Answer)
	}
	if _, err := s.AskingBy(id, s.Today()); err == nil {
		t.Error("a day that is not ahead was taken")
	}
	low, err := s.WeighOffer(free, free.Advice.WalkAway-10000)
	ok(t, err)
	if low.Take || !strings.HasPrefix(low.Answer.String(), "No, not for ") || low.Reserve < 1 {
		t.Errorf("a low offer: %q %q", low.Answer, low.Second)
	}
	high, err := s.WeighOffer(free, free.Advice.WalkAway+10000)
	ok(t, err)
	if !high.Take || !strings.HasPrefix(high.Answer.String(), "Yes, take ") {
		t.Errorf("a good offer: %q", high.Answer)
	}
	if _, err := s.WeighOffer(free, 0); err == nil {
		t.Error("an offer of nothing was weighed")
	}
}

// The ways out of a prospect take the usual days to sell until own motors say otherwise.
func TestWaysOutTakeTheLearnedDays(t *testing.T) {
	s := fresh(t)
	m := valuation.Motor{Power: 50, Year: 2010, Stroke: valuation.TwoStroke, State: valuation.Runs}
	if got := s.sellDays(offer.Tidy, m); got != offer.SellDays[offer.Tidy] {
		t.Errorf("with no motor of its own %d days", got)
	}
	for i := range 12 {
		on := s.Today() - day.Day(400+10*i)
		_, err := s.AddSale(costing.Record{Motor: m, ListedOn: on - 4, Ask: 140000, Sale: &costing.Sale{Sold: on, Price: 135000}})
		ok(t, err)
	}
	if got := s.sellDays(offer.Tidy, m); got >= offer.SellDays[offer.Tidy]*2/3 {
		t.Errorf("after twelve that sold in four days it takes %d", got)
	}
	if got := s.sellDays(offer.Break, m); got != offer.SellDays[offer.Break] {
		t.Errorf("broken for parts %d days", got)
	}
}

// An offer that can still be taken is answered the same before and after it is written down, and by the
// walk-away price in the headline; it teaches once it was declined or has lapsed.
func TestAnOpenOfferDoesNotSpeakForItself(t *testing.T) {
	s := fresh(t)
	id, err := s.AddProspect()
	ok(t, err)
	ok(t, s.Change(id, "motor", func(r *costing.Record) {
		r.Motor = valuation.Motor{Power: 60, Year: 2008, Stroke: valuation.FourStroke, State: valuation.Rebuilt}
	}))
	ok(t, s.Buy(id, Purchase{On: s.Today() - 30, Price: 900_00}))
	ok(t, s.Finish(id, valuation.Rebuilt, s.Today()-25))
	ok(t, s.ListForSale(id, s.Today()-20, 2_800_00))
	before, err := s.Asking(id)
	ok(t, err)
	offered := before.Advice.WalkAway + 40_00
	typed, err := s.WeighOffer(before, offered)
	ok(t, err)
	ok(t, s.SaveBid(costing.Bid{MotorID: id, On: s.Today(), Amount: offered, From: "Ann Lee"}))
	after, err := s.Asking(id)
	ok(t, err)
	kept, err := s.WeighOffer(after, offered)
	ok(t, err)
	if !typed.Take || typed.Answer.String() != kept.Answer.String() || before.Advice.WalkAway != after.Advice.WalkAway {
		t.Errorf("typed %q, written down %q", typed.Answer, kept.Answer)
	}
	r, err := s.Record(id)
	ok(t, err)
	ok(t, s.AnswerBid(id, r.Bids[0].ID, costing.BidDeclined, 0))
	declined, err := s.Asking(id)
	ok(t, err)
	if declined.Advice.WalkAway == after.Advice.WalkAway {
		t.Error("a declined offer teaches nothing")
	}
}

// Where less is asked than advised, there is no drop to take early.
func TestNoDropIsProposedBelowTheAdvice(t *testing.T) {
	s, err := ExampleOn(filepath.Join(t.TempDir(), "example.skegworth"), day.Of(2026, 11, 25))
	ok(t, err)
	defer s.Close()
	for _, r := range s.Records(costing.Listed) {
		a, err := s.Asking(r.ID)
		ok(t, err)
		ok(t, s.ChangeAsk(r.ID, a.Advice.WalkAway, 0, ""))
		a, err = s.Asking(r.ID)
		ok(t, err)
		if drop, planned := a.NextDrop(); planned && a.Record.Ask < a.Advice.Ask {
			t.Errorf("%s: %d is asked, %d advised, and a drop to %d proposed", r.Name(), a.Record.Ask, a.Advice.Ask, drop.Ask)
		}
	}
}
