package review_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

func on(year int, month time.Month, d int) day.Day { return day.Of(year, month, d) }

// aShop is a year worked through by hand, in whole units of a currency without minor digits so that the
// sums can be followed: one motor carried over from 2025 and sold, one bought and sold with a comeback,
// one unsold, one donor, one kept, one lost, one never bought, one sold in 2025 and refunded in 2026.
func aShop() review.Input {
	settings := costing.DefaultSettings()
	settings.Currency, settings.OwnRate = "JPY", 20
	hours := func(n int) costing.Hours { return costing.Hours(n) * costing.Hour }
	return review.Input{
		Settings: settings,
		Goods:    []costing.Good{{ID: "oil", Name: "gear oil", Unit: "qt"}, {ID: "plugs", Name: "plugs", Unit: "each"}},
		Moves: []costing.Move{
			{ID: "m1", GoodID: "oil", Kind: costing.Bought, On: on(2025, 5, 1), Quantity: 10, Cost: 100},
			{ID: "m2", GoodID: "oil", Kind: costing.Bought, On: on(2026, 2, 1), Quantity: 10, Cost: 140},
			{ID: "d1", GoodID: "oil", Kind: costing.Drawn, On: on(2026, 3, 1), MotorID: "carried", Quantity: 2, Cost: 24},
			{ID: "d2", GoodID: "oil", Kind: costing.Drawn, On: on(2026, 6, 1), Quantity: 1, Cost: 12},                   // for the shop's own boat
			{ID: "d3", GoodID: "oil", Kind: costing.Drawn, On: on(2026, 7, 1), MotorID: "quick", Quantity: 1, Cost: 12}, // for its comeback
			{ID: "c1", GoodID: "oil", Kind: costing.Counted, On: on(2026, 12, 31), Quantity: 15, Cost: -12},             // 16 by the records
			{ID: "m3", GoodID: "plugs", Kind: costing.Bought, On: on(2027, 1, 2), Quantity: 4, Cost: 16, Supplier: "next year"},
		},
		Records: []costing.Record{
			{
				ID: "carried", Stage: costing.Sold, Motor: valuation.Motor{Make: "Halvard", Power: 90, Year: 2003, Stroke: valuation.TwoStroke},
				BoughtOn: on(2025, 11, 1), Sale: &costing.Sale{Sold: on(2026, 4, 1), Price: 2500},
				Lines: []costing.Line{
					{Kind: costing.Trip, On: on(2025, 10, 25), Total: 20},
					{Kind: costing.Purchase, On: on(2025, 11, 1), Total: 900},
					{Kind: costing.Listing, On: on(2025, 12, 1), Total: 15},
					{Kind: costing.PartNew, On: on(2026, 2, 1), Total: 300},
					{Kind: costing.PartDonor, On: on(2026, 2, 10), Total: 80},
					{ID: "d1", Kind: costing.Shelf, On: on(2026, 3, 1), Total: 24, ShelfID: "oil"},
					{Kind: costing.MarketFee, On: on(2026, 4, 1), Total: 125},
				},
				Sessions: []costing.Session{
					{On: on(2025, 12, 1), Time: hours(10), Rate: 25},
					{On: on(2026, 2, 1), Time: hours(8)},
					{On: on(2026, 2, 2), Time: hours(2), Paid: true, Rate: 30},
				},
			},
			{
				ID: "quick", Stage: costing.Sold, Motor: valuation.Motor{Make: "halvard ", Power: 9.9, Year: 2011, Stroke: valuation.FourStroke},
				BoughtOn: on(2026, 5, 1), Sale: &costing.Sale{Sold: on(2026, 5, 20), Price: 700},
				Lines: []costing.Line{
					{Kind: costing.Purchase, On: on(2026, 5, 1), Total: 400},
					{Kind: costing.Kit, On: on(2026, 5, 10), Total: 10},
					{Kind: costing.Outside, On: on(2026, 5, 10), Total: 50},
					{Kind: costing.Comeback, On: on(2026, 7, 1), Total: 30},
					{ID: "d3", Kind: costing.Shelf, On: on(2026, 7, 1), Total: 12, ShelfID: "oil"},
					{Kind: costing.Refund, On: on(2026, 7, 2), Total: 40},
				},
				Sessions: []costing.Session{
					{On: on(2026, 5, 10), Time: hours(3)},
					{On: on(2026, 7, 1), Time: hours(1)},
					{On: on(2026, 7, 1), Time: hours(1), Paid: true, Rate: 8},
				},
			},
			{
				ID: "unsold", Stage: costing.Listed, Motor: valuation.Motor{Make: "Corvane", Power: 40}, BoughtOn: on(2026, 9, 1),
				Lines: []costing.Line{
					{Kind: costing.Trip, On: on(2025, 12, 30), Total: 12}, // looked at the winter before
					{Kind: costing.Purchase, On: on(2026, 9, 1), Total: 600},
					{Kind: costing.Overhead, On: on(2026, 10, 1), Total: 33},
					{Kind: costing.Listing, On: on(2026, 11, 1), Total: 9},
				},
				Sessions: []costing.Session{{On: on(2026, 10, 1), Time: hours(5)}},
			},
			{
				ID: "donor", Stage: costing.Broken, Motor: valuation.Motor{Make: "Tornvik", Power: 90}, BoughtOn: on(2025, 3, 1), LeftOn: on(2026, 2, 1),
				Lines: []costing.Line{
					{Kind: costing.Purchase, On: on(2025, 3, 1), Total: 200},
					{Kind: costing.PartDonor, On: on(2026, 2, 10), Total: -80},
				},
			},
			{
				ID: "kept", Stage: costing.Kept, BoughtOn: on(2025, 6, 1), LeftOn: on(2026, 8, 1),
				Lines: []costing.Line{
					{Kind: costing.Purchase, On: on(2025, 6, 1), Total: 150},
					{Kind: costing.PartUsed, On: on(2026, 9, 1), Total: 25}, // his own by then
				},
			},
			{
				ID: "lost", Stage: costing.Lost, BoughtOn: on(2025, 12, 5), LeftOn: on(2026, 3, 5),
				Lines:    []costing.Line{{Kind: costing.Purchase, On: on(2025, 12, 5), Total: 100}},
				Sessions: []costing.Session{{On: on(2025, 12, 6), Time: hours(2)}},
			},
			{
				ID: "never", Stage: costing.Passed, SeenOn: on(2026, 4, 4),
				Lines:    []costing.Line{{Kind: costing.Trip, Total: 18}},
				Sessions: []costing.Session{{On: on(2026, 4, 4), Time: hours(1), Rate: 30}},
			},
			{
				ID: "earlier", Stage: costing.Sold, BoughtOn: on(2025, 2, 1), Sale: &costing.Sale{Sold: on(2025, 8, 1), Price: 900},
				Lines: []costing.Line{
					{Kind: costing.Purchase, On: on(2025, 2, 1), Total: 500},
					{Kind: costing.PartNew, On: on(2026, 1, 9), Total: 60},
					{Kind: costing.Refund, On: on(2026, 1, 10), Total: 35},
				},
				Sessions: []costing.Session{{On: on(2025, 3, 1), Time: hours(4)}, {On: on(2026, 1, 9), Time: hours(2)}},
			},
			{ID: "past", Stage: costing.History, Sale: &costing.Sale{Sold: on(2026, 6, 6), Price: 1234}, Lines: []costing.Line{{Kind: costing.Purchase, On: on(2026, 1, 1), Total: 999}}},
		},
	}
}

func TestAYearWorkedByHand(t *testing.T) {
	r := review.Year(review.FiscalYear(2026, 1), aShop())

	// Opening: carried 20+900, donor 200, kept 150, lost 100; the trip to the unsold motor enters with it
	// in 2026.
	// Closing: unsold 12+600+33, donor 200-80; the shelf 100+140-24-12-12-12 at 15 qt.
	want := review.Schedule{
		OpeningMotors: 1370, OpeningShelf: 100, Opening: 1470,
		Bought:      400 + 612, // quick, unsold with its trip
		Parts:       300 + 25 + 80 - 80,
		Consumables: 10, ShelfBought: 140, PaidLabour: 60, Other: 50 + 33,
		ClosingMotors: 645 + 120, ClosingShelf: 180, Closing: 945,
		CostOfSales: (20 + 900 + 300 + 80 + 24 + 60) + (400 + 10 + 50),
		Drawings:    150 + 25, WrittenOff: 100, ShelfUsed: 12, ShelfExpensed: 12, StockDifferences: 12,
	}
	if diff := cmp.Diff(want, r.Schedule); diff != "" {
		t.Errorf("schedule -want +got\n%s", diff)
	}
	if s := r.Schedule; s.Opening+s.Bought+s.Spent()-s.Closing != s.Left() {
		t.Errorf("%d + %d + %d - %d is not %d", s.Opening, s.Bought, s.Spent(), s.Closing, s.Left())
	}

	for _, c := range []struct {
		name      string
		got, want money.Amount
	}{
		{"sales", r.Sales, 2500 + 700},
		{"refunds", r.Refunds, 40 + 35},
		{"net sales", r.NetSales, 3125},
		{"cost of sales", r.CostOfSales, 1384 + 460},
		{"gross margin", r.GrossMargin, 3125 - 1844},
		{"selling", r.Selling, 125 + 9},
		{"after-sale", r.AfterSale, 30 + 12 + 8 + 60},
		{"earlier after-sale", r.EarlierAfterSale, 60},
		{"never bought", r.NeverBought, 18},
		{"written off", r.WrittenOff, 100},
		{"shelf used", r.ShelfUsed, 12},
		{"stock differences", r.StockDifferences, 12},
		{"other expense", r.OtherExpense(), 142},
		{"expenses", r.Expenses, 134 + 110 + 142},
		{"before own time", r.BeforeOwnTime, 1281 - 386},
		{"own time", r.OwnTime, 250 + 160 + 60 + 20 + 40 + 30 + 40},
		{"after own time", r.AfterOwnTime, 895 - 600},
		{"drawings", r.Drawings, 175},
		{"history", r.HistoryTotal, 1234},
	} {
		if c.got != c.want {
			t.Errorf("%s %d, want %d", c.name, c.got, c.want)
		}
	}
	hour := costing.Hour
	if r.SoldHours != 22*hour || r.OtherHours != 5*hour || r.OwnHours != 27*hour || r.WorkedHours != 20*hour {
		t.Errorf("hours: sold %s, other %s, own %s, worked %s", r.SoldHours, r.OtherHours, r.OwnHours, r.WorkedHours)
	}
	if v, ok := r.PerOwnHour(); v != 33 || !ok { // 895 / 27 = 33.1
		t.Errorf("per own hour %d %v", v, ok)
	}
	if v, ok := r.MarginRate(); v != 1281./3125 || !ok {
		t.Errorf("margin %v %v", v, ok)
	}

	t.Run("motors", func(t *testing.T) {
		if len(r.Sold) != 2 || r.Sold[0].ID != "carried" || r.Sold[1].ID != "quick" {
			t.Fatalf("sold %v", r.Sold)
		}
		a, b := r.Sold[0], r.Sold[1]
		if a.CostOfSale != 1384 || a.BeforeOwnTime != 2500-1384-140 || a.DaysHeld != 151 || !a.DaysKnown || a.Name != "Halvard 90, 2003" {
			t.Errorf("%+v", a)
		}
		if b.CostOfSale != 460 || b.AfterSale != 50 || b.NetSale != 660 || b.BeforeOwnTime != 150 || b.DaysHeld != 19 {
			t.Errorf("%+v", b)
		}
		if r.Best[0].ID != "carried" || r.Worst[0].ID != "quick" || len(r.Best) != 1 || len(r.Worst) != 1 {
			t.Errorf("best %v, worst %v", r.Best, r.Worst)
		}
	})
	t.Run("bridge", func(t *testing.T) {
		var got []money.Amount
		var sum money.Amount
		for _, s := range r.Bridge {
			got = append(got, s.Amount)
			sum += s.Amount
			if s.Name.Empty() {
				t.Error("a step without a name")
			}
		}
		if diff := cmp.Diff([]money.Amount{976 + 150, 15, 0, 0, 0, -9, -60, -35, -18, -100, 0, -12, 0, 0, -12}, got); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
		if sum != r.BeforeOwnTime {
			t.Errorf("adds up to %d, not %d", sum, r.BeforeOwnTime)
		}
	})
	t.Run("closing stock", func(t *testing.T) {
		want := []review.StockLine{
			{ID: "unsold", Name: "Corvane 40", What: review.MotorStock, Stage: costing.Listed, Cost: 645, Since: on(2026, 9, 1), Days: 121, DaysKnown: true},
			{ID: "donor", Name: "Tornvik 90", What: review.DonorStock, Stage: costing.Broken, Cost: 120, Since: on(2025, 3, 1), Days: 670, DaysKnown: true},
			{ID: "oil", Name: "gear oil", What: review.ShelfStock, Quantity: 15, Unit: "qt", Cost: 180, Since: on(2026, 2, 1), Days: 333, DaysKnown: true},
		}
		if diff := cmp.Diff(want, r.ClosingStock); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
	})
	t.Run("cuts", func(t *testing.T) {
		type row struct {
			Name   string
			Sold   int
			Profit money.Amount
		}
		rows := func(cuts []review.Cut) (out []row) {
			for _, c := range cuts {
				out = append(out, row{c.Name.String(), c.Sold, c.BeforeOwnTime})
			}
			return out
		}
		for _, c := range []struct{ got, want []row }{
			{rows(r.ByMonth), []row{{"2026-04", 1, 976}, {"2026-05", 1, 150}}},
			{rows(r.ByMake), []row{{"Halvard", 2, 1126}}},
			{rows(r.ByPower), []row{{"under 10 hp", 1, 150}, {"60 to under 120 hp", 1, 976}}},
			{rows(r.ByStroke), []row{{"two-stroke", 1, 976}, {"four-stroke", 1, 150}}},
		} {
			if diff := cmp.Diff(c.want, c.got); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
		}
	})
	t.Run("words", func(t *testing.T) {
		want := []string{"Past sales known by their price alone are not counted, for their costs are not known: 1 in the period, 1,234 in all."}
		if diff := cmp.Diff(want, say.Strings(r.Warnings)); diff != "" {
			t.Errorf("-want +got\n%s", diff)
		}
		if text := r.Disclaimer.String(); !strings.Contains(text, "neither tax nor legal advice") || !strings.Contains(text, "licensed adviser") {
			t.Errorf("%q", text)
		}
		if len(r.Missing()) != 0 {
			t.Errorf("missing %v", r.Missing())
		}
	})
}

// What a year closes with, the next opens with.
func TestTheYearBeforeAndTheYearAfter(t *testing.T) {
	in := aShop()
	before, year, after := review.Year(review.FiscalYear(2025, 1), in), review.Year(review.FiscalYear(2026, 1), in), review.Year(review.FiscalYear(2027, 1), in)
	if before.Schedule.Closing != year.Schedule.Opening || year.Schedule.Closing != after.Schedule.Opening {
		t.Errorf("closes %d, opens %d; closes %d, opens %d", before.Schedule.Closing, year.Schedule.Opening, year.Schedule.Closing, after.Schedule.Opening)
	}
	// 2025: one sold at 900 that cost 500; a listing of 15 for a motor sold in 2026; nothing known yet of
	// its refund.
	if before.BeforeOwnTime != 900-500-15 || before.Sold[0].Refunds != 0 || before.OwnHours != 4*costing.Hour {
		t.Errorf("2025: %d before own time, %+v, %s h", before.BeforeOwnTime, before.Sold[0], before.OwnHours)
	}
	if after.Schedule.ShelfBought != 16 || after.Schedule.ClosingShelf != 196 || after.BeforeOwnTime != 0 {
		t.Errorf("2027: %+v", after.Schedule)
	}
}

func TestAnEmptyYearHasSentencesInsteadOfFigures(t *testing.T) {
	r := review.Year(review.FiscalYear(2026, 1), review.Input{Settings: costing.DefaultSettings()})
	want := []string{
		"Pay per hour is not known: no hours of yours are written down.",
		"No margin: nothing was sold in the period, or nothing was left of it.",
	}
	if diff := cmp.Diff(want, say.Strings(r.Missing())); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if r.Disclaimer.Empty() || len(r.Notes) == 0 || r.Schedule != (review.Schedule{}) {
		t.Errorf("%+v", r)
	}
}

func TestWhatIsOddIsSaid(t *testing.T) {
	settings := costing.DefaultSettings()
	settings.Currency = "gold"
	m := func(name string) valuation.Motor { return valuation.Motor{Make: name} }
	in := review.Input{
		Settings: settings, Today: on(2026, 6, 30),
		Goods: []costing.Good{{ID: "oil", Name: "gear oil", Unit: "qt", Reorder: 5}},
		Moves: []costing.Move{
			{ID: "a", GoodID: "oil", Kind: costing.Bought, On: on(2026, 1, 1), Quantity: 1, Cost: 500},
			{ID: "b", GoodID: "oil", Kind: costing.Drawn, On: on(2026, 1, 2), Quantity: 2, Cost: 1000},
		},
		Records: []costing.Record{
			{Stage: costing.Sold, Motor: m("A"), BoughtOn: on(2026, 1, 1)},
			{Stage: costing.Sold, Motor: m("B"), BoughtOn: on(2026, 1, 1), Sale: &costing.Sale{Price: 10000}},
			{Stage: costing.Kept, Motor: m("C"), BoughtOn: on(2026, 1, 1)},
			{Stage: costing.Bench, Motor: m("D"), Lines: []costing.Line{{ID: "b", Kind: costing.Shelf, On: on(2026, 1, 2), Total: 900}}},
			{Stage: costing.Sold, Motor: m("E"), BoughtOn: on(2026, 3, 1), Sale: &costing.Sale{Sold: on(2026, 2, 1), Price: 10000}},
			{Stage: costing.Broken, Motor: m("F"), BoughtOn: on(2026, 1, 1), Lines: []costing.Line{{Kind: costing.PartDonor, On: on(2026, 2, 1), Total: -700}}},
			{Stage: costing.Prospect, Motor: m("G"), Lines: []costing.Line{{Kind: costing.Trip, Total: 1200}}},
		},
	}
	want := []string{
		"gear oil: the count is off. More was drawn than was there; draws go at the last known cost until it is counted.",
		"The period is not over: these are the figures to 2026-06-30.",
		"Marked sold with no sale written down, so still in stock: A.",
		"Sold on no known day, so in no year's sales and still in stock: B.",
		"No day is written down on which it was kept or written off; the last day known of it is taken: C.",
		"The day bought is not known; it stands in stock from its first cost on: D.",
		"Gone before it was bought, by the days written down: E.",
		"More was taken off it than it cost, so it stands in stock below nothing: F.",
		"12.00 spent on motors that were never bought has no day and is in no year.",
		"Parts off donors were charged to motors at 7.00 less than was taken off the donors; that much is missing from their cost.",
		"Lines charged to a motor at another cost than the shelf gave them at: 1. The difference is in what the shelf used.",
	}
	r := review.Year(review.FiscalYear(2026, 1), in)
	if diff := cmp.Diff(want, say.Strings(r.Warnings)); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if s := r.Schedule; s.Opening+s.Bought+s.Spent()-s.Closing != s.Left() || s.ShelfUsed != 100 {
		t.Errorf("%+v", s)
	}
	for _, l := range r.ClosingStock {
		if known := l.Name != "D"; l.DaysKnown != known || (l.Name == "A" && l.Days != 180) {
			t.Errorf("%s is held %d days to today, known: %v", l.Name, l.Days, l.DaysKnown)
		}
	}
	// The same donor line the other way about.
	in.Records[5].Lines[0].Total = 700
	if got := say.Strings(review.Year(review.FiscalYear(2026, 1), in).Warnings); !strings.Contains(strings.Join(got, "\n"), "counted twice") {
		t.Errorf("%v", got)
	}
}

func TestManyOddMotorsAreCountedAndAFewNamed(t *testing.T) {
	in := review.Input{Settings: costing.DefaultSettings()}
	for _, name := range []string{"A", "B", "", "D", "E"} {
		in.Records = append(in.Records, costing.Record{Stage: costing.Bench, Motor: valuation.Motor{Make: name},
			Lines: []costing.Line{{Kind: costing.Purchase, On: on(2026, 1, 1), Total: 1}}})
	}
	got := say.Strings(review.Year(review.FiscalYear(2026, 1), in).Warnings)
	want := []string{"The day bought is not known; it stands in stock from its first cost on: A; B; ?; +2."}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestFiscalYear(t *testing.T) {
	for _, c := range []struct {
		year, month int
		from, to    day.Day
		name        string
	}{
		{2026, 1, on(2026, 1, 1), on(2026, 12, 31), "2026"},
		{2026, 4, on(2026, 4, 1), on(2027, 3, 31), "2026-04-01 to 2027-03-31"},
		{2027, 3, on(2027, 3, 1), on(2028, 2, 29), "2027-03-01 to 2028-02-29"},
		{2026, 0, on(2026, 1, 1), on(2026, 12, 31), "2026"},
		{2026, 13, on(2026, 1, 1), on(2026, 12, 31), "2026"},
	} {
		p := review.FiscalYear(c.year, c.month)
		if p.From != c.from || p.To != c.to || p.String() != c.name {
			t.Errorf("%d from month %d: %s to %s, called %q", c.year, c.month, p.From, p.To, p)
		}
		if p.Has(p.From-1) || !p.Has(p.From) || !p.Has(p.To) || p.Has(p.To+1) {
			t.Errorf("%s has the wrong days", p)
		}
	}
	for _, c := range []struct {
		on          day.Day
		month, want int
	}{{on(2026, 3, 31), 4, 2025}, {on(2026, 4, 1), 4, 2026}, {on(2026, 12, 31), 1, 2026}, {on(2026, 5, 5), 99, 2026}} {
		if got := review.FiscalYearOf(c.on, c.month); got != c.want {
			t.Errorf("%s of a year from month %d is in %d, want %d", c.on, c.month, got, c.want)
		}
	}
}

func TestAPeriodThatEndsBeforeItStartsIsEmpty(t *testing.T) {
	r := review.Year(review.Period{From: on(2026, 6, 1), To: on(2026, 1, 1)}, aShop())
	if s := r.Schedule; len(r.Sold) != 0 || s.Opening != s.Closing || s.Left() != 0 || r.BeforeOwnTime != 0 {
		t.Errorf("%+v", r)
	}
}
