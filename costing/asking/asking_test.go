package asking_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
	"skegworth/valuation/say"
)

// band is a resale band told by its middle and the two ends of 80 %.
type band struct{ low, mid, high money.Amount }

func (b band) Median() money.Amount { return b.mid }

func (b band) Interval(level float64) (low, high money.Amount) {
	if level != 0.8 {
		panic("another level than the 80 % the advice speaks of")
	}
	return b.low, b.high
}

func motor() costing.Record {
	return costing.Record{
		Stage: costing.Listed, BoughtOn: day.Of(2026, 3, 1), Plan: costing.Plan{Selling: 5000},
		Lines: []costing.Line{
			{Kind: costing.Purchase, Total: 60000},
			{Kind: costing.PartNew, Total: 32050},
			{Kind: costing.Listing, Total: 1500},
		},
		Sessions: []costing.Session{{Time: 10 * costing.Hour, Rate: 2000}, {Time: 2 * costing.Hour}},
	}
}

// 600.00 + 320.50 + 15.00 spent and 35.00 of the 50.00 for selling to come are 970.50; at a fee of 5 % a
// price of 1,021.58 leaves 1,021.58 - 51.08 = 970.50. Ten own hours at 20.00 and two at the shop's 25.00
// make it 1,220.50, and 1,284.74 leaves 1,284.74 - 64.24.
func TestSuggest(t *testing.T) {
	s := costing.DefaultSettings()
	s.FeeRate = 0.05
	got := asking.Suggest(band{215000, 249000, 290000}, motor(), s)
	want := asking.Advice{
		Ask: 249000, WalkAway: 215000, Reason: got.Reason, BreakEven: 102158, PaidForTime: 128474, Priced: true,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
	if !strings.HasPrefix(got.Reason.String(), "One buyer in ten would pay less than this") {
		t.Errorf("reason %q", got.Reason)
	}
}

func TestWarnings(t *testing.T) {
	s := costing.DefaultSettings()
	for _, c := range []struct {
		name string
		band band
		fee  float64
		want []string
	}{
		{"all above", band{98000, 120000, 150000}, 0, []string{}},
		{"ask below", band{70000, 90000, 110000}, 0, []string{
			"The asking price is 71 below break-even, which is 971: even a good sale does not bring back what is in it."}},
		{"walk-away below", band{90000, 120000, 150000}, 0, []string{
			"Between 900 and 971 you sell at a loss. What is in it is spent either way, so that alone is no reason to wait."}},
		{"no price", band{90000, 120000, 150000}, 1, []string{
			"No price breaks even at the fee rate in the settings."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.FeeRate = c.fee
			got := asking.Suggest(c.band, motor(), s)
			if diff := cmp.Diff(c.want, say.Strings(got.Warnings)); diff != "" {
				t.Errorf("-want +got\n%s", diff)
			}
			if got.Priced != (c.fee < 1) {
				t.Errorf("priced %v", got.Priced)
			}
		})
	}
}

// The least price leaves the costs, and a minor unit less does not.
func TestLeastPriceIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		costs := money.Amount(rapid.Int64Range(1, 50_000_000).Draw(t, "costs"))
		fee := rapid.Float64Range(0, 0.999).Draw(t, "fee")
		p, ok := asking.LeastPrice(costs, fee)
		if !ok {
			t.Fatal("no price")
		}
		if left := p - p.Times(fee); left < costs {
			t.Fatalf("%d leaves %d of %d", p, left, costs)
		}
		if left := (p - 1) - (p - 1).Times(fee); left >= costs {
			t.Fatalf("%d leaves %d of %d as well", p-1, left, costs)
		}
	})
}

func TestBreakEvenEdges(t *testing.T) {
	free := costing.Settings{}
	if got := asking.BreakEven(97050, free); got != 97050 {
		t.Errorf("without a fee %d", got)
	}
	if got := asking.BreakEven(-5, free); got != 0 {
		t.Errorf("of money already back %d", got)
	}
	if _, ok := asking.LeastPrice(1, -0.1); ok {
		t.Error("a fee below nothing has a price")
	}
	if p, ok := asking.LeastPrice(1<<62, 0.99); ok {
		t.Errorf("a price without end is %d", p)
	}
	if got := asking.BreakEven(1, costing.Settings{FeeRate: 1}); got <= money.MaxTyped {
		t.Errorf("a marketplace that takes all leaves a price of %d", got)
	}
}
