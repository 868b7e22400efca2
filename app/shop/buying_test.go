package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/costing/offer"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

func said(all []say.Sentence, words string) bool {
	return strings.Contains(strings.Join(say.Strings(all), "\n"), words)
}

// A usual fee, tax and cost of money lower the top price; what is said for the motor takes the place of the
// rates, and both are there to be booked.
func TestFeeTaxAndHoldingLowerTheTop(t *testing.T) {
	s := filled(t)
	before := verdictOn(t, s, "Corvane 40")
	id := before.Record.ID
	ok(t, s.ChangeSettings("rates", func(x *costing.Settings) { x.BuyerFeeRate, x.PurchaseTaxRate = 0.1, 0.07 }))
	rates := verdictOn(t, s, "Corvane 40")
	if rates.Offer.Top >= before.Offer.Top || rates.Best.At.Fee == 0 || rates.Best.At.Tax == 0 {
		t.Errorf("with rates the top is %d, was %d: %+v", rates.Offer.Top, before.Offer.Top, rates.Best.At)
	}
	ok(t, s.ChangeSettings("holding", func(x *costing.Settings) { x.CostOfMoney, x.SpaceADay = 0.1, 100 }))
	holding := verdictOn(t, s, "Corvane 40")
	if holding.Offer.Top >= rates.Offer.Top || holding.Best.At.Holding == 0 {
		t.Errorf("with holding the top is %d, was %d", holding.Offer.Top, rates.Offer.Top)
	}
	ok(t, s.SaveBuying(id, costing.Buy{FeeKnown: true, TaxKnown: true, Tax: 1500}))
	own := verdictOn(t, s, "Corvane 40")
	if own.Best.At.Fee != 0 || own.Best.At.Tax != 0 || own.Offer.Top <= holding.Offer.Top {
		t.Errorf("with no fee and a tax of 15 the top is %d, was %d", own.Offer.Top, holding.Offer.Top)
	}
	if fee, tax, err := s.FeeAndTaxAt(id, 50000); fee != 0 || tax != 1500 || err != nil {
		t.Errorf("fee %d, tax %d, %v", fee, tax, err)
	}
	if s.SaveBuying(id, costing.Buy{FeeKnown: true, Fee: -1}) == nil {
		t.Error("a fee below nothing was taken")
	}
}

// What was spent on motors passed over is carried by those bought, fewer motors carrying it more, and stands
// in the books as an expense all the same.
func TestTripsInVainAreCarriedOnce(t *testing.T) {
	s := filled(t)
	before, v := s.Looks(), verdictOn(t, s, "Corvane 40")
	if before.Spent == 0 || before.Passed == 0 || before.Bought == 0 || before.Each != money.Round(float64(before.Spent)/(float64(before.Bought)+2)) {
		t.Fatalf("%+v", before)
	}
	other := verdictOn(t, s, "Tornvik 150").Record.ID
	ok(t, s.AddLook(other, 0, 2000))
	if got := s.Looks(); got != before {
		t.Errorf("a trip to a motor that is still a prospect counts: %+v", got)
	}
	expenses := s.books().Balance(0).Expenses
	ok(t, s.PassFor(other, costing.WhyPrice, "too dear"))
	after := s.Looks()
	if after.Spent != before.Spent+2000*s.Settings().TripRate || after.Passed != before.Passed+1 || after.Each <= before.Each {
		t.Errorf("passed on, %+v was %+v", after, before)
	}
	if got := verdictOn(t, s, "Corvane 40"); size(got.Best.Answer.Costs-v.Best.Answer.Costs-after.Each+before.Each) > 1 || !said(got.Notes, "for looking at motors you did not buy") {
		t.Errorf("costs %d, were %d; a purchase carries %d, before %d; %v", got.Best.Answer.Costs, v.Best.Answer.Costs, after.Each, before.Each, say.Strings(got.Notes))
	}
	if b := s.books().Balance(0); b.Off() != 0 || b.Expenses != expenses {
		t.Errorf("the books are off by %d; expenses went from %d to %d", b.Off(), expenses, b.Expenses)
	}
	ok(t, s.ChangeSettings("trips", func(x *costing.Settings) { x.LooksApart = true }))
	if got := s.Looks(); got.Each != 0 || got.Spent != after.Spent {
		t.Errorf("apart: %+v", got)
	}
}

// Cash follows the books from the day it was counted; a purchase that it does not reach for is warned of.
func TestCapacity(t *testing.T) {
	s := filled(t)
	c := s.Capacity()
	if c.CashKnown != (s.Settings().CashOn != 0) || c.Taken == 0 || len(c.Lines) != 3 {
		t.Errorf("%+v", c)
	}
	ok(t, s.ChangeSettings("cash", func(x *costing.Settings) {
		x.Cash, x.CashOn, x.Places, x.HoursAWeek = 200_000, s.Today()-1, c.Taken+1, 20
	}))
	c = s.Capacity()
	if !c.CashKnown || c.Free != 1 || c.Bench.Guessed || c.Bench.HoursAWeek != 20 {
		t.Errorf("%+v", c)
	}
	v := verdictOn(t, s, "Corvane 40")
	ok(t, s.Buy(v.Record.ID, Purchase{Price: 60_000, Fee: 5_000, Tax: 1_000, Trip: 10}))
	after := s.Capacity()
	if after.Cash != c.Cash-66_000 || after.Free != 0 || after.Taken != c.Taken+1 {
		t.Errorf("cash from %d to %d, free %d", c.Cash, after.Cash, after.Free)
	}
	next := verdictOn(t, s, "Halvard 90")
	if !said(next.Warnings, "No place is free") {
		t.Errorf("%v", say.Strings(next.Warnings))
	}
	ok(t, s.ChangeSettings("cash", func(x *costing.Settings) { x.Cash, x.CashOn = 100, s.Today() }))
	if next = verdictOn(t, s, "Selwick"); next.Top > 0 && !said(next.Warnings, "of cash is free") {
		t.Errorf("%v", say.Strings(next.Warnings))
	}
}

// Work that is queued pushes the sale out, and the cash is tied up for longer.
func TestAQueueOnTheBenchDelaysTheSale(t *testing.T) {
	s := fresh(t)
	next := prospect(t, s)
	ok(t, s.ChangeSettings("week", func(x *costing.Settings) { x.HoursAWeek = 10 }))
	before, err := s.Appraise(next)
	ok(t, err)
	id := onBench(t, s)
	ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Plan.Hours = costing.ThreePoint{Likely: 40} }))
	if b := s.Capacity().Bench; b.Queued < 39 || b.Motors != 1 || b.Weeks() < 3.9 {
		t.Fatalf("%+v", b)
	}
	after, err := s.Appraise(next)
	ok(t, err)
	for i, w := range after.Ways {
		was := before.Ways[i]
		if w.Exit == offer.AsItStands && w.Answer.Days.Bench != was.Answer.Days.Bench {
			t.Errorf("%s waits for the bench", w.Exit)
		}
		if w.Exit == offer.Rebuild && w.Answer.Days.Bench != was.Answer.Days.Bench+28 {
			t.Errorf("%s: %d days on the bench, were %d", w.Exit, w.Answer.Days.Bench, was.Answer.Days.Bench)
		}
	}
}

// What the seller shows has to be answered; what a search found stops the purchase.
func TestPapersAreAnswered(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Selwick")
	id := v.Record.ID
	ok(t, s.SavePapers(id, costing.Papers{}))
	if v, _ = s.Appraise(id); !said(v.Warnings, "Not answered yet: serial plate, title or lien, stolen-goods search.") {
		t.Errorf("%v", say.Strings(v.Warnings))
	}
	ok(t, s.SavePapers(id, costing.Papers{Search: costing.SearchFound, Title: costing.TitleClear, Reference: " 12-7 "}))
	v, err := s.Appraise(id)
	ok(t, err)
	if !strings.HasPrefix(v.Answer.String(), "Do not buy until") || v.Record.Papers.Reference != "12-7" || v.Record.Papers.SearchedOn != s.Today() {
		t.Errorf("%q, %+v", v.Answer, v.Record.Papers)
	}
	ok(t, s.SavePapers(id, costing.Papers{Search: costing.SearchClear, Title: costing.TitleDoubt}))
	if v, _ = s.Appraise(id); !said(v.Warnings, "lien") || !strings.HasPrefix(v.Answer.String(), "Do not buy until") {
		t.Errorf("%v", say.Strings(v.Warnings))
	}
	ok(t, s.SavePapers(id, costing.Papers{Search: costing.SearchClear, Title: costing.TitleClear}))
	if v, _ = s.Appraise(id); !strings.HasPrefix(v.Answer.String(), "Pay up to") && !strings.HasPrefix(v.Answer.String(), "Leave it") {
		t.Errorf("%q", v.Answer)
	}
}

// What was passed over keeps its reason and the top price of that day, and tells what it brought elsewhere.
func TestPassedOver(t *testing.T) {
	s := filled(t)
	v := verdictOn(t, s, "Halvard 90")
	if v.Top >= v.Record.SellerAsks || v.Offer.TooThin {
		t.Fatalf("top %d, asked %d", v.Top, v.Record.SellerAsks)
	}
	n := len(s.PassedOver().Rows)
	ok(t, s.PassFor(v.Record.ID, costing.WhyPrice, ""))
	p := s.PassedOver()
	row := p.Rows[0]
	if len(p.Rows) != n+1 || row.Record.ID != v.Record.ID || row.Top != v.Top || row.Taken != v.Record.SellerAsks-v.Top || !strings.Contains(p.Summary.String(), "not known") {
		t.Errorf("%+v: %s", row, p.Summary)
	}
	ok(t, s.SeenSold(v.Record.ID, v.Top+30_000, 0))
	if p = s.PassedOver(); !strings.Contains(p.Summary.String(), "1 above it") || !strings.Contains(p.Rows[0].Words.String(), "above your top price") {
		t.Errorf("%s; %s", p.Summary, p.Rows[0].Words)
	}
	ok(t, s.SeenSold(v.Record.ID, v.Top-100, 0))
	if p = s.PassedOver(); !strings.Contains(p.Summary.String(), "1 within") {
		t.Error(p.Summary)
	}
	ok(t, s.Reconsider(v.Record.ID))
	if r := record(t, s, v.Record.ID); r.Passing != (costing.Passing{}) || r.Stage != costing.Prospect {
		t.Errorf("reconsidered, %+v", r.Passing)
	}
	ok(t, s.Pass(v.Record.ID))
	if r := record(t, s, v.Record.ID); r.Passing.Top != v.Top || r.Passing.Why != "" || s.Pass(v.Record.ID) == nil {
		t.Errorf("passed without a reason, %+v", r.Passing)
	}
	if s.PassFor(v.Record.ID, "mood", "") == nil || s.SeenSold(verdictOn(t, s, "Corvane 40").Record.ID, 1, 0) == nil {
		t.Error("what cannot be was taken")
	}
}

// A lot's top price is worked out with one trip; a motor too little is known of is named.
func TestALotOfTheShop(t *testing.T) {
	s := filled(t)
	a, b := verdictOn(t, s, "Corvane 40"), verdictOn(t, s, "Halvard 90")
	id, err := s.AddLot("two and a trailer")
	ok(t, err)
	if v, err := s.AppraiseLot(id); err != nil || v.Ready {
		t.Errorf("an empty lot: %+v, %v", v, err)
	}
	ok(t, s.PutInLot(a.Record.ID, id))
	ok(t, s.PutInLot(b.Record.ID, id))
	ok(t, s.ChangeLot(id, "all", func(l *costing.Bundle) {
		l.Asks, l.Trip, l.Splits = 180_000, 40, true
		l.Things = []costing.BundleThing{{Name: "trailer", Kept: true, OwnWorth: 20_000}}
	}))
	v, err := s.AppraiseLot(id)
	ok(t, err)
	if !v.Ready || len(v.Members) != 3 || v.Rows[0].Asks != 180_000 || len(v.Rows) < 4 {
		t.Fatalf("%+v", v)
	}
	var carried money.Amount
	for _, m := range v.Members {
		carried += m.Carries
	}
	if carried != 180_000 {
		t.Errorf("its members carry %d", carried)
	}
	if s.ChangeLot(id, "name", func(l *costing.Bundle) { l.Name = " " }) == nil {
		t.Error("a lot without a name was taken")
	}
	blank, err := s.AddProspect()
	ok(t, err)
	ok(t, s.PutInLot(blank, id))
	if v, err = s.AppraiseLot(id); err != nil || !said(v.Warnings, "is left out") {
		t.Errorf("%v, %v", say.Strings(v.Warnings), err)
	}
	ok(t, s.DeleteLot(id))
	if r := record(t, s, a.Record.ID); r.BundleID != "" || r.Stage != costing.Prospect {
		t.Errorf("taken apart, %+v", r)
	}
}

func TestProspectsBesideEachOther(t *testing.T) {
	s := filled(t)
	a, b := verdictOn(t, s, "Corvane 40"), verdictOn(t, s, "Halvard 90")
	c, err := s.CompareProspects(a.Record.ID, b.Record.ID)
	ok(t, err)
	if len(c.Names) != 2 || len(c.Rows) != 10 || !strings.Contains(c.Words.String(), a.Record.Name()) {
		t.Errorf("%+v", c)
	}
	for _, r := range c.Rows {
		if len(r.Texts) != 2 {
			t.Errorf("%s: %v", r.Name, r.Texts)
		}
		if r.Name.String() == "room" && r.Best != 0 {
			t.Errorf("room: %v, best %d", r.Texts, r.Best)
		}
	}
	if _, err := s.CompareProspects(a.Record.ID); err == nil {
		t.Error("one alone was compared")
	}
}

// A starting card that was renamed still does what ways out need it for, and what was done by it still counts.
func TestARenamedStartingCardIsKnownAgain(t *testing.T) {
	s := fresh(t)
	_, err := s.AddStarterCards()
	ok(t, err)
	for _, c := range s.Cards() {
		if c.Name == offer.CardSwap {
			c.Name, c.Starter = "other powerhead on", "" // as a form may send it
			c.Hours = costing.ThreePoint{Low: 50, Likely: 60, High: 70}
			_, err := s.SaveCard(c)
			ok(t, err)
			id := onBench(t, s)
			job, err := s.PutOn(id, c.ID, 1, OnTop)
			ok(t, err)
			ok(t, s.FinishJob(id, job, true))
			ok(t, s.Finish(id, "rebuilt", 0))
		}
	}
	if n, err := s.AddStarterCards(); n != 0 || err != nil {
		t.Errorf("%d cards came again, %v", n, err)
	}
	next := prospect(t, s)
	v, err := s.Appraise(next)
	ok(t, err)
	if v.Doubts[0].Own != 1 || v.Doubts[0].Cases[4].Chance < 0.2 {
		t.Errorf("%+v", v.Doubts[0])
	}
	work := s.work(record(t, s, next).Motor, offer.CardSwap)
	if len(work) != 1 || work[0].Name != "other powerhead on" || work[0].Hours.Mean() < 55 {
		t.Errorf("%+v", work)
	}
}
