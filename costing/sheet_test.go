package costing_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// rebuilt is a motor bought on the 10th of January, sold on the 1st of May for 2,600.00, and seen again.
func rebuilt() costing.Record {
	on := func(month time.Month, d int) day.Day { return day.Of(2026, month, d) }
	return costing.Record{
		Stage: costing.Sold, BoughtOn: on(1, 10),
		Lines: []costing.Line{
			{Kind: costing.Trip, On: on(1, 5), Total: 2400},
			{Kind: costing.Purchase, On: on(1, 10), Total: 90000},
			{Kind: costing.PartNew, On: on(2, 1), Total: 31250},
			{Kind: costing.PartNew, On: on(2, 9), Total: -1250}, // taken back
			{Kind: costing.Shelf, On: on(2, 3), Total: 1817},
			{Kind: costing.Outside, On: on(2, 20), Total: 12000},
			{Kind: costing.Overhead, On: on(3, 1), Total: 3000},
			{Kind: costing.Listing, On: on(3, 5), Total: 1500},
			{Kind: costing.MarketFee, On: on(5, 1), Total: 13000},
			{Kind: costing.PartNew, On: on(5, 20), Total: 4400}, // for the comeback
			{Kind: costing.Comeback, On: on(5, 21), Total: 600},
			{Kind: costing.Refund, On: on(5, 25), Total: 10000},
		},
		Sessions: []costing.Session{
			{On: on(2, 1), Time: 10 * costing.Hour, Rate: 2500},
			{On: on(2, 2), Time: 4*costing.Hour + 30},
			{On: on(2, 20), Time: 2 * costing.Hour, Paid: true, Rate: 3000},
			{On: on(5, 21), Time: costing.Hour, Paid: true, Rate: 3000},
			{On: on(5, 21), Time: 90, Rate: 2000},
		},
		Sale: &costing.Sale{Sold: on(5, 1), Price: 260000},
	}
}

// Added up by hand: carried 24.00 + 900.00 + 312.50 - 12.50 + 18.17 + 120.00 + 30.00 and two paid hours
// at 30.00; after the sale the part, the comeback and a paid hour. Own time 10 h at 25.00, 4.5 h at the
// shop's 20.00, 1.5 h at 20.00.
func TestSheet(t *testing.T) {
	want := costing.Sheet{
		ByGroup: []costing.GroupTotal{
			{Group: costing.Buying, Total: 92400}, {Group: costing.Parts, Total: 30000}, {Group: costing.Consumables, Total: 1817},
			{Group: costing.OutsideWork, Total: 12000}, {Group: costing.Workshop, Total: 3000}, {Group: costing.Selling, Total: 14500},
			{Group: costing.AfterSale, Total: 15000}, {Group: costing.WrittenDown}, {Group: costing.Owed},
		},
		Carried: 145217, PaidLabour: 6000, Selling: 14500, AfterSale: 8000, Refunds: 10000, Total: 177717,
		OwnHours: 16 * costing.Hour, PaidHours: 3 * costing.Hour, OwnTime: 25000 + 9000 + 3000,
	}
	got := rebuilt().Sheet(0, 2000)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if got.Of(costing.Parts) != 30000 || got.Of("nonsense") != 0 {
		t.Errorf("parts %d, nonsense %d", got.Of(costing.Parts), got.Of("nonsense"))
	}
}

func TestResult(t *testing.T) {
	r := rebuilt()
	got, ok := r.Result(0, 2000)
	want := costing.Result{
		Price: 260000, Refunds: 10000, NetSale: 250000, CostOfSale: 145217, Selling: 14500, AfterSale: 8000, Costs: 167717,
		BeforeOwnTime: 82283, OwnHours: 16 * costing.Hour, OwnTime: 37000, AfterOwnTime: 45283,
	}
	if diff := cmp.Diff(want, got); diff != "" || !ok {
		t.Errorf("%v -want +got\n%s", ok, diff)
	}
	if v, ok := got.PerOwnHour(); v != 5143 || !ok { // 822.83 / 16 = 51.427
		t.Errorf("per own hour %d %v", v, ok)
	}
	if v, ok := got.Margin(); v != 82283./250000 || !ok {
		t.Errorf("margin %v %v", v, ok)
	}
	if v, ok := got.Markup(); v != 82283./167717 || !ok {
		t.Errorf("mark-up %v %v", v, ok)
	}
	if missing := got.Missing(); len(missing) != 0 {
		t.Errorf("missing %v", missing)
	}
	// On the day of the sale nobody knew of the comeback.
	if got, ok = r.Result(r.Sale.Sold, 2000); !ok || got.BeforeOwnTime != 260000-145217-14500 {
		t.Errorf("on the day %v %+v", ok, got)
	}
	if _, ok = r.Result(r.Sale.Sold-1, 2000); ok {
		t.Error("there is a result the day before the sale")
	}
	r.Sale = nil
	if _, ok = r.Result(0, 2000); ok {
		t.Error("there is a result without a sale")
	}
}

func TestFiguresThatCannotBeWorkedOutAreSentences(t *testing.T) {
	got, _ := costing.Record{Sale: &costing.Sale{Sold: 1}}.Result(0, 2000)
	if _, ok := got.PerOwnHour(); ok {
		t.Error("pay per hour of no hours")
	}
	if _, ok := got.Margin(); ok {
		t.Error("margin of nothing")
	}
	if _, ok := got.Markup(); ok {
		t.Error("mark-up on nothing")
	}
	want := []string{
		"Pay per hour is not known: no hours of yours are written down.",
		"No margin: nothing was left of the sale price.",
		"No mark-up: no costs are written down.",
	}
	if diff := cmp.Diff(want, say.Strings(got.Missing())); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

// aRecord is a motor at any stage with lines and sessions of every kind, before and after it was sold.
func aRecord(t *rapid.T) costing.Record {
	days := rapid.Int32Range(0, 900)
	r := costing.Record{Stage: rapid.SampledFrom(costing.Stages).Draw(t, "stage")}
	if rapid.Bool().Draw(t, "bought") {
		r.BoughtOn = day.Day(days.Draw(t, "bought on"))
	}
	for i := range rapid.IntRange(0, 12).Draw(t, "lines") {
		r.Lines = append(r.Lines, costing.Line{
			Kind:  rapid.SampledFrom(costing.Kinds).Draw(t, fmt.Sprint("kind ", i)),
			On:    day.Day(days.Draw(t, fmt.Sprint("on ", i))),
			Total: money.Amount(rapid.Int64Range(-50_000, 200_000).Draw(t, fmt.Sprint("total ", i))),
		})
	}
	for i := range rapid.IntRange(0, 6).Draw(t, "sessions") {
		r.Sessions = append(r.Sessions, costing.Session{
			On:   day.Day(days.Draw(t, fmt.Sprint("worked on ", i))),
			Time: costing.Hours(rapid.Int64Range(0, 900).Draw(t, fmt.Sprint("time ", i))),
			Paid: rapid.Bool().Draw(t, fmt.Sprint("paid ", i)),
			Rate: money.Amount(rapid.SampledFrom([]int64{0, 1999, 2500, 3333}).Draw(t, fmt.Sprint("rate ", i))),
		})
	}
	if rapid.Bool().Draw(t, "sold") {
		r.Sale = &costing.Sale{Sold: day.Day(days.Draw(t, "sold on")), Price: money.Amount(rapid.Int64Range(0, 900_000).Draw(t, "price"))}
	}
	return r
}

// A cost sheet is the plain sum of its lines, to the minor unit, whatever they are and on any day.
func TestSheetIsTheSumOfItsLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := aRecord(t)
		until := day.Day(rapid.Int32Range(0, 950).Draw(t, "until"))
		var lines, paid, owed, down money.Amount
		var own, hired costing.Hours
		for _, l := range r.Lines {
			if until != 0 && l.On > until {
				continue
			}
			lines += l.Total
			switch l.Kind {
			case costing.CoreCharge:
				owed += l.Total
			case costing.WriteDown:
				down -= l.Total
			}
		}
		for _, w := range r.Sessions {
			switch {
			case until != 0 && w.On > until:
			case w.Paid:
				paid += w.Time.At(w.Rate)
				hired += w.Time
			default:
				own += w.Time
			}
		}
		s := r.Sheet(until, 2100)
		var groups money.Amount
		for _, g := range s.ByGroup {
			groups += g.Total
		}
		if groups != lines || s.Owed != owed || s.Total+s.Owed != lines+down+paid || s.Carried+s.WrittenDown+s.Selling+s.AfterSale+s.Refunds != s.Total {
			t.Fatalf("lines %d and paid labour %d against %+v", lines, paid, s)
		}
		if s.OwnHours != own || s.PaidHours != hired {
			t.Fatalf("hours %v and %v against %+v", own, hired, s)
		}
		if x, ok := r.Result(until, 2100); ok {
			if x.NetSale-x.CostOfSale-x.WrittenDown-x.Selling-x.AfterSale != x.BeforeOwnTime || r.Sale.Price-s.Total != x.BeforeOwnTime {
				t.Fatalf("%+v of %+v", x, s)
			}
		}
	})
}

// What a motor carried when it was sold does not change by what happens later.
func TestCarryingAmountStopsAtTheSale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := aRecord(t)
		if r.Sale == nil || r.Sale.Sold == 0 {
			return
		}
		at, later := r.Sheet(r.Sale.Sold, 0), r.Sheet(0, 0)
		if at.Carried != later.Carried || at.PaidLabour != later.PaidLabour {
			t.Fatalf("carried %d at the sale and %d later", at.Carried, later.Carried)
		}
	})
}

func TestOffDonorAddsNothing(t *testing.T) {
	get, give := costing.OffDonor("donor", "motor", "lower unit", 8000, day.Of(2026, 2, 3))
	if get.Total+give.Total != 0 || get.MotorID != "motor" || give.MotorID != "donor" || get.Kind.Group() != costing.Parts || get.Kind != give.Kind {
		t.Errorf("%+v and %+v", get, give)
	}
}
