package valuation

import (
	"math"
	"slices"
	"testing"

	"skegworth/valuation/money"
)

// Asking prices move the band towards themselves, less than as many sales, and stand above what motors
// sell for by what the trade says until sales tell how far.
func TestAsksAreWeakerEvidence(t *testing.T) {
	const price = money.Amount(200_000)
	var sales []Sale
	var asks []Ask
	for range 8 {
		sales = append(sales, Sale{Motor: anchorMotor(), Sold: today, Price: price})
		asks = append(asks, Ask{Motor: anchorMotor(), On: today, Price: price})
	}
	middle := func(sales []Sale, asks []Ask) float64 {
		return float64(worth(t, market(t, sales, Options{Anchor: 100_000, Asks: asks}), anchorMotor()).Median())
	}
	prior, asked, sold := middle(nil, nil), middle(nil, asks), middle(sales, nil)
	if !(prior < asked && asked < sold*math.Exp(-askedAbove/2) && sold < float64(price)) {
		t.Errorf("without evidence %.0f, with asks %.0f, with sales %.0f", prior, asked, sold)
	}
	b := worth(t, market(t, nil, Options{Anchor: 100_000, Asks: asks}), anchorMotor())
	if b.OwnSales() != 0 || !slices.Contains(keys(b.Warnings()), "band.prior") {
		t.Errorf("asks pass for %d sales: %v", b.OwnSales(), keys(b.Warnings()))
	}
}

// Where sales and asks of the same kind of motor stand side by side, how far asks lie above is learned.
func TestHowFarAsksLieAboveIsLearned(t *testing.T) {
	var sales []Sale
	var asks []Ask
	for range 20 {
		sales = append(sales, Sale{Motor: anchorMotor(), Sold: today, Price: 100_000})
		for range 4 {
			asks = append(asks, Ask{Motor: anchorMotor(), On: today, Price: 130_000})
		}
	}
	m := market(t, sales, Options{Anchor: 100_000, Asks: append(asks, Ask{Motor: anchorMotor()})}) // one without a price
	effects := m.Effects()
	i := slices.IndexFunc(effects, func(e Effect) bool { return e.Key == "asked" })
	if i < 0 || effects[i].Mid < 1.18 || effects[i].Mid > 1.3 || effects[i].High-effects[i].Low > 0.2 {
		t.Fatalf("asks lie above by %+v", effects)
	}
	if n := len(m.Track().Rows); n != 20 || m.Asks() != 80 {
		t.Errorf("a record of %d rows for 20 sales, %d asks of 80", n, m.Asks())
	}
}
