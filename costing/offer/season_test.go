package offer_test

import (
	"testing"

	"skegworth/costing"
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
		d := offer.SeasonOf(costing.DefaultSettings()).SellingDay(c.bought, c.bench, c.sell)
		if d.SoldOn != c.sold || d.Waits != c.waits || d.Total(c.bought) != int(c.sold-c.bought) {
			t.Errorf("bought %s: sold %s, waits %v", c.bought, d.SoldOn, d.Waits)
		}
	}
}

// South of the equator the season runs over the turn of the year: October to March here.
func TestASeasonOverTheTurnOfTheYear(t *testing.T) {
	south := offer.SeasonOf(costing.Settings{SeasonFrom: 10, SeasonTo: 3})
	for _, c := range []struct {
		bought, sold day.Day
		waits        bool
	}{
		{day.Of(2026, 11, 25), day.Of(2027, 1, 4), false},
		{day.Of(2027, 2, 10), day.Of(2027, 3, 22), false},
		{day.Of(2027, 4, 2), day.Of(2027, 10, 31), true},
		{day.Of(2026, 9, 29), day.Of(2026, 11, 8), false}, // ready in October
	} {
		if d := south.SellingDay(c.bought, 10, 30); d.SoldOn != c.sold || d.Waits != c.waits {
			t.Errorf("bought %s: sold %s, waits %v", c.bought, d.SoldOn, d.Waits)
		}
	}
}
