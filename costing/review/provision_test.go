package review_test

import (
	"testing"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// Two motors at one chance in five of 300 each: one with 90 of 100 days to run at the end of 2025, the other
// sold in 2026 with a quarter of its warranty left. What one year provides for, the next begins with.
func TestOutstandingWarrantyIsProvidedFor(t *testing.T) {
	sold := func(id string, on day.Day, days int) costing.Record {
		return costing.Record{ID: id, Stage: costing.Sold, BoughtOn: on - 9, Motor: valuation.Motor{WarrantyDays: days}, Sale: &costing.Sale{Sold: on, Price: 1_000}}
	}
	in := review.Input{Settings: costing.DefaultSettings(),
		Records:  []costing.Record{sold("a", on(2025, 12, 21), 100), sold("b", on(2026, 12, 1), 40), sold("none", on(2026, 12, 1), 0), {ID: "here", Stage: costing.Bench, Motor: valuation.Motor{WarrantyDays: 99}}},
		Comeback: func(*costing.Record, day.Day) (float64, money.Amount, bool) { return 0.2, 300, true }}
	before, year, after := review.Year(review.FiscalYear(2025, 1), in), review.Year(review.FiscalYear(2026, 1), in), review.Year(review.FiscalYear(2027, 1), in)
	for _, c := range []struct {
		r                         review.Review
		opening, closing, expense money.Amount
	}{{before, 0, 54, 54}, {year, 54, 15, -39}, {after, 15, 0, -15}} {
		if c.r.Figure(review.OpeningProvision) != c.opening || c.r.Figure(review.ClosingProvision) != c.closing || c.r.Warranty != c.expense || c.r.WarrantyOwed != c.closing {
			t.Errorf("%s: %d to %d, %d", c.r.Period, c.r.Figure(review.OpeningProvision), c.r.Figure(review.ClosingProvision), c.r.Warranty)
		}
		var bridge money.Amount
		for _, s := range c.r.Bridge {
			bridge += s.Amount
		}
		if bridge != c.r.BeforeOwnTime {
			t.Errorf("%s: the bridge leads to %d, not to %d", c.r.Period, bridge, c.r.BeforeOwnTime)
		}
	}
	if year.BeforeOwnTime != 2_000+39 {
		t.Errorf("%d before own time", year.BeforeOwnTime)
	}
	in.Comeback = func(*costing.Record, day.Day) (float64, money.Amount, bool) { return 1, 1, false }
	if r := review.Year(review.FiscalYear(2026, 1), in); r.Warranty != 0 {
		t.Errorf("%d provided by nobody", r.Warranty)
	}
}

// The cost of goods sold of a merchant who counts at the year's end: the periodic inventory schedule of the
// merchandising chapter of Weygandt, Kimmel and Kieso, Accounting Principles (PW Audio Supply): opening 36,000,
// purchases 325,000 less returns 10,400 and discounts 6,800, freight-in 12,200, closing 40,000: 316,000. From
// memory.
func TestTheScheduleAsAnAccountingTextbookHasIt(t *testing.T) {
	in := review.Input{Settings: costing.DefaultSettings(), Goods: []costing.Good{{ID: "g", Name: "goods", Unit: "each"}}}
	move := func(id string, kind costing.MoveKind, on day.Day, quantity float64, cost money.Amount) {
		in.Moves = append(in.Moves, costing.Move{ID: id, GoodID: "g", Kind: kind, On: on, Quantity: quantity, Cost: cost})
	}
	move("opening", costing.Bought, on(2025, 5, 1), 3600, 36_000)
	in.Records = []costing.Record{
		{ID: "sold", Stage: costing.Sold, BoughtOn: on(2026, 1, 2), Sale: &costing.Sale{Sold: on(2026, 12, 1), Price: 460_000}, Lines: []costing.Line{
			{ID: "p", Kind: costing.Purchase, On: on(2026, 1, 2), Total: 321_000}, // of the purchases, all but what is still here
			{ID: "r", Kind: costing.Purchase, On: on(2026, 1, 9), Total: -10_400, Undoes: "p"},
			{ID: "d", Kind: costing.Purchase, On: on(2026, 1, 9), Total: -6_800, Undoes: "p"},
			{ID: "f", Kind: costing.FreightIn, On: on(2026, 1, 9), Total: 12_200},
		}},
		{ID: "here", Stage: costing.Bench, BoughtOn: on(2026, 11, 1), Lines: []costing.Line{{Kind: costing.Purchase, On: on(2026, 11, 1), Total: 4_000}}},
	}
	s := review.Year(review.FiscalYear(2026, 1), in).Schedule
	if s.Opening != 36_000 || s.Bought != 325_000-10_400-6_800+12_200 || s.Closing != 40_000 || s.CostOfSales != 316_000 || s.Left() != 316_000 {
		t.Errorf("%+v", s)
	}
}
