package shop

import (
	"strings"
	"testing"

	"skegworth/costing"
	"skegworth/valuation/money"
)

// addsUp fails unless the lines of every way out come to its profit, and those of the work to the work.
func addsUp(t *testing.T, s *Shop, id string) {
	t.Helper()
	v, err := s.Appraise(id)
	ok(t, err)
	for _, w := range v.Ways {
		var sum, costs, of money.Amount
		for _, l := range s.WayLines(v, w.Exit) {
			name := l.What.String()
			switch {
			case strings.HasPrefix(name, "of it: "):
				of += l.Money
				continue
			case name == "work and the rest together":
				costs = l.Money
			case name == "profit before own time":
				if l.Money != sum || l.Money != s.nearest(w.At.BeforeOwnTime) {
					t.Errorf("%s, %s: the lines come to %d, the profit said is %d, worked out %d", v.Record.Name(), w.Exit, sum, l.Money, w.At.BeforeOwnTime)
				}
			}
			sum += l.Money
		}
		if of != costs {
			t.Errorf("%s, %s: the work comes to %d, what it is made of to %d", v.Record.Name(), w.Exit, costs, of)
		}
	}
}

// What a way out brings less everything it takes is its profit, to the unit, with a fee, a tax, a cost of
// money and of the place, a trip, selling and motors looked at in vain.
func TestTheWorkingOfAWayOutAddsUp(t *testing.T) {
	s := filled(t)
	for _, row := range s.Prospects() {
		if row.Ready {
			addsUp(t, s, row.Record.ID)
		}
	}
	ok(t, s.ChangeSettings("all", func(x *costing.Settings) {
		x.BuyerFeeRate, x.PurchaseTaxRate, x.CostOfMoney, x.SpaceADay, x.FeeRate = 0.051, 0.0725, 0.12, 83, 0.0333
	}))
	for i, row := range s.Prospects() {
		if !row.Ready {
			continue
		}
		id := row.Record.ID
		ok(t, s.Change(id, "plan", func(r *costing.Record) { r.Plan.Trip, r.Plan.Selling, r.SellerAsks = 33, 1777, 41_150 }))
		if i%2 == 0 {
			ok(t, s.SaveBuying(id, costing.Buy{FeeKnown: true, Fee: 1234, TaxKnown: true}))
		}
		addsUp(t, s, id)
	}
}

// The line of looking at motors in vain stands only where there is something to carry.
func TestNothingIsSaidOfLooksAtNothing(t *testing.T) {
	s := filled(t)
	says := func() bool {
		v := verdictOn(t, s, "Corvane 40")
		for _, l := range s.WayLines(v, v.Best.Exit) {
			if strings.Contains(l.What.String(), "looking at motors") {
				return true
			}
		}
		return false
	}
	if each := s.Looks().Each; says() != (s.nearest(each) > 0) {
		t.Errorf("with %d to carry it says %v", each, says())
	}
	passed := s.Records(costing.Passed)[0].ID
	ok(t, s.AddLook(passed, 0, 9_000))
	if !says() {
		t.Error("a long drive in vain is not said")
	}
	ok(t, s.ChangeSettings("apart", func(x *costing.Settings) { x.LooksApart = true }))
	if says() {
		t.Error("with nothing to carry it is said all the same")
	}
}
