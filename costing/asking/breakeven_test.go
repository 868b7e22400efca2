package asking_test

import (
	"testing"

	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/costing/asking"
	"skegworth/valuation/money"
)

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
