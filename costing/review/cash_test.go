package review_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/money"
)

// The cash tied up is the average of what stands in stock at the end of each day, told here from the closing
// stock of each day by itself; each good's use adds up, and so does the stock it opens and closes with.
func TestCashTiedUpDayByDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := history(t, 1)
		p := review.Period{From: on(2025, 12, 20), To: on(2026, 1, 4)}
		r := review.Year(p, in)
		var sum float64
		for d := p.From; d <= p.To; d++ {
			sum += float64(review.Year(review.Period{From: d, To: d}, in).Schedule.Closing)
		}
		if math.Abs(sum) > 1e15 || math.Abs(float64(r.CashTied)) > 1e14 {
			t.Skip("a count of a crumb at a great price is more money than there is")
		}
		if want := sum / 16; math.Abs(float64(r.CashTied)-want) > 0.5+1e-12*math.Abs(want) || r.Days != 16 {
			t.Fatalf("%d tied up over %d days, want %v", r.CashTied, r.Days, want)
		}
		var opening, bought, closing money.Amount
		for _, g := range r.GoodsUsed {
			if g.Opening+g.Bought-g.Drawn-g.Taken-g.WrittenDown-g.Missed != g.Closing {
				t.Fatalf("%+v", g)
			}
			opening, bought, closing = opening+g.Opening, bought+g.Bought, closing+g.Closing
		}
		if opening != r.Schedule.OpeningShelf || bought != r.Schedule.ShelfBought || closing != r.Schedule.ClosingShelf {
			t.Fatalf("%d, %d and %d, the schedule says %+v", opening, bought, closing, r.Schedule)
		}
	})
}

func TestReturnsEstimatesTripsAndSuppliers(t *testing.T) {
	in := review.Input{Settings: costing.DefaultSettings(), Records: []costing.Record{
		{ID: "m", Stage: costing.Sold, Motor: valuation.Motor{State: valuation.Serviced}, BoughtOn: on(2026, 1, 1), Sale: &costing.Sale{Sold: on(2026, 4, 11), Price: 2_000, Channel: "Dockside "},
			Plan: costing.Plan{Parts: costing.ThreePoint{Likely: 300}, Hours: costing.ThreePoint{Likely: 10}},
			Lines: []costing.Line{
				{Kind: costing.Purchase, On: on(2026, 1, 1), Total: 1_000},
				{Kind: costing.Trip, On: on(2026, 1, 1), Total: 40},
				{Kind: costing.PartNew, On: on(2026, 2, 1), Total: 360, Supplier: "Harbour Supply"},
				{Kind: costing.PartNew, On: on(2026, 2, 2), Total: -60, Supplier: "harbour supply"},
				{Kind: costing.PartUsed, On: on(2026, 2, 2), Total: 60},
			},
			Sessions: []costing.Session{{On: on(2026, 2, 1), Time: 13 * costing.Hour}}},
		{ID: "looked", Stage: costing.Passed, Lines: []costing.Line{{Kind: costing.Trip, On: on(2026, 5, 1), Total: 25}}},
	}}
	r := review.Year(review.FiscalYear(2026, 1), in)
	if want := (review.Estimate{Motors: 1, PlannedParts: 300, ActualParts: 360, PlannedHours: 10 * costing.Hour, ActualHours: 13 * costing.Hour}); r.Estimates != want || r.Sold[0].Estimate != want {
		t.Errorf("%+v", r.Estimates)
	}
	if want := (review.Trips{Count: 2, Cost: 65, Carried: 40, NotBought: 25}); r.Trips != want {
		t.Errorf("%+v", r.Trips)
	}
	if diff := cmp.Diff([]review.Spend{{Supplier: "Harbour Supply", Lines: 2, Amount: 300}, {Lines: 1, Amount: 60}}, r.BySupplier); diff != "" {
		t.Error(diff)
	}
	if r.ByExit[0].Name.String() != valuation.Serviced.Label().String() || r.ByChannel[0].Name.String() != "Dockside" || len(r.ByExit)+len(r.ByChannel) != 2 {
		t.Errorf("%v %v", r.ByExit, r.ByChannel)
	}
	// 1,040 for 100 days, 360 for 69, and 60 come back and 60 spent for 68 each; a profit of 600.
	got, ok := r.Sold[0].CashReturn()
	if want := 600. * 365 / (1040*100 + 360*69); !ok || math.Abs(got-want) > 1e-12 {
		t.Errorf("%v %v, want %v", got, ok, want)
	}
	if got, ok := r.CashReturn(); !ok || math.Abs(got-575/float64(r.CashTied)) > 1e-12 { // of a whole year
		t.Errorf("%v %v of %d", got, ok, r.CashTied)
	}
	empty := review.Year(review.FiscalYear(2025, 1), in)
	if _, ok := empty.CashReturn(); ok {
		t.Error("a return on nothing")
	}
	for _, b := range r.Against(empty) {
		if rate, ok := b.Rate(); b.Before != 0 || ok || rate != 0 || b.Change() != r.Figure(b.Figure) {
			t.Errorf("%+v", b)
		}
	}
	for _, b := range r.Against(r) {
		if rate, ok := b.Rate(); b.Change() != 0 || !ok || rate != 0 {
			t.Errorf("%+v", b)
		}
	}
}
