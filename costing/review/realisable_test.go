package review_test

import (
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/review"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// inStock is a motor on the bench that carries a cost.
func inStock(id string, cost money.Amount, down ...costing.Line) costing.Record {
	return costing.Record{ID: id, Stage: costing.Bench, Motor: valuation.Motor{Make: id}, BoughtOn: on(2026, 2, 1),
		Lines: append([]costing.Line{{Kind: costing.Purchase, On: on(2026, 2, 1), Total: cost}}, down...)}
}

func written(on day.Day, by money.Amount) costing.Line {
	return costing.Line{Kind: costing.WriteDown, On: on, Total: -by}
}

// The lines of a closing stock, item by item at the lower of cost and net realisable value: the grocery's
// five vegetables, the half-finished article, and the loss that is partly recovered a year later of the
// inventory chapter of Kieso, Weygandt and Warfield, Intermediate Accounting (IFRS edition). The figures are
// quoted from memory.
func TestLowerOfCostAndNetRealisableValueAsAnAccountingTextbookHasIt(t *testing.T) {
	for _, c := range []struct {
		name            string
		cost, takenOff  money.Amount
		out             review.Outlook
		net, down, back money.Amount
	}{
		{"spinach", 80_000, 0, review.Outlook{Price: 120_000}, 120_000, 0, 0},
		{"carrots", 100_000, 0, review.Outlook{Price: 110_000}, 110_000, 0, 0},
		{"cut beans", 50_000, 0, review.Outlook{Price: 40_000}, 40_000, 10_000, 0},
		{"peas", 90_000, 0, review.Outlook{Price: 72_000}, 72_000, 18_000, 0},
		{"mixed vegetables", 95_000, 0, review.Outlook{Price: 92_000}, 92_000, 3_000, 0},
		{"half-finished", 950, 0, review.Outlook{Price: 1_000, Finish: 50, Selling: 200}, 750, 200, 0},
		{"loss", 82_000, 0, review.Outlook{Price: 70_000}, 70_000, 12_000, 0},
		{"recovery", 82_000, 12_000, review.Outlook{Price: 74_000}, 74_000, 0, 4_000},
		{"recovery above cost", 82_000, 12_000, review.Outlook{Price: 99_000}, 99_000, 0, 12_000},
		{"worth nothing", 500, 0, review.Outlook{Price: 100, Finish: 300}, 0, 500, 0},
	} {
		in := review.Input{Settings: costing.DefaultSettings(), Outlook: func(string) (review.Outlook, bool) { return c.out, true }}
		in.Records = []costing.Record{inStock("m", c.cost)}
		if c.takenOff > 0 {
			in.Records[0].Lines = append(in.Records[0].Lines, written(on(2026, 6, 1), c.takenOff))
		}
		r := review.Year(review.FiscalYear(2026, 1), in)
		got := r.ClosingStock[0].Realisable
		if got.Net != c.net || got.Down != c.down || got.Up != c.back || r.ToWriteDown != c.down || r.ToTakeBack != c.back {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

func TestWhatTellsWhatAMotorWillBring(t *testing.T) {
	held, sold, donor, none := inStock("held", 900), inStock("sold", 900), inStock("donor", 900), inStock("none", 900)
	held.Holds = []costing.Hold{{On: on(2026, 12, 1), Deposit: 50}}
	held.Bids = []costing.Bid{{On: on(2026, 11, 30), Amount: 700, Answer: costing.BidAccepted}, {On: on(2026, 12, 2), Amount: 800, Answer: costing.BidDeclined}}
	sold.Stage, sold.Sale = costing.Sold, &costing.Sale{Sold: on(2027, 2, 1), Price: 1_000}
	sold.Lines = append(sold.Lines, costing.Line{Kind: costing.PartNew, On: on(2027, 1, 9), Total: 150}, costing.Line{Kind: costing.MarketFee, On: on(2027, 2, 1), Total: 60})
	donor.Stage, donor.LeftOn = costing.Broken, on(2026, 3, 1)
	in := review.Input{Settings: costing.DefaultSettings(), Records: []costing.Record{held, sold, donor, none},
		Pieces: []costing.Piece{{ID: "p", DonorID: "donor", Value: 1_000, Chance: 0.5}, {ID: "gone", DonorID: "donor", Value: 1_000, Chance: 1, Fate: costing.SoldAlone, LeftOn: on(2026, 5, 1)},
			{ID: "boat", Name: "boat", Value: 300, Chance: 1, Cost: 400, CameOn: on(2026, 4, 1)}},
		Goods: []costing.Good{{ID: "oil", Name: "oil", Unit: "qt"}},
		Moves: []costing.Move{{ID: "a", GoodID: "oil", Kind: costing.Bought, On: on(2026, 1, 5), Quantity: 10, Cost: 100}, {ID: "b", GoodID: "oil", Kind: costing.Bought, On: on(2026, 8, 5), Quantity: 10, Cost: 50}},
		Outlook: func(id string) (review.Outlook, bool) {
			return review.Outlook{Price: 5_000, Selling: 20}, id != "none"
		}}
	r := review.Year(review.FiscalYear(2026, 1), in)
	want := map[string]review.Realisable{
		"held":  {Basis: review.ByOrder, Price: 700, Selling: 20, Net: 680, Down: 220},
		"sold":  {Basis: review.ByLaterSale, Price: 1_000, Finish: 150, Selling: 60, Net: 790, Down: 110},
		"donor": {Basis: review.ByParts, Price: 500, Net: 500, Down: 400},
		"none":  {},
		"boat":  {Basis: review.ByValue, Price: 300, Net: 300, Down: 100},
		"oil":   {Basis: review.Replacement, Price: 100, Net: 100, Down: 50}, // the motors do not bring back their cost
	}
	for _, l := range r.ClosingStock {
		if l.Realisable != want[l.ID] {
			t.Errorf("%s: %+v, want %+v", l.ID, l.Realisable, want[l.ID])
		}
	}
	// Motors that bring back their cost carry the oil along.
	in.Records = []costing.Record{inStock("fine", 900)}
	for _, l := range review.Year(review.FiscalYear(2026, 1), in).ClosingStock {
		if l.ID == "oil" && (l.Realisable.Basis != review.ForUse || l.Realisable.Down != 0) {
			t.Errorf("%+v", l.Realisable)
		}
	}
}

// Whatever is in stock: once what is to be written down and taken back is booked, there is no more to book;
// nothing then stands above what it will bring or above what it cost, and by age it adds up to the stock.
func TestWriteDownsOnceBookedAreDone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := history(t, 1)
		p := years(1)[1]
		worth := map[string]review.Outlook{}
		for _, r := range in.Records {
			worth[r.ID] = review.Outlook{Price: money.Amount(rapid.Int64Range(0, 90_000).Draw(t, "price "+r.ID)), Selling: 500, Finish: money.Amount(rapid.Int64Range(0, 9_000).Draw(t, "finish "+r.ID))}
		}
		in.Outlook = func(id string) (review.Outlook, bool) { o, ok := worth[id]; return o, ok }
		first := review.Year(p, in)
		for _, l := range first.ClosingStock {
			v := l.Realisable
			if v.Down > 0 && v.Up > 0 || v.Up > max(l.WrittenDown, 0) || v.Known() && l.Cost >= 0 && l.Lower() > max(l.Cost+v.Up, v.Net) {
				t.Fatalf("%+v", l)
			}
			for i := range in.Records {
				if r := &in.Records[i]; r.ID == l.ID && v.Down != v.Up {
					r.Lines = append(r.Lines, costing.Line{ID: "down " + r.ID, Kind: costing.WriteDown, On: p.To, Total: v.Up - v.Down})
				}
			}
		}
		again := review.Year(p, in)
		var motors money.Amount
		for _, l := range again.ClosingStock {
			if l.What != review.ShelfStock {
				motors += l.Realisable.Down + l.Realisable.Up
			}
		}
		if motors != 0 {
			t.Fatalf("booked, and %d is still to be booked", motors)
		}
		var cost money.Amount
		var lines int
		for _, a := range again.Ages {
			cost, lines = cost+a.Cost, lines+a.Lines
		}
		if cost != again.Schedule.Closing || lines != len(again.ClosingStock) {
			t.Fatalf("by age %d in %d lines, stock %d in %d", cost, lines, again.Schedule.Closing, len(again.ClosingStock))
		}
	})
}
