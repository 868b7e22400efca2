package offer_test

import (
	"testing"

	"skegworth/costing/offer"
	"skegworth/valuation/day"
)

func TestAnAutumnPurchaseIsASpringSale(t *testing.T) {
	for _, c := range []struct {
		bought      day.Day
		bench, sell int
		sold        day.Day
		waits       bool
	}{
		{day.Of(2026, 4, 1), 20, 30, day.Of(2026, 5, 21), false},
		{day.Of(2026, 9, 10), 20, 30, day.Of(2026, 10, 30), false},
		{day.Of(2026, 9, 20), 20, 30, day.Of(2027, 3, 31), true},
		{day.Of(2027, 1, 5), 10, 30, day.Of(2027, 3, 31), true},
		{day.Of(2026, 11, 5), 150, 14, day.Of(2027, 4, 18), false},
	} {
		d := offer.SellingDay(c.bought, c.bench, c.sell)
		if d.SoldOn != c.sold || d.Waits != c.waits || d.Total(c.bought) != int(c.sold-c.bought) {
			t.Errorf("bought %s: sold %s, waits %v", c.bought, d.SoldOn, d.Waits)
		}
	}
}
