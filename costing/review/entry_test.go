package review_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing/review"
	"skegworth/valuation/money"
)

// Whatever is in the books, the entries of every figure add up to it, and the figures to each other.
func TestEveryFigureOpensIntoTheLinesThatMakeIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		month := rapid.IntRange(1, 12).Draw(t, "month")
		in := history(t, month)
		for _, p := range years(month) {
			r := review.Year(p, in)
			for _, f := range review.Figures {
				var sum money.Amount
				for _, e := range r.Lines(f) {
					sum += e.Amount
					if e.Kind.Empty() || e.What == "" {
						t.Fatalf("%s: %s has an entry that says nothing: %+v", p, f, e)
					}
				}
				if sum != r.Figure(f) {
					t.Fatalf("%s: the entries of %s come to %d, the figure is %d", p, f, sum, r.Figure(f))
				}
			}
			s := r.Schedule
			for f, want := range map[review.Figure]money.Amount{
				review.Sales: r.Sales, review.NetSales: r.NetSales, review.Opening: s.Opening, review.Closing: s.Closing, review.Spent: s.Spent(),
				review.Left: s.Left(), review.GrossMargin: r.GrossMargin, review.OtherExpense: r.OtherExpense(), review.Expenses: r.Expenses,
				review.BeforeOwnTime: r.BeforeOwnTime, review.AfterOwnTime: r.AfterOwnTime, review.Drawings: r.Drawings, review.OwnTime: r.OwnTime,
			} {
				if r.Figure(f) != want {
					t.Fatalf("%s: %s is %d in one place and %d in another", p, f, r.Figure(f), want)
				}
			}
		}
	})
}

func TestTheLinesOfOneFigure(t *testing.T) {
	r := review.Year(review.FiscalYear(2026, 1), aShop())
	told := func(f review.Figure) (got []string) {
		for _, e := range r.Lines(f) {
			got = append(got, e.On.String()+" "+e.Of+", "+e.Kind.String()+" "+r.Currency.Format(e.Amount))
		}
		return got
	}
	for f, want := range map[review.Figure][]string{
		review.Selling:     {"2026-04-01 Halvard 90, 2003, marketplace fee 125", "2026-11-01 Corvane 40, listing 9"},
		review.NetSales:    {"2026-01-10 , refund to the buyer -35", "2026-04-01 Halvard 90, 2003, sold 2,500", "2026-05-20 halvard  9.9, 2011, sold 700", "2026-07-02 halvard  9.9, 2011, refund to the buyer -40"},
		review.WrittenOff:  {"2025-12-05 , price paid 100"},
		review.ShelfBought: {"2026-02-01 gear oil, bought 140"},
	} {
		if diff := cmp.Diff(want, told(f)); diff != "" {
			t.Errorf("%s -want +got\n%s", f, diff)
		}
	}
	if review.Figure("nonsense").Known() || len(r.Lines("nonsense")) != 0 || r.Figure("nonsense") != 0 {
		t.Error("there is a figure of nonsense")
	}
	for _, f := range review.Figures {
		if !f.Known() || f.Name().Empty() {
			t.Errorf("%s has no name", f)
		}
	}
}
