package valuation

import (
	"math"
	"testing"

	"skegworth/valuation/money"
)

// An effect that no sale speaks of is the prior's, however closely the sales agree with each other; one
// that many unlike sales speak of is not.
func TestEffectsTellWhatTheyRestOn(t *testing.T) {
	var sales []Sale
	for i := range 40 {
		x := aFewSales()[i%8]
		x.Motor.Make = "Halvard"
		x.Price = money.Amount(120000 * math.Pow(x.Motor.Power/50, 0.6)) // no scatter at all
		sales = append(sales, x)
	}
	m, err := NewMarket(sales, Options{Currency: money.Must("USD"), Anchor: 120000})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{"old-rating": true, "oil-removed": true, "power": false}
	for _, e := range m.Effects() {
		if prior, asked := want[e.Key]; asked {
			if e.Prior != prior {
				t.Errorf("%s: mostly prior %v, with %d sales", e.Key, e.Prior, e.Sales)
			}
			delete(want, e.Key)
		}
	}
	if len(want) > 0 {
		t.Errorf("no effect of %v", want)
	}
}
